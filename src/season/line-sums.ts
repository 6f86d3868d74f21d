import { bidLineKey } from "../plan/bid-lines.ts";
import type { PricedLine } from "../plan/cost.ts";
import { GrowingWords } from "../sheet/grow.ts";
import { type ColumnData, type NumberColumn, numbersOf, type Table, textAt } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";

/** What is asked of a lateral to know with which others its lines are summed. */
export interface LineOwners {
  /** Codes of the districts, a row a lateral, and how many there are. */
  readonly districts: Uint32Array;
  readonly count: number;
  /** Of the planned laterals, NaN where an item has no price. */
  readonly cost: Float64Array;
}

export const lineOwners = (laterals: Table, planned: Table): LineOwners => {
  const { codes, words } = wordCodesOf(laterals, "district");
  return { districts: codes, count: words.length, cost: numbersOf(planned, "cost") };
};

const NOT_MET = 0;

/**
 * Bid lines summed over the laterals of a district that are alike in whether all their items have a price: all that totals and breakdown ask of
 * them. The two million lines of a million laterals are a few hundred sums, in the order in which they were first met.
 */
export class LineSums {
  readonly #owners: LineOwners;
  readonly #words = new GrowingWords();
  /** Place among the sums, from 1, by line, district and whether all is priced. */
  #places = new Int32Array(256);
  readonly #rows: number[] = [];
  readonly #hundredths: number[] = [];
  readonly #extensions: number[] = [];

  constructor(owners: LineOwners) {
    this.#owners = owners;
  }

  push(row: number, line: Pick<PricedLine, "item" | "variant" | "hundredths" | "extension">): void {
    this.#add(row, bidLineKey(line), line.hundredths, line.extension ?? Number.NaN);
  }

  /** Adds what was summed elsewhere. */
  addAll(sums: Table): void {
    const rows = numbersOf(sums, "lateral_row");
    const hundredths = numbersOf(sums, "hundredths");
    const extensions = numbersOf(sums, "extension");
    for (let at = 0; at < sums.rows; at++)
      this.#add(rows[at]!, textAt(sums, "line", at), hundredths[at]!, extensions[at]!);
  }

  #add(row: number, line: string, hundredths: number, extension: number): void {
    const { districts, count, cost } = this.#owners;
    const code = this.#words.codeOf(line);
    const key = (code * count + districts[row]!) * 2 + Number(Number.isNaN(cost[row]!));
    if (key >= this.#places.length) this.#makeRoom(key);
    const place = this.#places[key]!;
    if (place === NOT_MET) {
      this.#words.push(line);
      this.#hundredths.push(hundredths);
      this.#extensions.push(extension);
      this.#places[key] = this.#rows.push(row);
      return;
    }
    this.#hundredths[place - 1]! += hundredths;
    this.#extensions[place - 1]! += extension;
  }

  #makeRoom(key: number): void {
    const places = new Int32Array(2 * (key + 1));
    places.set(this.#places);
    this.#places = places;
  }

  /** `lateral_row` is the first of the laterals summed. */
  finish(): Table {
    return {
      rows: this.#rows.length,
      columns: new Map<string, ColumnData>([
        ["lateral_row", numbers(this.#rows)],
        ["line", this.#words.finish()],
        ["hundredths", numbers(this.#hundredths)],
        ["extension", numbers(this.#extensions)],
      ]),
    };
  }
}

const numbers = (values: readonly number[]): NumberColumn => ({
  kind: "number",
  values: Float64Array.from(values),
});

import { type Operand, type WorkedOut, workOut } from "../bidding/plain-arithmetic.ts";
import type { PlainBook, PlainCell } from "./plain-book.ts";
import { columnIndex, columnLetter } from "./references.ts";

/** Cells that the formulas of one book may ask for, and how far one may lead to another. */
const MOST_CELLS = 200_000;
const FURTHEST = 100;

/** Formulas of a returned book worked out again, from what its other cells hold: never from what the file shows for a formula. */
export class WorkedCells {
  readonly #book: PlainBook;
  readonly #known: ReadonlyMap<string, Operand>;
  readonly #worked = new Map<string, WorkedOut>();
  readonly #under = new Set<string>();
  #cells = 0;

  /** @param known what stands in cells whose formulas are those of the book as issued, by sheet and address: `Bid schedule!D8` */
  constructor(book: PlainBook, known: ReadonlyMap<string, Operand>) {
    this.#book = book;
    this.#known = known;
  }

  /** What a formula gives that stands in a cell. */
  gives(sheet: string, address: string, formula: string): WorkedOut {
    const place = `${sheet}!${address}`;
    const before = this.#worked.get(place);
    if (before !== undefined) return before;
    if (this.#under.has(place)) return { ok: false, because: `${address} leads back to itself` };
    if (this.#under.size >= FURTHEST) return { ok: false, because: `${address} leads on too far` };
    this.#under.add(place);
    const found = workOut(formula, (reference) => this.#cellsAt(sheet, reference));
    this.#under.delete(place);
    this.#worked.set(place, found);
    return found;
  }

  #cellsAt(from: string, reference: string): readonly Operand[] | null {
    const found = /^(?:('(?:[^']|'')+'|[^'!]+)!)?\$?([A-Z]{1,3})\$?(\d+)(?::\$?([A-Z]{1,3})\$?(\d+))?$/i.exec(
      reference,
    );
    if (found === null) return null;
    const [, named, left = "", top = "", right = left, bottom = top] = found;
    const name = named?.startsWith("'") ? named.slice(1, -1).replaceAll("''", "'") : (named ?? from);
    const sheet = this.#book.sheets.find((each) => each.name.toLowerCase() === name.toLowerCase());
    const [a, b] = [columnIndex(left), columnIndex(right)].sort(ascending) as [number, number];
    const [first, last] = [Number(top), Number(bottom)].sort(ascending) as [number, number];
    this.#cells += (b - a + 1) * (last - first + 1);
    if (sheet === undefined) return [{ not: `the file has no sheet ${name.slice(0, 40)}` }];
    if (this.#cells > MOST_CELLS) return null;
    const operands: Operand[] = [];
    for (let column = a; column <= b; column++)
      for (let row = first; row <= last; row++) {
        const address = `${columnLetter(column)}${row}`;
        operands.push(this.#operand(sheet.name, address, sheet.cells.get(address)));
      }
    return operands;
  }

  #operand(sheet: string, address: string, cell: PlainCell | undefined): Operand {
    const known = this.#known.get(`${sheet}!${address}`);
    if (known !== undefined || cell === undefined) return known ?? null;
    if (cell.formula !== null) {
      const found = this.gives(sheet, address, cell.formula);
      return found.ok ? found.value : { not: `in ${address} ${found.because}`.slice(0, 120) };
    }
    const { value } = cell;
    if (value === null || typeof value === "number") return value;
    return { not: `${address} holds ${typeof value === "string" ? "text" : "yes or no"}`, isText: true };
  }
}

const ascending = (a: number, b: number): number => a - b;

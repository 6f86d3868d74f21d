import { GrowingNumbers, GrowingWords } from "../sheet/grow.ts";
import type { Cells } from "../sheet/row-writer.ts";
import type { ColumnData, Table } from "../sheet/table.ts";

/** A growing table with any number of rows a lateral: `lateral_row`, then a column a cell. */
export class LateralList<Item> {
  readonly #rows = new GrowingNumbers();
  readonly #numbers: { readonly into: GrowingNumbers; readonly of: (item: Item) => number | null }[] = [];
  readonly #words: { readonly into: GrowingWords; readonly of: (item: Item) => string | null }[] = [];
  readonly #columns: (readonly [string, GrowingNumbers | GrowingWords])[] = [["lateral_row", this.#rows]];
  #count = 0;

  /** @param words the columns of words, each with the words it has from the start */
  constructor(cells: Cells<Item>, words: Readonly<Record<string, readonly string[]>>) {
    for (const [key, of] of Object.entries(cells)) {
      if (of === undefined) continue;
      const fixed = words[key];
      if (fixed === undefined) {
        const into = new GrowingNumbers();
        this.#numbers.push({ into, of: of as (item: Item) => number | null });
        this.#columns.push([key, into]);
      } else {
        const into = new GrowingWords(fixed);
        this.#words.push({ into, of: of as (item: Item) => string | null });
        this.#columns.push([key, into]);
      }
    }
  }

  push(row: number, item: Item): void {
    this.#count++;
    this.#rows.push(row);
    for (const { into, of } of this.#numbers) into.push(of(item) ?? Number.NaN);
    for (const { into, of } of this.#words) into.push(of(item) ?? "");
  }

  finish(): Table {
    return {
      rows: this.#count,
      columns: new Map(this.#columns.map(([key, column]): [string, ColumnData] => [key, column.finish()])),
    };
  }
}

import type { ColumnData } from "./table.ts";

/** What each column holds of a record, a line a column; null is missing. Words are of the column's fixed list. */
export type Cells<Item, Key extends string = string> = Readonly<
  Partial<Record<Key, (item: Item) => number | string | null>>
>;

/**
 * Writes rows of a table. Columns and words are looked up once, here, and not for each of a row's fifty cells. What the table has no
 * column for is not asked for, and so not worked out.
 */
export class RowWriter<Item> {
  readonly #numbers: { readonly values: Float64Array; readonly of: (item: Item) => number | null }[] = [];
  readonly #words: {
    readonly key: string;
    readonly codes: Uint32Array;
    readonly codeOf: ReadonlyMap<string, number>;
    readonly of: (item: Item) => string | null;
  }[] = [];

  constructor(columns: ReadonlyMap<string, ColumnData>, cells: Cells<Item>) {
    for (const [key, of] of Object.entries(cells)) {
      const column = columns.get(key);
      if (column === undefined || of === undefined) continue;
      if (column.kind === "number")
        this.#numbers.push({ values: column.values, of: of as (item: Item) => number | null });
      else if (column.kind === "code") {
        const codeOf = new Map(column.words.map((word, code) => [word, code]));
        this.#words.push({ key, codes: column.codes, codeOf, of: of as (item: Item) => string | null });
      } else throw new RangeError(`RowWriter: ${key} is free text`);
    }
  }

  /** @throws RangeError for a word that its column does not have */
  write(row: number, item: Item): void {
    for (const { values, of } of this.#numbers) values[row] = of(item) ?? Number.NaN;
    for (const { key, codes, codeOf, of } of this.#words) {
      const word = of(item);
      const code = word === null ? 0 : codeOf.get(word);
      if (code === undefined) throw new RangeError(`RowWriter: ${key} has no word ${JSON.stringify(word)}`);
      codes[row] = code;
    }
  }
}

import type { CodeColumn, ColumnData } from "./table.ts";

/** What each column holds of a record, a line a column; null is missing. Words are of the column's fixed list. */
export type Cells<Item, Key extends string = string> = Readonly<
  Partial<Record<Key, (item: Item) => number | string | null>>
>;

/** Makes of what a cell is to say what its column keeps. */
interface Written<Item> {
  readonly into: Float64Array | Uint32Array;
  readonly of: (item: Item) => number | null;
}

/**
 * Writes rows of a table. Columns and words are looked up once, here, and not for each of a row's fifty cells. What the table has no
 * column for is not asked for, and so not worked out.
 */
export class RowWriter<Item> {
  readonly #write: (row: number, item: Item) => void;

  constructor(columns: ReadonlyMap<string, ColumnData>, cells: Cells<Item>) {
    const written: Written<Item>[] = [];
    for (const [key, of] of Object.entries(cells)) {
      const column = columns.get(key);
      if (column === undefined || of === undefined) continue;
      if (column.kind === "number")
        written.push({ into: column.values, of: of as (item: Item) => number | null });
      else if (column.kind === "code")
        written.push({
          into: column.codes,
          of: codeReader(key, column, of as (item: Item) => string | null),
        });
      else throw new RangeError(`RowWriter: ${key} is free text`);
    }
    this.#write = writeInLine(written);
  }

  /** @throws RangeError for a word that its column does not have */
  write(row: number, item: Item): void {
    this.#write(row, item);
  }
}

function codeReader<Item>(key: string, { words }: CodeColumn, of: (item: Item) => string | null) {
  const codeOf = new Map(words.map((word, code) => [word, code]));
  return (item: Item): number => {
    const word = of(item);
    const code = word === null ? 0 : codeOf.get(word);
    if (code === undefined) throw new RangeError(`RowWriter: ${key} has no word ${JSON.stringify(word)}`);
    return code;
  };
}

/** One function that writes all, each cell called from a place of its own: from a loop, by one call for all of them, a plan of a million took 0.15 s more. */
function writeInLine<Item>(written: readonly Written<Item>[]): (row: number, item: Item) => void {
  const lines = written.map((_, i) => `into${i}[row] = of${i}(item) ?? NaN;`);
  const named = new Function(
    ...written.flatMap((_, i) => [`into${i}`, `of${i}`]),
    ["return (row, item) => {", ...lines, "};"].join("\n"),
  );
  return named(...written.flatMap(({ into, of }) => [into, of]));
}

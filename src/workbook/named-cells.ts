import type { PlainBook, PlainSheet } from "./plain-book.ts";

/** The cells a name points to: one column, or one cell. */
export interface NamedCells {
  readonly sheet: PlainSheet;
  readonly addresses: readonly string[];
}

/** A schedule has no more lines than this. */
const MOST_ROWS = 10_000;

/** Null when the book has no such name, or it points to anything but one column of a sheet that is there. */
export function namedCells(book: PlainBook, name: string): NamedCells | null {
  const found =
    /^\$?('(?:[^']|'')+'|[^'!]+)!\$?([A-Z]{1,3})\$?(\d{1,7})(?::\$?([A-Z]{1,3})\$?(\d{1,7}))?$/.exec(
      book.names.get(name) ?? "",
    );
  if (found === null) return null;
  const [, quoted = "", column = "", first = "", lastColumn = column, last = first] = found;
  const sheetName = quoted.startsWith("'") ? quoted.slice(1, -1).replaceAll("''", "'") : quoted;
  const sheet = book.sheets.find((each) => each.name === sheetName);
  const rows = Number(last) - Number(first) + 1;
  if (sheet === undefined || lastColumn !== column || rows < 1 || rows > MOST_ROWS) return null;
  return { sheet, addresses: Array.from({ length: rows }, (_, i) => `${column}${Number(first) + i}`) };
}

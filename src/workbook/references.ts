import { type Cell, formula, type SheetColumn } from "./sheet-model.ts";

/** Column letters, counting from 0: A to Z, then AA. */
export function columnLetter(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : columnLetter(Math.floor(index / 26) - 1) + last;
}

/** The column that letters stand for, capital or small: the other way of {@link columnLetter}. */
export const columnIndex = (letters: string): number =>
  [...letters.toUpperCase()].reduce((sum, each) => sum * 26 + each.charCodeAt(0) - 64, 0) - 1;

/** The letter of each column by its key, in the order of the columns. */
export function lettersOf<Key extends string>(
  columns: Readonly<Record<Key, SheetColumn>>,
): Readonly<Record<Key, string>> {
  const letters = Object.keys(columns).map((key, i) => [key, columnLetter(i)] as const);
  return Object.fromEntries(letters) as Record<Key, string>;
}

/** `'Lateral quantities'!$G$5:$G$99`; one row at least, so that a formula over no rows still has a range. */
export function rangeIn(sheet: string, letter: string, first: number, rows: number): string {
  return `'${sheet.replaceAll("'", "''")}'!$${letter}$${first}:$${letter}$${first + Math.max(1, rows) - 1}`;
}

/** The sum of a column; over no rows a plain number, because the range would hold the sum itself. */
export function sumBelow(letter: string, first: number, rows: number, result: number, format?: string): Cell {
  if (rows > 0) return formula(`SUM(${letter}${first}:${letter}${first + rows - 1})`, result, format);
  return format === undefined ? result : { kind: "number", value: result, format };
}

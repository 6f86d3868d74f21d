/** What a spreadsheet would run instead of show, full-width signs as well. */
const STARTS_FORMULA = /^[\s\p{Cc}]*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r]/u;

/**
 * A cell of a CSV file, RFC 4180. Text that a spreadsheet would take for a formula gets an apostrophe before it: it then
 * is shown, and runs nothing. Numbers are written plainly, with a decimal point, however the program shows them.
 */
export function csvCell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const text = STARTS_FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Lines end as the standard has it, the last too. */
export const csvLine = (cells: readonly (string | number | null)[]): string =>
  `${cells.map(csvCell).join(",")}\r\n`;

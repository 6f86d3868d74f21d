/** One row of a delimited file. Cells are quoted only where they must be. */
export function csvRow(cells: readonly string[], delimiter: string, lineEnd: string): string {
  const plain = cells.join(delimiter);
  // Nearly every row needs no quotes at all.
  if (!plain.includes('"') && !plain.includes("\n") && countOf(delimiter, plain) === cells.length - 1)
    return plain + lineEnd;
  return cells.map((cell) => quotedIfNeeded(cell, delimiter)).join(delimiter) + lineEnd;
}

function countOf(mark: string, text: string): number {
  let count = 0;
  for (let at = text.indexOf(mark); at >= 0; at = text.indexOf(mark, at + 1)) count += 1;
  return count;
}

function quotedIfNeeded(cell: string, delimiter: string): string {
  const needed = cell.includes('"') || cell.includes(delimiter) || cell.includes("\n");
  return needed ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** Decimals by hand and by mark: no locale. */
export const decimal = (value: number, places: number, mark: "." | ","): string =>
  mark === "." ? value.toFixed(places) : value.toFixed(places).replace(".", ",");

/** Thousands set off in threes: `4,812.5`, or `4.812,5` with a decimal comma. */
export function thousands(value: number, places: number, mark: "." | ","): string {
  const [whole = "", part] = value.toFixed(places).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, mark === "." ? "," : ".");
  return part === undefined ? grouped : grouped + mark + part;
}

/** A whole number with leading zeros. */
export const padded = (value: number, width: number): string => String(value).padStart(width, "0");

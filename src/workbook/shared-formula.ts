import { columnIndex, columnLetter } from "./references.ts";

/** Text in double quotes, a sheet's name in single ones, or a cell's address that is no part of a longer word. */
const PARTS =
  /"(?:[^"]|"")*"|'(?:[^']|'')*'|(?<![A-Za-z0-9_.$])(\$?)([A-Z]{1,3})(\$?)(\d{1,7})(?![A-Za-z0-9_.(])/g;

/**
 * A formula that cells share, as it reads in another of them: addresses without a $ move along. Some programs save a
 * column of like formulas so.
 */
export function shiftFormula(formula: string, from: string, to: string): string {
  const [a, b] = [placeOf(from), placeOf(to)];
  return formula.replace(
    PARTS,
    (whole, fixedColumn: string | undefined, letters: string | undefined, fixedRow: string, row: string) => {
      if (letters === undefined) return whole;
      const column = fixedColumn === "$" ? letters : columnLetter(columnIndex(letters) + b.column - a.column);
      return `${fixedColumn}${column}${fixedRow}${fixedRow === "$" ? row : Number(row) + b.row - a.row}`;
    },
  );
}

function placeOf(address: string): { readonly column: number; readonly row: number } {
  const found = /^([A-Z]+)(\d+)$/.exec(address);
  if (found === null) throw new RangeError(`shiftFormula: ${address} is no address`);
  return { column: columnIndex(found[1]!), row: Number(found[2]) };
}

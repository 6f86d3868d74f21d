import { xmlText } from "../quantity/xml-text.ts";

/** Most characters a cell holds. */
const LONGEST_TEXT = 32_767;

/** The file format reads `_x0041_` as an A; escaped, it is the seven characters that were written. */
const LOOKS_ESCAPED = /_(?=x[0-9A-Fa-f]{4}_)/g;

/**
 * Text as a cell can hold it: what the file format cannot carry is shown as �, line ends are one character, and what
 * is too long ends in …. A formula in it stays text, because the writer gives text only to text cells.
 */
export function cellText(text: string): string {
  const plain = xmlText(text.replace(/\r\n?/g, "\n"));
  const fitting = plain.length > LONGEST_TEXT ? `${cut(plain, LONGEST_TEXT - 1)}…` : plain;
  return fitting.replace(LOOKS_ESCAPED, "_x005F_");
}

/** Whether a spreadsheet would take the text for a formula when somebody types it again. */
export const looksLikeFormula = (text: string): boolean => /^[=+\-@\t]/.test(text);

/** Footers have their own codes, each beginning with &. */
export const footerText = (text: string): string =>
  cut(cellText(text).replace(/\s+/g, " "), LONGEST_FOOTER).replaceAll("&", "&&");

/** All three parts of a footer have 255 characters together. */
const LONGEST_FOOTER = 60;

/** The first characters, never half of a pair. */
const cut = (text: string, most: number): string => text.slice(0, most).replace(/[\ud800-\udbff]$/, "");

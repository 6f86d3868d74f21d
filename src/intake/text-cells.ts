import type { CellProblem } from "./cell-problem.ts";

const PLUS = 43;
const DOT = 46;

/** A look before {@link idDamage} at an id `bytes[from … to)`: nearly all have neither a plus nor a dot. */
export function mayBeDamaged(bytes: Uint8Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (bytes[at] === PLUS || bytes[at] === DOT) return true;
  return false;
}

/**
 * What a spreadsheet did to an id, or null. The id is kept as the file writes it; two ids may have become the same
 * text, and leading zeros cannot be brought back.
 */
export function idDamage(id: string): CellProblem<string> | null {
  // Cheap looks first: nearly every id is whole.
  if (id.includes("+") && /^\d(?:[.,]\d+)?E\+\d+$/i.test(id))
    return noted(
      id,
      "an id with all its digits",
      "A spreadsheet has shortened this id: format the column as text and export the file again.",
    );
  if (id.endsWith(".0") && /^\d+\.0$/.test(id))
    return noted(
      id,
      "an id, not a decimal number",
      "The export took ids for numbers, which also loses leading zeros: export the column as text.",
    );
  return null;
}

/**
 * A quick rating: worst grade and how often, next grade and how often (`5236`), counts above 9 as letters, `00` for
 * no second grade, `0000` for no defect.
 * Source: City of Santa Ana CA, Sewer Rate Study, 2014, App. B p. 240 (four characters, the two worst grades);
 * letters and zeros from memory, unverified.
 */
const QUICK_RATING = /^(?:0000|[1-5][1-9A-Z](?:00|[1-4][1-9A-Z]))$/;

export const isQuickRating = (text: string): boolean =>
  QUICK_RATING.test(text) && (text.startsWith("00") || text.charCodeAt(2) < text.charCodeAt(0));

/** A quick rating is kept exactly as the file writes it, right or wrong: `3E00` is not a number. */
export function readQuickRating(text: string): string | CellProblem<string> {
  if (isQuickRating(text)) return text;
  const expected = "a quick rating of four characters, such as 5236, 4100 or 0000";
  if (/^0{1,3}$/.test(text))
    return noted(
      text,
      expected,
      "A spreadsheet has dropped leading zeros: format the column as text and export again.",
    );
  if (/^\d+(?:[.,]\d+)?E\+?\d+$/i.test(text) || /^\d{5,}$/.test(text) || /^\d[.,]\d+$/.test(text))
    return noted(
      text,
      expected,
      "A spreadsheet has taken the rating for a number (3E00 is one to it): format the column as text and export again.",
    );
  return noted(
    text,
    expected,
    "Kept as text; correct it in the inspection record if the rating is to be used.",
  );
}

const noted = (value: string, expected: string, remedy: string): CellProblem<string> => ({
  severity: "noted",
  value,
  expected,
  remedy,
});

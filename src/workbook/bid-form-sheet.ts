import { createHash } from "node:crypto";
import { formFields, issueNames } from "./bid-names.ts";
import type { Addendum } from "./changes-sheet.ts";
import { ANSWER, type Book, firstRow, type Row, type SheetModel } from "./sheet-model.ts";

/** Which issue of the bid documents a book is. */
export interface IssueMark {
  readonly number: number;
  /** Addenda issued so far, the first first. */
  readonly addenda: readonly Addendum[];
}

/** The first issue, before any addendum. */
export const FIRST_ISSUE: IssueMark = { number: 1, addenda: [] };

const NAME = "Bid form";

const notes = ["Fill in the yellow cells. What is issued stands above them and is not to be changed."];

/**
 * The sheet a bidder signs, with what identifies the issue: its number, and a mark of what all other sheets hold, by
 * which a returned book is known to be of this issue.
 */
export function bidFormSheet(issue: IssueMark, others: readonly SheetModel[]): SheetModel {
  const fields = Object.values(formFields);
  const issued: readonly Row[] = [
    ["Issue", issue.number, "Number of this issue of the bid documents."],
    ["Mark of the content", contentMark(others), "Of all sheets but this one, as issued."],
    ["Addenda issued", issue.addenda.length, addendaWords(issue.addenda)],
  ];
  const first = firstRow(notes);
  const names = [...Object.values(issueNames), ...fields.map(({ name }) => name)];
  return {
    name: NAME,
    title: NAME,
    notes,
    columns: [
      { heading: "Field", width: 26 },
      { heading: "Entry", width: 44, wrap: true },
      { heading: "What to write", width: 56, wrap: true },
    ],
    rows: [...issued, ...fields.map(({ heading, asks }): Row => [heading, ANSWER, asks])],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
    names: Object.fromEntries(names.map((name, i) => [name, `$B$${first + i}`])),
  };
}

/** The mark as the form of a book shows it. */
export const contentMarkOf = ({ sheets }: Book): string =>
  contentMark(sheets.filter(({ name }) => name !== NAME));

const addendaWords = (addenda: readonly Addendum[]): string =>
  [
    "To be acknowledged below.",
    ...addenda.map(({ number, date, text }) => `Addendum ${number} of ${date}: ${text}`),
  ].join("\n");

/** The first 16 hexadecimal digits of SHA-256 over names, headings and cells: other cells, another mark. */
function contentMark(sheets: readonly SheetModel[]): string {
  const hash = createHash("sha256");
  for (const { name, title, notes: lines, columns, rows, foot } of sheets) {
    hash.update(JSON.stringify([name, title, lines, columns.map(({ heading }) => heading)]));
    for (const row of rows) hash.update(JSON.stringify(row));
    for (const row of foot ?? []) hash.update(JSON.stringify(row));
  }
  return hash.digest("hex").slice(0, 16);
}

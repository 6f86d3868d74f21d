import { createHash } from "node:crypto";
import { partName } from "../bidding/bid.ts";
import type { DateStyle } from "../quantity/show-date.ts";
import type { Cents } from "../quantity/si.ts";
import { awardNames, formFields, issueNames, TOTALS_WRITTEN } from "./bid-names.ts";
import { type SchedulePlace, totalCell } from "./bid-schedule-sheet.ts";
import { type Addendum, addendumWords } from "./changes-sheet.ts";
import { HUNDREDTHS } from "./number-format.ts";
import { ANSWER, type Book, firstRow, formula, type Row, type SheetModel } from "./sheet-model.ts";
import { inWords } from "./words-sheet.ts";

/** Which issue of the bid documents a book is. */
export interface IssueMark {
  readonly number: number;
  /** Addenda issued so far, the first first. */
  readonly addenda: readonly Addendum[];
}

/** The first issue, before any addendum. */
export const FIRST_ISSUE: IssueMark = { number: 1, addenda: [] };

const NAME = "Bid form";

const notes = [
  "Fill in the yellow cells. What is issued stands above them, the totals of the schedule below them; neither is to be changed.",
];

/** What the totals of the form are made of. */
export interface BidTotals {
  /** The base bid's schedule, then each alternate's in stated order. */
  readonly schedules: readonly SchedulePlace[];
  /** What the base bid comes to before anything is priced: its allowances. */
  readonly carried: Cents;
  readonly currency: string;
  readonly dates: DateStyle;
  /** The clause that asks bidders for their totals in words; null where none does. */
  readonly wordsClause: string | null;
}

/**
 * The sheet a bidder signs, with what identifies the issue: its number, and a mark of what all other sheets hold, by
 * which a returned book is known to be of this issue.
 */
export function bidFormSheet(
  issue: IssueMark,
  others: readonly SheetModel[],
  { schedules, carried, currency, dates, wordsClause }: BidTotals,
): SheetModel {
  const fields = Object.values(formFields);
  const issued: readonly Row[] = [
    ["Issue", issue.number, "Number of this issue of the bid documents."],
    ["Mark of the content", contentMark(others), "Of all sheets but this one, as issued."],
    ["Addenda issued", issue.addenda.length, addendaWords(issue.addenda, dates)],
  ];
  const first = firstRow(notes);
  const names = [...Object.values(issueNames), ...fields.map(({ name }) => name)];
  const typed: readonly Row[] =
    wordsClause === null
      ? []
      : schedules.map(({ part }) => [
          `Total in words, ${partName(part)}`,
          { kind: "answer", lines: 2 },
          `The total of the ${partName(part)} in words. ${wordsClause}`,
        ]);
  const typedAt = first + names.length;
  const at = typedAt + typed.length;
  const awards = schedules.map((_, i): Row => {
    const sum = schedules
      .slice(0, i + 1)
      .map(totalCell)
      .join("+");
    return [
      i === 0 ? "Base bid" : `Base bid with ${throughAlternate(i)}`,
      formula(`ROUND(${sum},2)`, carried / 100, HUNDREDTHS),
      inWords(`$B$${at + i}`, carried, currency),
    ];
  });
  const cells = (letter: string, from = at) => `$${letter}$${from}:$${letter}$${from + schedules.length - 1}`;
  return {
    name: NAME,
    title: NAME,
    notes,
    columns: [
      { heading: "Field", width: 26 },
      { heading: "Entry", width: 44, wrap: true },
      { heading: "What to write", width: 56, wrap: true },
    ],
    rows: [
      ...issued,
      ...fields.map(({ heading, asks }): Row => [heading, ANSWER, asks]),
      ...typed,
      ...awards,
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
    names: {
      ...Object.fromEntries(names.map((name, i) => [name, `$B$${first + i}`])),
      ...(typed.length === 0 ? {} : { [TOTALS_WRITTEN]: cells("B", typedAt) }),
      [awardNames.totals]: cells("B"),
      [awardNames.words]: cells("C"),
    },
  };
}

const throughAlternate = (last: number): string => (last === 1 ? "alternate 1" : `alternates 1 to ${last}`);

/** The mark as the form of a book shows it. */
export const contentMarkOf = ({ sheets }: Book): string =>
  contentMark(sheets.filter(({ name }) => name !== NAME));

const addendaWords = (addenda: readonly Addendum[], dates: DateStyle): string =>
  ["To be acknowledged below.", ...addenda.map((addendum) => addendumWords(addendum, dates))].join("\n");

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

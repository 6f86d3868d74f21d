import type { IssueChange } from "../bidding/issue-changes.ts";
import { type DateStyle, showWrittenDate } from "../quantity/show-date.ts";
import { textOrDate } from "./number-format.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

/** What an addendum is called, and what it says. */
export interface Addendum {
  readonly number: number;
  /** ISO 8601, the day it was issued. */
  readonly date: string;
  readonly text: string;
}

export const addendumWords = ({ number, date, text }: Addendum, dates: DateStyle): string =>
  `Addendum ${number} of ${showWrittenDate(date, dates)}: ${text}`;

/** What differs from the issue before, line by line. */
export function changesSheet(
  addendum: Addendum,
  changes: readonly IssueChange[],
  dates: DateStyle,
): SheetModel {
  const { number } = addendum;
  return {
    name: "Changes",
    title: `Changes by addendum ${number}`,
    notes: [
      addendumWords(addendum, dates),
      `Issue ${number + 1} takes the place of issue ${number}; prices on an earlier issue are not compared. All that differs from issue ${number}:`,
    ],
    columns: [
      { heading: "Sheet", width: 22, wrap: true },
      { heading: "Item or row", width: 36, wrap: true },
      { heading: "What", width: 18, wrap: true },
      { heading: "From", width: 38, wrap: true },
      { heading: "To", width: 38, wrap: true },
    ],
    rows: changes.map(
      ({ sheet, about, what, from, to }): Row => [
        sheet,
        about,
        what,
        textOrDate(from, dates),
        textOrDate(to, dates),
      ],
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}

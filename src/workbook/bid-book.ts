import type { Part } from "../bidding/bid.ts";
import { type IssueChange, LINE_ADDED } from "../bidding/issue-changes.ts";
import { cents } from "../quantity/si.ts";
import type { BiddingRules, OwnersConditions } from "../reference/bidding-rules.ts";
import { basisSheets } from "./basis-sheet.ts";
import { bidFormSheet, FIRST_ISSUE, type IssueMark } from "./bid-form-sheet.ts";
import {
  asksWords,
  bidScheduleSheet,
  paymentSheet,
  schedulePlace,
  scheduleQuantityCells,
} from "./bid-schedule-sheet.ts";
import type { BidView } from "./bid-view.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { changesSheet } from "./changes-sheet.ts";
import { conditionsSheet } from "./conditions-sheet.ts";
import { dataGapsSheet } from "./data-gaps-sheet.ts";
import { districtQuantitiesSheet } from "./district-quantities.ts";
import { howToReadSheet } from "./how-to-read.ts";
import { instructionsSheet } from "./instructions-sheet.ts";
import { lateralQuantitiesSheets } from "./lateral-quantities.ts";
import { lateralScheduleSheets } from "./lateral-schedule.ts";
import { type BidPicture, picturesSheet } from "./pictures-sheet.ts";
import type { Book, SheetModel } from "./sheet-model.ts";
import { wordsSheet } from "./words-sheet.ts";

/** What a bid book shows beside the plan. */
export interface BidExtras {
  /** The program's instructions to bidders. */
  readonly rules?: BiddingRules;
  /** What the owner says of when and how the work is done. */
  readonly conditions?: OwnersConditions;
  readonly pictures?: readonly BidPicture[];
}

/** The book for bidders, from the allow-list and nothing else; a re-issue says what changed since the issue before. */
export function buildBidBook(
  view: BidView,
  issue: IssueMark = FIRST_ISSUE,
  changes: readonly IssueChange[] = [],
  { rules, conditions, pictures }: BidExtras = {},
): Book {
  const last = issue.addenda.at(-1);
  const changed = new Map(
    changes.flatMap(({ line, what }) =>
      line === null ? [] : [[line, what === LINE_ADDED ? "new" : "changed"] as const],
    ),
  );
  const options = {
    changes: last === undefined ? null : { addendum: last.number, changed },
    rules: rules ?? null,
  };
  const asked = asksWords(options);
  const parts: readonly Part[] = ["base", ...view.alternates.map(({ number }) => number)];
  const divided = view.alternates.length > 0;
  const [base, ...alternates] = parts.map((part) => bidScheduleSheet(view, part, options));
  const sheets = [
    base!,
    ...alternates,
    ...(last === undefined ? [] : [changesSheet(last, changes, view.head.print.dates)]),
    ...(rules === undefined ? [] : [instructionsSheet(rules, view)]),
    conditionsSheet(view, conditions),
    paymentSheet(view),
    ...lateralScheduleSheets(view),
    ...lateralQuantitiesSheets(view.quantities, divided),
    districtQuantitiesSheet(view, scheduleQuantityCells(view, asked)),
    dataGapsSheet(view),
    ...basisSheets(view.basis, true),
    cautionsSheet(view.cautions, true),
    wordsSheet(),
  ];
  const others = pictures === undefined ? sheets : withPictures(sheets, pictures);
  const first = howToReadSheet(view, ["Bid form", ...others.map(({ name }) => name)]);
  const totals = {
    schedules: parts.map((part) => schedulePlace(view, part, asked)),
    carried: cents(view.allowances.reduce((sum, { amount }) => sum + amount, 0)),
    currency: view.head.currency,
    dates: view.head.print.dates,
    wordsClause: rules?.totalInWords?.clause ?? null,
  };
  return {
    title: issue === FIRST_ISSUE ? "Bid book" : `Bid book, issue ${issue.number}`,
    head: view.head,
    sheets: [first, bidFormSheet(issue, [first, ...others], totals), ...others],
  };
}

/** The pictures before what is not known. */
function withPictures(sheets: readonly SheetModel[], pictures: readonly BidPicture[]): readonly SheetModel[] {
  const at = sheets.findIndex(({ name }) => name === "Data gaps");
  return sheets.toSpliced(at, 0, picturesSheet(pictures));
}

import type { IssueChange } from "../bidding/issue-changes.ts";
import type { BiddingRules } from "../reference/bidding-rules.ts";
import { basisSheets } from "./basis-sheet.ts";
import { bidFormSheet, FIRST_ISSUE, type IssueMark } from "./bid-form-sheet.ts";
import { bidScheduleSheet, paymentSheet, scheduleQuantityCell } from "./bid-schedule-sheet.ts";
import type { BidView } from "./bid-view.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { changesSheet } from "./changes-sheet.ts";
import { dataGapsSheet } from "./data-gaps-sheet.ts";
import { districtQuantitiesSheet } from "./district-quantities.ts";
import { howToReadSheet } from "./how-to-read.ts";
import { instructionsSheet } from "./instructions-sheet.ts";
import { lateralQuantitiesSheets } from "./lateral-quantities.ts";
import { lateralScheduleSheets } from "./lateral-schedule.ts";
import { type BidPicture, picturesSheet } from "./pictures-sheet.ts";
import type { Book } from "./sheet-model.ts";

/** What a bid book shows beside the plan. */
export interface BidExtras {
  /** The program's instructions to bidders. */
  readonly rules?: BiddingRules;
  readonly pictures?: readonly BidPicture[];
}

/** The book for bidders, from the allow-list and nothing else; a re-issue says what changed since the issue before. */
export function buildBidBook(
  view: BidView,
  issue: IssueMark = FIRST_ISSUE,
  changes: readonly IssueChange[] = [],
  { rules, pictures }: BidExtras = {},
): Book {
  const last = issue.addenda.at(-1);
  const changed = new Set(changes.flatMap(({ line }) => line ?? []));
  const others = [
    bidScheduleSheet(view, last === undefined ? null : { addendum: last.number, changed }),
    ...(last === undefined ? [] : [changesSheet(last, changes)]),
    ...(rules === undefined ? [] : [instructionsSheet(rules)]),
    paymentSheet(view),
    ...lateralScheduleSheets(view),
    ...lateralQuantitiesSheets(view.quantities),
    districtQuantitiesSheet(view, scheduleQuantityCell),
    ...(pictures === undefined ? [] : [picturesSheet(pictures)]),
    dataGapsSheet(view),
    ...basisSheets(view.basis, true),
    cautionsSheet(view.cautions, true),
  ];
  const first = howToReadSheet(view, ["Bid form", ...others.map(({ name }) => name)]);
  return {
    title: issue === FIRST_ISSUE ? "Bid book" : `Bid book, issue ${issue.number}`,
    head: view.head,
    sheets: [first, bidFormSheet(issue, [first, ...others]), ...others],
  };
}

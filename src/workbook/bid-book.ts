import { basisSheets } from "./basis-sheet.ts";
import { bidFormSheet, FIRST_ISSUE, type IssueMark } from "./bid-form-sheet.ts";
import { bidScheduleSheet, paymentSheet, scheduleQuantityCell } from "./bid-schedule-sheet.ts";
import type { BidView } from "./bid-view.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { districtQuantitiesSheet } from "./district-quantities.ts";
import { howToReadSheet } from "./how-to-read.ts";
import { lateralQuantitiesSheets } from "./lateral-quantities.ts";
import { lateralScheduleSheets } from "./lateral-schedule.ts";
import type { Book } from "./sheet-model.ts";

/** The book for bidders, from the allow-list and nothing else. */
export function buildBidBook(view: BidView, issue: IssueMark = FIRST_ISSUE): Book {
  const first = howToReadSheet(view);
  const others = [
    bidScheduleSheet(view),
    paymentSheet(view),
    ...lateralScheduleSheets(view),
    ...lateralQuantitiesSheets(view.quantities),
    districtQuantitiesSheet(view, scheduleQuantityCell),
    ...basisSheets(view.basis, true),
    cautionsSheet(view.cautions, true),
  ];
  return {
    title: "Bid book",
    head: view.head,
    sheets: [first, bidFormSheet(issue, [first, ...others]), ...others],
  };
}

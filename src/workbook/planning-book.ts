import { allBasisRows } from "./basis-rows.ts";
import { basisSheets } from "./basis-sheet.ts";
import { type DividedBid, readBidView } from "./bid-view.ts";
import type { BookContents } from "./book-contents.ts";
import { breakdownSheet } from "./breakdown-sheet.ts";
import { calendarSheet } from "./calendar-sheet.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { crewDaysSheet } from "./crew-days.ts";
import { designSheets } from "./design/design-sheet.ts";
import { estimateSheet } from "./estimate.ts";
import { forecastSheet } from "./forecast-sheet.ts";
import { infiltrationSheet } from "./infiltration-sheet.ts";
import { lateralQuantitiesSheets } from "./lateral-quantities.ts";
import { materialsSheet } from "./materials.ts";
import { noticesSheet } from "./notices-sheet.ts";
import { offersSheets } from "./offers.ts";
import { plannedCautions } from "./planned-cautions.ts";
import { problemsSheet, rowsReadSheet } from "./problems.ts";
import { progressSheet } from "./progress-sheet.ts";
import { rankingSheets } from "./ranking.ts";
import { reasonsSheets } from "./reasons.ts";
import { riskMatrixSheet } from "./risk-matrix-sheet.ts";
import { seasonSheets } from "./season-sheet.ts";
import type { Book } from "./sheet-model.ts";
import { stripsSheets } from "./strips.ts";
import { summarySheet } from "./summary.ts";
import { takeoffSheet } from "./takeoff.ts";
import { uncertaintySheets } from "./uncertainty-sheet.ts";

/**
 * The book for the city: everything. It holds the estimate and must never go to a bidder.
 *
 * @param divided the alternates and allowances of the bid; a base bid alone unless said
 */
export function buildPlanningBook(contents: BookContents, divided: DividedBid | null = null): Book {
  const { basis } = contents.program;
  const view = readBidView(contents, divided);
  return {
    title: "Planning book: for the city, not for bidders",
    head: basis.program,
    sheets: [
      summarySheet(contents),
      breakdownSheet(contents),
      ...rankingSheets(contents),
      ...reasonsSheets(contents),
      ...(contents.selected === null ? [] : seasonSheets(contents, contents.selected)),
      riskMatrixSheet(contents),
      forecastSheet(contents),
      infiltrationSheet(contents),
      estimateSheet(contents, view),
      ...lateralQuantitiesSheets(view.quantities, view.alternates.length > 0).map((sheet) => ({
        ...sheet,
        locked: false,
      })),
      materialsSheet(contents),
      takeoffSheet(contents),
      crewDaysSheet(contents),
      ...(contents.season === null ? [] : [calendarSheet(contents.season, basis.program.print.dates)]),
      ...(contents.notices === null ? [] : [noticesSheet(contents, contents.notices)]),
      progressSheet(contents),
      ...uncertaintySheets(contents),
      ...designSheets(contents),
      ...offersSheets(contents),
      ...stripsSheets(contents),
      rowsReadSheet(contents),
      problemsSheet(contents),
      ...basisSheets(allBasisRows(basis), false),
      cautionsSheet(plannedCautions(contents.program), false),
    ],
  };
}

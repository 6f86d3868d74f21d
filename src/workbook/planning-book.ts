import { allBasisRows } from "./basis-rows.ts";
import { basisSheets } from "./basis-sheet.ts";
import { readBidView } from "./bid-view.ts";
import type { BookContents } from "./book-contents.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { crewDaysSheet } from "./crew-days.ts";
import { estimateSheet } from "./estimate.ts";
import { lateralQuantitiesSheet } from "./lateral-quantities.ts";
import { materialsSheet } from "./materials.ts";
import { offersSheet } from "./offers.ts";
import { problemsSheet, rowsReadSheet } from "./problems.ts";
import { rankingSheet } from "./ranking.ts";
import { reasonsSheet } from "./reasons.ts";
import type { Book } from "./sheet-model.ts";
import { summarySheet } from "./summary.ts";

/** The book for the city: everything. It holds the estimate and must never go to a bidder. */
export function buildPlanningBook(contents: BookContents): Book {
  const { basis } = contents.program;
  const view = readBidView(contents);
  return {
    title: "Planning book: for the city, not for bidders",
    head: basis.program,
    sheets: [
      summarySheet(contents),
      rankingSheet(contents),
      reasonsSheet(contents),
      estimateSheet(contents, view),
      { ...lateralQuantitiesSheet(view.quantities), locked: false },
      materialsSheet(contents),
      crewDaysSheet(contents),
      offersSheet(contents),
      rowsReadSheet(contents),
      problemsSheet(contents),
      ...basisSheets(allBasisRows(basis), false),
      cautionsSheet(view.cautions, false),
    ],
  };
}

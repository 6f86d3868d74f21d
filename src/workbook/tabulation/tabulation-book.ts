import type { Book } from "../sheet-model.ts";
import { comparisonSheet } from "./comparison-sheet.ts";
import { correctionSheet } from "./correction-sheet.ts";
import { pricesToCheck } from "./prices-to-check.ts";
import { quantitiesToCheck } from "./quantities-to-check.ts";
import { responsivenessSheet } from "./responsiveness-sheet.ts";
import { rulesSheet } from "./rules-sheet.ts";
import type { Tabulation } from "./tabulation.ts";
import { tabulationSheet } from "./tabulation-sheet.ts";

/** The tabulation of returned bids. Every sum, extension, ratio and rank in it is a live formula. */
export function buildTabulation(of: Tabulation): Book {
  return {
    title: "Bid tabulation",
    head: of.head,
    sheets: [
      comparisonSheet(of),
      tabulationSheet(of),
      correctionSheet(of),
      responsivenessSheet(of),
      pricesToCheck(of),
      quantitiesToCheck(of),
      rulesSheet(of),
    ],
  };
}

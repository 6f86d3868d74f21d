import type { Row, SheetModel } from "../sheet-model.ts";
import { AWARD, type Tabulation } from "./tabulation.ts";

/** What each bidder answers to the questions of the instructions. */
export function responsivenessSheet({ bids, responsiveness }: Tabulation): SheetModel {
  return {
    name: "Responsiveness",
    title: "Responsiveness",
    notes: [
      `Questions to settle before an award; what an answer means is for the instructions to bidders. ${AWARD}`,
    ],
    columns: [
      { heading: "Bidder", width: 28, wrap: true },
      { heading: "File", width: 24, wrap: true },
      { heading: "Asked", width: 26 },
      { heading: "Answer", width: 12 },
      { heading: "Found", width: 56, wrap: true },
    ],
    rows: bids.flatMap(({ bid }, b) =>
      responsiveness[b]!.map(({ asks, answer, found }): Row => [bid.name, bid.file, asks, answer, found]),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

import { partName } from "../../bidding/bid.ts";
import { isOfTotal } from "../../bidding/corrected-bid.ts";
import { HUNDREDTHS } from "../number-format.ts";
import type { Row, SheetModel } from "../sheet-model.ts";
import { money, type Tabulation } from "./tabulation.ts";

/** What was corrected in each bid by which rule, and what was found and changes nothing. */
export function correctionSheet({ bids, lines, head }: Tabulation): SheetModel {
  const notes = [
    "Each total as corrected is the total as read and the changes below; where the total cannot be read, the sum of the extensions and the changes. What no rule covers is shown and changes nothing.",
  ];
  return {
    name: "Corrections",
    title: "Corrections and findings",
    notes,
    columns: [
      { heading: "Bidder", width: 24, wrap: true },
      { heading: "Part", width: 12 },
      { heading: "Item", width: 8 },
      { heading: "Found", width: 56, wrap: true },
      { heading: "Corrected", width: 10 },
      { heading: "By which rule", width: 44, wrap: true },
      { heading: `Change (${head.currency})`, width: 15, format: HUNDREDTHS },
    ],
    rows: bids.flatMap(({ bid, findings }) =>
      findings.map(
        (found): Row => [
          bid.name,
          partName(found.part),
          found.line !== null ? lines[found.line]!.item : isOfTotal(found) ? "total" : "",
          found.what,
          found.corrected ? "yes" : "no",
          found.done,
          money(found.change),
        ],
      ),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

import { showPercent, showStatedPercent } from "../../quantity/percent.ts";
import { HUNDREDTHS } from "../number-format.ts";
import { firstRow, formula, type Row, type SheetModel } from "../sheet-model.ts";
import type { Tabulation } from "./tabulation.ts";
import { bidLetters, lineCell, sumCell } from "./tabulation-sheet.ts";

/** Quantities at which the order of the lowest bid and another turns. */
export function quantitiesToCheck(of: Tabulation): SheetModel {
  const { questions, bids, lines, band } = of;
  const percent = showStatedPercent(band.quantity);
  const notes = [
    `The quantity of one item at which the lowest base bid as corrected and another come to the same, all other quantities as issued; within ±${percent} the order would turn. Items that would have to be more than twice what was issued are left out. Things to check the quantities by.`,
    ...questions.map(
      ({ lower, higher, turnsAt }) =>
        `${bids[lower]!.bid.name} and ${bids[higher]!.bid.name}: ` +
        (turnsAt === null
          ? "no change of quantities turns their order."
          : `their order turns when all quantities move by ${showPercent(turnsAt, 2)}, each the way that favours the second.`),
    ),
  ];
  const first = firstRow(notes);
  let at = first - 1;
  return {
    name: "Quantities to check",
    title: "Quantities to check",
    notes,
    columns: [
      { heading: "Lowest", width: 24, wrap: true },
      { heading: "Other bidder", width: 24, wrap: true },
      { heading: "Item", width: 8 },
      { heading: "Description", width: 44, wrap: true },
      { heading: "Quantity issued", width: 12, format: HUNDREDTHS },
      { heading: "Equal at", width: 12, format: HUNDREDTHS },
      { heading: "Change", width: 10, format: "0.0%" },
      { heading: `Order turns within ±${percent}`, width: 12 },
    ],
    rows: questions.flatMap(({ lower, higher, breakEvens }) =>
      breakEvens.map(({ line, quantity, change }): Row => {
        at++;
        const sum = (b: number) => sumCell(of, bidLetters(b).extension, "base");
        const price = (b: number) => lineCell(bidLetters(b).price, line);
        return [
          bids[lower]!.bid.name,
          bids[higher]!.bid.name,
          lines[line]!.item,
          lines[line]!.description,
          formula(lineCell("D", line), lines[line]!.hundredths / 100, HUNDREDTHS),
          formula(
            `E${at}+(${sum(higher)}-${sum(lower)})/(${price(lower)}-${price(higher)})`,
            quantity,
            HUNDREDTHS,
          ),
          formula(`F${at}/E${at}-1`, change, "0.0%"),
          Math.abs(change) <= band.quantity ? "yes" : "no",
        ];
      }),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

import { pricesOutsideBand } from "../../bidding/price-questions.ts";
import type { Cents } from "../../quantity/si.ts";
import { HUNDREDTHS } from "../number-format.ts";
import { type Cell, firstRow, formula, type Row, type SheetModel } from "../sheet-model.ts";
import { describeLine, type Tabulation } from "./tabulation.ts";
import { bidLetters, lineCell } from "./tabulation-sheet.ts";

/** Unit prices far from the estimate. */
export function pricesToCheck({ bids, lines, estimate, band }: Tabulation): SheetModel {
  const notes = [
    `Unit price as corrected over the estimate, where it is below ${band.low} or above ${band.high}. Things to check, first the quantity and the estimate; a price has many honest reasons.`,
    `Band: ${band.source}`,
  ];
  const first = firstRow(notes);
  const found = bids.flatMap(({ bid, lines: own }, b) =>
    pricesOutsideBand(
      own.map(({ price }) => price),
      estimate,
      band,
    ).map(({ line: i, ratio }) => ({ name: bid.name, line: lines[i]!, i, b, ratio })),
  );
  return {
    name: "Prices to check",
    title: "Prices to check",
    notes,
    columns: [
      { heading: "Bidder", width: 28, wrap: true },
      { heading: "Item", width: 8 },
      { heading: "Description", width: 52, wrap: true },
      { heading: "Unit price", width: 14, format: HUNDREDTHS },
      { heading: "Estimate", width: 14, format: HUNDREDTHS },
      { heading: "Price over estimate", width: 12, format: "0.00" },
    ],
    rows: found.map(({ name, line, i, b, ratio }, at): Row => {
      const row = first + at;
      const cell = (letter: string, value: Cents): Cell =>
        formula(lineCell(letter, i), value / 100, HUNDREDTHS);
      return [
        name,
        line.item,
        describeLine(line),
        cell(bidLetters(b).price, bids[b]!.lines[i]!.price!),
        cell("E", estimate[i]!),
        formula(`D${row}/E${row}`, ratio, "0.00"),
      ];
    }),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

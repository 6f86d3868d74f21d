import { toShown } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type BookContents, districtName, styleOf } from "./book-contents.ts";
import { HUNDREDTHS, numberCell, WHOLE } from "./number-format.ts";
import type { Row, SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

/** Every eligible treatment of every lateral, so that a choice can be compared with what else was possible. */
export function offersSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  return {
    name: "Eligible treatments",
    title: "Eligible treatments",
    notes: [
      "In the order of the ranking. An empty cost has an item without a unit price.",
      priceNote(contents),
    ],
    columns: [
      { heading: "Rank", width: 7, format: WHOLE },
      { heading: "Lateral", width: 14 },
      { heading: "District", width: 18 },
      { heading: "Treatment", width: 24 },
      { heading: "Chosen", width: 9 },
      { heading: `Cost (${style.currency})`, width: 15, format: HUNDREDTHS },
      { heading: "Crew time (min)", width: 11, format: WHOLE },
      { heading: `Resin (${unitLabel("volume", style)})`, width: 11, format: HUNDREDTHS },
    ],
    rows: { [Symbol.iterator]: () => rowsInOrder(contents) },
    frozenColumns: 2,
    pagesWide: 1,
    portrait: true,
    locked: false,
    filtered: true,
  };
}

function* rowsInOrder({ program }: BookContents): Generator<Row> {
  const { offers, laterals, order, basis } = program;
  const { units } = basis.program;
  const first = firstOffers(program.offers, laterals.rows);
  let rank = 0;
  for (const row of order) {
    rank++;
    for (let at = first[row]!; at < first[row + 1]!; at++) {
      yield [
        rank,
        textAt(laterals, "lateral", row),
        districtName(textAt(laterals, "district", row)),
        textAt(offers, "treatment", at),
        numberAt(offers, "chosen", at) === 1 ? "chosen" : "",
        numberCell(numberAt(offers, "cost", at), "money", units),
        numberAt(offers, "crew_minutes", at),
        toShown(numberAt(offers, "resin_ml", at) / 1000, "volume", units),
      ];
    }
  }
}

/** Offers of lateral row r are rows `first[r]` up to `first[r + 1]`: the table holds them in the order of the rows. */
function firstOffers(offers: BookContents["program"]["offers"], rows: number): Uint32Array {
  const first = new Uint32Array(rows + 1);
  for (let at = 0; at < offers.rows; at++) first[numberAt(offers, "lateral_row", at) + 1]!++;
  for (let row = 0; row < rows; row++) first[row + 1]! += first[row]!;
  return first;
}

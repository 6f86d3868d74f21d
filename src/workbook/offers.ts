import { districtName } from "../quantity/district-name.ts";
import { toShown } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { listOfLaterals, type Ranked, rankAt } from "./lateral-list.ts";
import type { LongList } from "./long-list.ts";
import { HUNDREDTHS, numberCell, WHOLE } from "./number-format.ts";
import { firstOwnRows } from "./own-rows.ts";
import { type Row, rowsOf, type SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

/** Every eligible treatment of every lateral, so that a choice can be compared with what else was possible. */
export function offersSheets(contents: BookContents): readonly SheetModel[] {
  const style = styleOf(contents);
  return rankedOffers(contents).parts.map((part) => ({
    name: part.nameOf("Eligible treatments"),
    title: part.nameOf("Eligible treatments"),
    notes: [
      "In the order of the ranking. An empty cost has an item without a unit price.",
      "Present worth: work and renewals over the horizon. Failures left: what they are still expected to cost beside it. Failures spared: by doing it once.",
      priceNote(contents),
      ...part.notes,
    ],
    columns: [
      { heading: "Rank", width: 7, format: WHOLE },
      { heading: "Lateral", width: 14 },
      { heading: "District", width: 18 },
      { heading: "Treatment", width: 28 },
      { heading: "Chosen", width: 9 },
      { heading: `Cost (${style.currency})`, width: 15, format: HUNDREDTHS },
      { heading: "Crew time (min)", width: 11, format: WHOLE },
      { heading: `Resin (${unitLabel("volume", style)})`, width: 11, format: HUNDREDTHS },
      { heading: `Present worth (${style.currency})`, width: 15, format: HUNDREDTHS },
      { heading: `Failures left (${style.currency})`, width: 15, format: HUNDREDTHS },
      { heading: `Failures spared (${style.currency})`, width: 15, format: HUNDREDTHS },
      { heading: `Infiltration removed (${unitLabel("flow", style)})`, width: 13, format: HUNDREDTHS },
      { heading: "Life (years)", width: 9, format: WHOLE },
    ],
    rows: rowsOf(part, (offer) => offerRow(contents, offer)),
    frozenColumns: 2,
    pagesWide: 1,
    portrait: true,
    locked: false,
    filtered: true,
  }));
}

interface RankedOffer extends Ranked {
  /** Its row in the table of offers. */
  readonly at: number;
}

function rankedOffers(contents: BookContents): LongList<RankedOffer> {
  const { offers, laterals, order } = contents.program;
  const first = firstOwnRows(offers, laterals.rows);
  return listOfLaterals(contents, order, {
    count: (row) => first[row + 1]! - first[row]!,
    *entries(row) {
      const rank = rankAt(contents, row);
      for (let at = first[row]!; at < first[row + 1]!; at++) yield { row, rank, at };
    },
  });
}

function offerRow({ program }: BookContents, { row, rank, at }: RankedOffer): Row {
  const { offers, laterals, basis } = program;
  const { units } = basis.program;
  return [
    rank,
    textAt(laterals, "lateral", row),
    districtName(textAt(laterals, "district", row)),
    textAt(offers, "treatment", at),
    numberAt(offers, "chosen", at) === 1 ? "chosen" : "",
    numberCell(numberAt(offers, "cost", at), "money", units),
    numberAt(offers, "crew_minutes", at),
    toShown(numberAt(offers, "resin_ml", at) / 1000, "volume", units),
    numberCell(numberAt(offers, "present_worth", at), "money", units),
    numberCell(numberAt(offers, "remaining_loss", at), "money", units),
    numberCell(numberAt(offers, "loss_avoided", at), "money", units),
    numberCell(numberAt(offers, "infiltration_removed", at), "flow", units),
    Number.isNaN(numberAt(offers, "life_years", at)) ? "" : numberAt(offers, "life_years", at),
  ];
}

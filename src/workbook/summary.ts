import { treatmentKinds } from "../columns/plan-columns.ts";
import { quantities as measures, toShown } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import type { Totals } from "../season/totals.ts";
import { type BookContents, capital, styleOf } from "./book-contents.ts";
import { type DistrictColumn, districtSheet } from "./district-table.ts";
import { decimalsFormat, HUNDREDTHS, WHOLE } from "./number-format.ts";
import type { SheetModel } from "./sheet-model.ts";

/** Totals by district: laterals by treatment, liner, resin, crew-days, cost. */
export function summarySheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const count = (heading: string, of: DistrictColumn["of"]): DistrictColumn => ({
    heading,
    width: 10,
    format: WHOLE,
    of,
  });
  return districtSheet(
    contents,
    { name: "Summary", title: "Summary by district", notes: [planningNote, priceNote(contents)] },
    [
      count("Laterals", (totals) => totals.laterals),
      ...treatmentKinds.map((kind) => count(capital(kind), (totals) => totals.byTreatment[kind])),
      {
        heading: `Liner in the host (${unitLabel("length", style)})`,
        width: 12,
        format: decimalsFormat(measures.length.decimals[style.units]),
        of: linerLength,
      },
      {
        heading: `Resin (${unitLabel("volume", style)})`,
        width: 11,
        format: HUNDREDTHS,
        of: (totals) => toShown(totals.resinMillilitres / 1000, "volume", style.units),
      },
      count("End seals", (totals) => totals.endSeals),
      {
        heading: "Crew-days",
        width: 10,
        format: HUNDREDTHS,
        of: (totals) => totals.crewMinutes / contents.program.basis.steps.shiftMinutes,
      },
      count("Laterals without a cost", (totals) => totals.unpriced),
      {
        heading: `Cost (${style.currency})`,
        width: 15,
        format: HUNDREDTHS,
        of: (totals) => totals.cost / 100,
      },
    ],
  );
}

export const planningNote =
  "For planning. Local codes, the specification and a licensed engineer govern: they confirm walls, treatments and quantities before work.";

/** Who the prices are from, wherever a cost is shown. */
export function priceNote({ program: { basis } }: Pick<BookContents, "program">): string {
  const { prices, priceSource } = basis;
  return Object.keys(prices).length === 0
    ? "No unit prices are set: nothing has a cost."
    : `Prices: ${priceSource}`;
}

/** Liner of all diameters, connection liners not included. */
const linerLength = ({ linerLengthByDiameter }: Totals): number =>
  [...linerLengthByDiameter.values()].reduce((sum, hundredths) => sum + hundredths, 0) / 100;

import { crewKinds } from "../columns/plan-columns.ts";
import { sizeLabel } from "../plan/bid-lines.ts";
import { toShown } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { millimetres } from "../quantity/si.ts";
import { litresOf } from "../quantity/summed-flow.ts";
import { bidItemKeys } from "../reference/bid-items.ts";
import type { Breakdown } from "../season/breakdown.ts";
import type { Totals } from "../season/totals.ts";
import { type BookContents, capital, styleOf } from "./book-contents.ts";
import { type DistrictColumn, districtSheet } from "./district-table.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { countPartsInMain } from "./parts-in-main.ts";
import type { SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

const whatItHolds = [
  "Loss: present worth of the failures expected over the horizon, nothing done and with the plan done once. Clear water: seasonal mean in the season of high groundwater.",
  "Before and after hold the laterals for which both are known. Costs by item hold the laterals whose items all have a price.",
];

/** Everything a district comes to: liners, crews, money by item, risk and clear water before and after. */
export function breakdownSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const { program: all } = contents.program.totals;
  const { breakdown } = contents;
  const of = new Map<Totals, Breakdown>([
    [all, breakdown.program],
    ...contents.program.totals.districts.map((totals, i): [Totals, Breakdown] => [
      totals,
      breakdown.districts[i]!,
    ]),
  ]);
  // Known of no lateral it is not 0.00: the column is left out, and how many are not known says why.
  const isKnown = {
    loss: breakdown.program.loss.notKnown < all.laterals,
    infiltration: breakdown.program.infiltration.notKnown < all.laterals,
  };
  const money = (heading: string, cents: (own: Breakdown) => number): DistrictColumn => ({
    heading: `${heading} (${style.currency})`,
    width: 15,
    format: HUNDREDTHS,
    of: (totals) => cents(of.get(totals)!) / 100,
  });
  const flow = (heading: string, microlitres: (own: Breakdown) => number): DistrictColumn => ({
    heading: `${heading} (${unitLabel("flow", style)})`,
    width: 12,
    format: HUNDREDTHS,
    of: (totals) => toShown(litresOf(microlitres(of.get(totals)!)), "flow", style.units),
  });
  const count = (heading: string, own: (totals: Totals) => number): DistrictColumn => ({
    heading,
    width: 11,
    format: WHOLE,
    of: own,
  });
  const sorted = (values: ReadonlyMap<number, number>) => [...values.keys()].sort((a, b) => a - b);
  const inMain = countPartsInMain(contents.program);
  const or0 = (value: number | undefined): number => (value === undefined ? 0 : value);
  const columns: readonly DistrictColumn[] = [
    ...sorted(all.linerLengthByDiameter).map(
      (size): DistrictColumn => ({
        heading: `Liner ${sizeLabel(millimetres(size), style.units)} (${unitLabel("length", style)})`,
        width: 11,
        format: HUNDREDTHS,
        of: ({ linerLengthByDiameter }) => or0(linerLengthByDiameter.get(size)) / 100,
      }),
    ),
    ...sorted(all.linersByWall).map((wall) =>
      count(`Liners of ${wall} mm in the lateral`, ({ linersByWall }) => or0(linersByWall.get(wall))),
    ),
    ...sorted(inMain.get(all)!).map((wall) =>
      count(`Parts of ${wall} mm in the main`, (totals) => or0(inMain.get(totals)!.get(wall))),
    ),
    ...crewKinds.map(
      (crew): DistrictColumn => ({
        heading: `Crew-days, ${crew}`,
        width: 12,
        format: HUNDREDTHS,
        of: ({ crewMinutesByCrew }) => crewMinutesByCrew[crew] / contents.program.basis.steps.shiftMinutes,
      }),
    ),
    ...bidItemKeys
      .filter((item) => breakdown.program.costByItem.has(item))
      .map((item) => money(capital(item), ({ costByItem }) => or0(costByItem.get(item)))),
    ...(isKnown.loss
      ? [money("Loss before", ({ loss }) => loss.before), money("Loss after", ({ loss }) => loss.after)]
      : []),
    count("Loss not known", (totals) => of.get(totals)!.loss.notKnown),
    ...(isKnown.infiltration
      ? [
          flow("Clear water before", ({ infiltration }) => infiltration.before),
          flow("Clear water after", ({ infiltration }) => infiltration.after),
        ]
      : []),
    count("Clear water not known", (totals) => of.get(totals)!.infiltration.notKnown),
  ];
  return districtSheet(
    contents,
    { name: "District totals", title: "Totals by district", notes: [priceNote(contents), ...whatItHolds] },
    columns,
  );
}

import { sizeLabel } from "../plan/bid-lines.ts";
import { toShown } from "../quantity/measure.ts";
import { showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { millimetres } from "../quantity/si.ts";
import { cautionNamed } from "../reference/cautions.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { type DistrictColumn, districtSheet } from "./district-table.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { countPartsInMain } from "./parts-in-main.ts";
import type { SheetModel } from "./sheet-model.ts";
import { planningNote } from "./summary.ts";

const onePieces: DistrictColumn = {
  heading: "One-piece liners, each with its part in the main",
  width: 14,
  format: WHOLE,
  of: (totals) => totals.byTreatment["one-piece liner"],
};

/** What the crews need to bring, by district. Apart from bid quantities: nobody is paid by it. */
export function materialsSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const { program } = contents.program.totals;
  const diameters = [...program.linerLengthByDiameter.keys()].sort((a, b) => a - b);
  const walls = [...program.linersByWall.keys()].sort((a, b) => a - b);
  const inMain = countPartsInMain(contents.program);
  const wallsInMain = [...inMain.get(program)!.keys()].sort((a, b) => a - b);
  const columns: readonly DistrictColumn[] = [
    ...diameters.map((diameter) => ({
      heading: `Liner ${sizeLabel(millimetres(diameter), style.units)} (${unitLabel("length", style)})`,
      width: 13,
      format: HUNDREDTHS,
      of: (totals: typeof program) => (totals.linerLengthByDiameter.get(diameter) ?? 0) / 100,
    })),
    ...walls.map((wall) => ({
      heading: `Liners, wall in the lateral ${showQuantity(wall, "wall", style)}`,
      width: 12,
      format: WHOLE,
      of: (totals: typeof program) => totals.linersByWall.get(wall) ?? 0,
    })),
    ...wallsInMain.map((wall) => ({
      heading: `Parts in the main, wall ${showQuantity(wall, "wall", style)}`,
      width: 12,
      format: WHOLE,
      of: (totals: typeof program) => inMain.get(totals)!.get(wall) ?? 0,
    })),
    {
      heading: `Mixed resin (${unitLabel("volume", style)})`,
      width: 13,
      format: HUNDREDTHS,
      of: (totals) => toShown(totals.resinMillilitres / 1000, "volume", style.units),
    },
    { heading: "End seals", width: 10, format: WHOLE, of: (totals) => totals.endSeals },
    { heading: "Connection liners", width: 12, format: WHOLE, of: (totals) => totals.connectionLiners },
    ...(program.byTreatment["one-piece liner"] === 0 ? [] : [onePieces]),
  ];
  const notes = [
    planningNote,
    cautionNamed("field measure").text,
    "Liner length is that installed in the host, by stocked diameter, without run-in and run-out; sections and one-piece liners are in it, connection liners are counted apart. A connection or one-piece liner has a wall in the lateral and one in the main, and is counted by both. Resin is for the cut length, with excess.",
  ];
  return districtSheet(contents, { name: "Materials", title: "Material takeoff", notes }, columns);
}

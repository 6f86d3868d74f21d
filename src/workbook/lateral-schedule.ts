import { partName } from "../bidding/bid.ts";
import { columnOf, headingWithUnit } from "../columns/dictionary.ts";
import type { LateralKey } from "../columns/lateral-columns.ts";
import type { PlanKey } from "../columns/plan-columns.ts";
import { firstOf } from "../quantity/first-of.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { itemNumber } from "./bid-schedule.ts";
import type { BidLateral, BidView } from "./bid-view.ts";
import { printedStyle } from "./book-contents.ts";
import type { Part } from "./long-list.ts";
import { formatOf, numberCell } from "./number-format.ts";
import { lettersOf, sumBelow } from "./references.ts";
import { type Cell, firstRow, rowsOf, type SheetColumn, type SheetModel } from "./sheet-model.ts";

const notesOf = (part: Part<BidLateral>, cleaned: readonly string[]): readonly string[] => [
  "Laterals with paid work, by district and id. An empty cell is not known. Confirm diameter and length in the field.",
  "Wall spec. is the least the specification allows. Wall is what the plan found for the lateral by the criteria on the sheet Basis, rounded up to a stocked wall; Wall in main is the same of a liner's part in the main, which may have to be thicker.",
  ...(cleaned.length === 0
    ? []
    : [
        `Cleaned already, so that no root cutting is asked for or paid there: ${showCount(cleaned.length)} lateral(s): ${firstOf(cleaned, SHOWN)}.`,
      ]),
  ...part.notes,
];

const SHOWN = 12;

/** One row for each lateral with paid work. */
export const lateralScheduleSheets = (view: BidView): readonly SheetModel[] =>
  view.laterals.parts.map((part) => sheetOf(part, view));

function sheetOf(part: Part<BidLateral>, { head, cleaned, alternates }: BidView): SheetModel {
  const divided = alternates.length > 0;
  const columns = columnsIn(printedStyle(head));
  const at = lettersOf(columns);
  const { units } = head;
  const notes = notesOf(part, cleaned);
  const first = firstRow(notes);
  let total = 0;
  // A length that is not known is an empty cell, which adds nothing.
  for (const { hostLength } of part) if (hostLength !== null) total += hostLength;
  const totalShown = numberCell(total, "length", units);
  return {
    name: part.nameOf("Lateral schedule"),
    title: part.nameOf("Lateral schedule"),
    notes,
    columns: [...Object.values(columns), ...(divided ? [{ heading: "Part of the bid", width: 12 }] : [])],
    rows: rowsOf(part, (lateral) => [
      lateral.id,
      lateral.district,
      lateral.location,
      numberCell(lateral.hostDiameter, "diameter", units),
      numberCell(lateral.hostLength, "length", units),
      lateral.hostMaterial,
      numberCell(lateral.coverAtMain, "length", units),
      numberCell(lateral.coverAtHouse, "length", units),
      lateral.surface,
      lateral.treatment,
      lateral.lines.map((line) => itemNumber(line.number)).join(", "),
      numberCell(lateral.specifiedMinimumWall, "wall", units),
      numberCell(lateral.wall, "wall", units),
      numberCell(lateral.wallInMain, "wall", units),
      lateral.crossBore ?? "not known",
      cleanoutWords(lateral),
      ...(divided ? [partName(lateral.part)] : []),
    ]),
    foot: [
      Object.keys(columns).map((key): Cell => {
        if (key === "lateral") return "All";
        if (key !== "host_length" || typeof totalShown !== "number") return null;
        return sumBelow(at.host_length, first, part.length, totalShown);
      }),
    ],
    frozenColumns: 1,
    pagesWide: 1,
    locked: true,
    filtered: true,
  };
}

function columnsIn(style: NumberStyle) {
  const column = (key: LateralKey | PlanKey, width: number): SheetColumn => {
    const declared = columnOf(key);
    const format = formatOf(declared.measure, style);
    return { heading: headingWithUnit(declared, style), width, ...(format === undefined ? {} : { format }) };
  };
  return {
    lateral: { ...column("lateral", 10), wrap: true },
    district: { ...column("district", 13), wrap: true },
    location: { ...column("location", 22), wrap: true },
    host_diameter: column("host_diameter", 8),
    host_length: column("host_length", 8),
    host_material: { ...column("host_material", 12), wrap: true },
    cover_main: column("cover_main", 9),
    cover_house: column("cover_house", 9),
    surface: column("surface", 10),
    treatment: { ...column("treatment", 18), wrap: true },
    items: { heading: "Bid items", width: 15, wrap: true },
    wall_specified: column("wall_specified", 9),
    wall: column("wall", 8),
    wall_main: column("wall_main", 8),
    cross_bore: column("cross_bore", 11),
    cleanout: column("cleanout", 10),
  } as const satisfies Record<string, SheetColumn>;
}

function cleanoutWords({ cleanout }: BidLateral): string {
  if (cleanout === null) return "not known";
  return cleanout ? "yes" : "no";
}

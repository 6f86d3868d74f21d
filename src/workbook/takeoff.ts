import { districtName } from "../quantity/district-name.ts";
import { quantities as measures, toShown } from "../quantity/measure.ts";
import { type NumberStyle, unitLabel } from "../quantity/show-quantity.ts";
import { convert } from "../quantity/units.ts";
import { cautionNamed } from "../reference/cautions.ts";
import { type BookContents, capital, styleOf } from "./book-contents.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import type { Cell, Row, SheetModel } from "./sheet-model.ts";
import {
  NO_LUBRICANT_NOTE,
  RESIN_NOTE,
  ROUNDING_NOTE,
  roundings,
  type TakeoffRow,
  takeoffRows,
} from "./takeoff-rows.ts";

/** What a contractor must buy, by district and for the program. In the planning book only: nobody is paid by it. */
export function takeoffSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const { takeoff } = contents;
  const rows = [...takeoff.districts.flatMap(takeoffRows), ...takeoffRows(takeoff.program)];
  const inAll = takeoffRows(takeoff.program).length;
  return {
    name: "Takeoff",
    title: "Material takeoff: what is used, what is bought for it",
    notes: [cautionNamed("field measure").text, ROUNDING_NOTE, RESIN_NOTE, NO_LUBRICANT_NOTE],
    columns: [
      { heading: "District", width: 16 },
      { heading: "Material", width: 18 },
      { heading: "Kind", width: 44, wrap: true },
      { heading: "Used", width: 12, format: HUNDREDTHS },
      { heading: "Unit", width: 7 },
      { heading: "Bought", width: 9, format: WHOLE },
      { heading: "Of", width: 11 },
      { heading: "Fewest possible", width: 10, format: WHOLE },
      { heading: "Left over", width: 12, format: HUNDREDTHS },
      { heading: "Scrap", width: 10, format: HUNDREDTHS },
    ],
    rows: rows.map((row, i) =>
      takeoffCells(row, i < rows.length - inAll ? districtName(row.district) : "Program", style),
    ),
    foot: roundings(takeoff)
      .filter(({ row, byDistricts }) => row.bought?.count !== byDistricts)
      .map(
        ({ row, byDistricts }): Row => [
          "Districts, each",
          capital(row.material),
          row.variant,
          null,
          null,
          byDistricts,
          row.bought?.what ?? "",
        ],
      ),
    frozenColumns: 1,
    pagesWide: 1,
    locked: false,
    filtered: true,
  };
}

function takeoffCells(row: TakeoffRow, district: string, style: NumberStyle): Row {
  const amount = (value: number | null): Cell =>
    value === null ? null : amountShown(value, row.unit, style);
  return [
    district,
    capital(row.material),
    row.variant,
    amount(row.use),
    takeoffUnit(row.unit, style),
    row.bought?.count ?? null,
    row.bought?.what ?? null,
    row.fewest,
    amount(row.left),
    amount(row.scrap),
  ];
}

const KILO = 1000;
const CM2_PER_M2 = 10_000;

/** A whole number of a takeoff in the unit people of the program see. */
export function amountShown(value: number, unit: TakeoffRow["unit"], { units }: NumberStyle): number {
  switch (unit) {
    case "mm":
      return convert(value / KILO, "m", measures.length[units]);
    case "mL":
      return toShown(value / KILO, "volume", units);
    case "cm2":
      return toShown(value / CM2_PER_M2, "area", units);
    case "g":
      return toShown(value / KILO, "mass", units);
    case "each":
      return value;
    default:
      return unit satisfies never;
  }
}

export function takeoffUnit(unit: TakeoffRow["unit"], style: NumberStyle): string {
  switch (unit) {
    case "mm":
      return unitLabel("length", style);
    case "mL":
      return unitLabel("volume", style);
    case "cm2":
      return unitLabel("area", style);
    case "g":
      return unitLabel("mass", style);
    case "each":
      return "each";
    default:
      return unit satisfies never;
  }
}

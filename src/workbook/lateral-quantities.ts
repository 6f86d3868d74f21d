import type { BidQuantity } from "./bid-view.ts";
import { HUNDREDTHS } from "./number-format.ts";
import { lettersOf, rangeIn } from "./references.ts";
import { firstRow, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";

export const LATERAL_QUANTITIES = "Lateral quantities";

const columns = {
  lateral: { heading: "Lateral", width: 14 },
  district: { heading: "District", width: 18 },
  districtNumber: { heading: "District no.", width: 9, format: "0" },
  item: { heading: "Item", width: 8, format: "0.00" },
  label: { heading: "Bid line", width: 38 },
  unit: { heading: "Unit", width: 10 },
  quantity: { heading: "Quantity", width: 12, format: HUNDREDTHS },
} as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columns);

const notes = [
  "One row for each bid line of each lateral. Quantities on the other sheets are sums over this one.",
];

/** The long list that every bid quantity is summed from. */
export function lateralQuantitiesSheet(quantities: readonly BidQuantity[]): SheetModel {
  return {
    name: LATERAL_QUANTITIES,
    title: "Lateral quantities",
    notes,
    columns: Object.values(columns),
    rows: quantities.map(
      ({ lateral, district, districtNumber, line, hundredths }): Row => [
        lateral,
        district,
        districtNumber,
        line.number,
        line.label,
        line.unit,
        { kind: "number", value: hundredths / 100, format: line.format },
      ],
    ),
    frozenColumns: 1,
    pagesWide: 1,
    portrait: true,
    locked: true,
    filtered: true,
  };
}

/**
 * The sum of a line over the laterals, by item number: numbers are matched exactly, where text would be matched
 * without case, with wildcards, and `01` as 1. Rounded because a sum of decimals is not quite a decimal.
 */
export function sumOfLine(itemCell: string, rows: number): string {
  return `ROUND(SUMIFS(${column("quantity", rows)},${column("item", rows)},${itemCell}),2)`;
}

/** The same for one district. */
export function sumOfLineInDistrict(itemCell: string, district: number, rows: number): string {
  return (
    `ROUND(SUMIFS(${column("quantity", rows)},${column("item", rows)},${itemCell},` +
    `${column("districtNumber", rows)},${district}),2)`
  );
}

const column = (key: keyof typeof columns, rows: number): string =>
  rangeIn(LATERAL_QUANTITIES, at[key], firstRow(notes), rows);

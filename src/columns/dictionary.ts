import { type NumberStyle, unitLabel } from "../quantity/show-quantity.ts";
import type { Column } from "./column.ts";
import { inspectionColumns, type LateralKey, lateralColumns } from "./lateral-columns.ts";
import { type PlanKey, planColumns } from "./plan-columns.ts";

export type ColumnKey = LateralKey | PlanKey;

/** Every column of the lateral sheet, in its standing order. */
export const sheetColumns: readonly Column[] = [...lateralColumns, ...planColumns];

const byKey = new Map<string, Column>(sheetColumns.map((column) => [column.key, column]));
const inspectionByKey = new Map<string, Column>(inspectionColumns.map((column) => [column.key, column]));

/** @throws RangeError when the dictionary has no such column: keys in code are checked by the compiler, keys from users before. */
export function columnOf(key: ColumnKey): Column {
  const found = byKey.get(key);
  if (found === undefined) throw new RangeError(`columnOf: no column ${JSON.stringify(key)}`);
  return found;
}

export const findColumn = (key: string): Column | undefined => byKey.get(key);
export const findInspectionColumn = (key: string): Column | undefined => inspectionByKey.get(key);

/** Columns a person may decide a value for. */
export const decidableColumns: readonly Column[] = sheetColumns.filter((column) => column.decidable === true);

/** Heading with the unit people see: `Length (ft)`, `Cost (USD)`, `Rank`. */
export function headingWithUnit(column: Column, style: NumberStyle): string {
  const unit = unitLabel(column.measure, style);
  return unit === "" ? column.heading : `${column.heading} (${unit})`;
}

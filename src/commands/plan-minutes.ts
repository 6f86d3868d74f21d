import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { numberAt, textAt } from "../sheet/table.ts";

/** The item that pays for a treatment's crew time; what else it pays for has no time of its own. */
const paidBy: Readonly<Partial<Record<TreatmentKind, BidItemKey>>> = {
  "inspect first": "camera inspection",
  "clean and cut roots": "root cutting",
  "sectional liner": "sectional liner",
  "full-length liner": "full-length liner",
  "connection liner": "connection liner",
  "open-cut replacement": "open-cut replacement",
};

/**
 * Crew minutes for one unit of an item, over the laterals of the plan: their minutes without those of a new cleanout,
 * which is an item of its own, over the quantity bid.
 */
export function planMinutes({ laterals, lines, basis }: PlannedProgram): ReadonlyMap<BidItemKey, number> {
  const cleanout = basis.steps.steps["new cleanout"].reduce((sum, step) => sum + step.minutes, 0);
  const minutes = new Map<BidItemKey, number>([["new cleanout", 0]]);
  const quantity = new Map<BidItemKey, number>();
  const itemOf = (row: number) => paidBy[textAt(laterals, "treatment", row) as TreatmentKind];
  for (let row = 0; row < laterals.rows; row++) {
    const item = itemOf(row);
    if (item !== undefined)
      minutes.set(item, (minutes.get(item) ?? 0) + numberAt(laterals, "crew_minutes", row));
  }
  for (let at = 0; at < lines.rows; at++) {
    const item = textAt(lines, "line", at).split(" | ", 1)[0] as BidItemKey;
    const number = numberAt(lines, "hundredths", at) / 100;
    quantity.set(item, (quantity.get(item) ?? 0) + number);
    const paying = itemOf(numberAt(lines, "lateral_row", at));
    if (item !== "new cleanout" || paying === undefined) continue;
    minutes.set(item, minutes.get(item)! + cleanout * number);
    minutes.set(paying, minutes.get(paying)! - cleanout * number);
  }
  return new Map(
    [...minutes].flatMap(([item, sum]) => {
      const bid = quantity.get(item) ?? 0;
      return bid > 0 ? [[item, sum / bid] as const] : [];
    }),
  );
}

import { timeCrew } from "../plan/crew-time.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { WorkKind } from "../reference/works.ts";
import { lateralAt } from "../season/lateral-at.ts";
import type { PlannedProgram } from "../season/planned-program.ts";

/** The item that pays for a work's crew time; what else it pays for has no time of its own. */
const paidBy: Readonly<Record<WorkKind, BidItemKey>> = {
  "inspect first": "camera inspection",
  "clean and cut roots": "root cutting",
  "joint grouting": "joint grouting",
  "sectional liner": "sectional liner",
  "full-length liner": "full-length liner",
  "connection liner": "connection liner",
  "one-piece liner": "one-piece liner",
  "pipe bursting": "pipe bursting",
  "open-cut replacement": "open-cut replacement",
  "new cleanout": "new cleanout",
  "grouting of running infiltration": "grouting of running infiltration",
};

/**
 * Crew minutes for one unit of an item, over the laterals of the plan: the minutes of the works it pays for, each timed
 * alone, over the quantity bid.
 */
export function planMinutes({ tables, basis, laterals }: PlannedProgram): ReadonlyMap<BidItemKey, number> {
  const minutes = new Map<BidItemKey, number>();
  const quantity = new Map<BidItemKey, number>();
  const add = (into: Map<BidItemKey, number>, item: BidItemKey, amount: number) =>
    into.set(item, (into.get(item) ?? 0) + amount);
  for (let row = 0; row < laterals.rows; row++) {
    const { lateral, chosen } = planLateral(lateralAt(tables, row), basis);
    for (const { work, times, pieces, branches } of chosen.works) {
      const timed = (opened: number) =>
        timeCrew([{ work, times, pieces, branches: opened }], lateral.hostLength?.value ?? 0, basis.steps)
          .total;
      const alone = timed(0);
      add(minutes, paidBy[work], alone);
      // Opening branches is paid apart from the liner that closes them.
      if (timed(branches) > alone) add(minutes, "reinstatement", timed(branches) - alone);
    }
    for (const { item, hundredths } of chosen.bidLines) add(quantity, item, hundredths / 100);
  }
  return new Map(
    [...minutes].flatMap(([item, sum]) => {
      const bid = quantity.get(item) ?? 0;
      return bid > 0 ? [[item, sum / bid] as const] : [];
    }),
  );
}

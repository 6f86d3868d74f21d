import { timeCrew } from "../plan/crew-time.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import type { TimedWork } from "../plan/step-minutes.ts";
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
 * Crew minutes for one unit of an item, over the laterals of the plan: the minutes of the works it pays for, over the
 * quantity bid. Works of one lateral share set-ups and pack-ups: what they save together is shared in the proportion of
 * their minutes alone, so that units times quantities add up to the crew time of the plan.
 */
export function planMinutes({ tables, basis, laterals }: PlannedProgram): ReadonlyMap<BidItemKey, number> {
  const minutes = new Map<BidItemKey, number>();
  const quantity = new Map<BidItemKey, number>();
  const add = (into: Map<BidItemKey, number>, item: BidItemKey, amount: number) =>
    into.set(item, (into.get(item) ?? 0) + amount);
  for (let row = 0; row < laterals.rows; row++) {
    const { lateral, chosen } = planLateral(lateralAt(tables, row), basis);
    const timed = (works: readonly TimedWork[]) =>
      timeCrew(works, lateral.hostLength?.value ?? 0, basis.steps).total;
    const parts = chosen.works.flatMap(({ work, times, pieces, branches }) => {
      // Opening branches is paid apart from the liner that closes them.
      const closed = timed([{ work, times, pieces, branches: 0 }]);
      const opened = timed([{ work, times, pieces, branches }]);
      return [
        { item: paidBy[work], alone: closed },
        { item: "reinstatement" as const, alone: opened - closed },
      ];
    });
    const apart = parts.reduce((sum, { alone }) => sum + alone, 0);
    const together = timed(chosen.works);
    for (const { item, alone } of parts) if (alone > 0) add(minutes, item, (alone * together) / apart);
    for (const { item, hundredths } of chosen.bidLines) add(quantity, item, hundredths / 100);
  }
  return new Map(
    [...minutes].flatMap(([item, sum]) => {
      const bid = quantity.get(item) ?? 0;
      return bid > 0 ? [[item, sum / bid] as const] : [];
    }),
  );
}

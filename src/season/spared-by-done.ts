import { failureModes } from "../engineering/failure-probability.ts";
import { type PlannedLateral, planLateral } from "../plan/plan-lateral.ts";
import { lateralAt } from "./lateral-at.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { standingAt } from "./tracking.ts";

/** Money that the work at a lateral spares from when it is done, against leaving the lateral as it was. Not rounded; 0 where it is not known. */
export interface Spared {
  /** Cents of the coming year. */
  readonly annualLoss: number;
  /** Cents of today over the horizon. */
  readonly presentLoss: number;
}

/**
 * What the laterals that are done are spared, each by the treatment it is planned with. The columns of the plan say how they were before
 * their work, as ranking and choice need it; no list keeps chances by mode, so they are planned again.
 */
export const sparedByDone = ({
  laterals,
  tables,
  basis,
}: Pick<PlannedProgram, "laterals" | "tables" | "basis">): readonly Spared[] =>
  Array.from({ length: laterals.rows }, (_, row) => row)
    .filter((row) => standingAt(laterals, row) === "done")
    .map((row) => sparedBy(planLateral(lateralAt(tables, row), basis)));

function sparedBy({
  chosen: { after },
  failure: { money, chances },
}: Pick<PlannedLateral, "chosen" | "failure">): Spared {
  const sparedOf = (mode: (typeof failureModes)[number], cost: number): number =>
    chances[mode].value.best * (1 - after.shares[mode].best) * cost;
  return {
    annualLoss:
      money === null ? 0 : failureModes.reduce((sum, mode) => sum + sparedOf(mode, money.costs[mode]), 0),
    presentLoss: after.money?.avoided.best ?? 0,
  };
}

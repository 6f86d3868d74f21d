import { failureModes } from "../engineering/failure-probability.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { lateralAt } from "./lateral-at.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { standingAt } from "./tracking.ts";

/** What the work at a lateral spares from when it is done, against leaving the lateral as it was. Not rounded; 0 where it is not known. */
export interface Spared {
  /** Cents of the coming year. */
  readonly annualLoss: number;
  /** Cents of today over the horizon. */
  readonly presentLoss: number;
  /** L/s of the season of high groundwater, after what migrates elsewhere. */
  readonly infiltration: number;
}

type Planned = Pick<PlannedProgram, "tables" | "basis">;

/**
 * What a lateral is spared by the treatment it is planned with. The columns of the plan say how it was before its work, as ranking and
 * choice need it; no list keeps chances by mode, so it is planned again.
 */
export function sparedAt({ tables, basis }: Planned, row: number): Spared {
  const { chosen, failure } = planLateral(lateralAt(tables, row), basis);
  const { after } = chosen;
  const { money, chances } = failure;
  const sparedOf = (mode: (typeof failureModes)[number], cost: number): number =>
    chances[mode].value.best * (1 - after.shares[mode].best) * cost;
  return {
    annualLoss:
      money === null ? 0 : failureModes.reduce((sum, mode) => sum + sparedOf(mode, money.costs[mode]), 0),
    presentLoss: after.money?.avoided.best ?? 0,
    infiltration: after.infiltrationRemoved?.best ?? 0,
  };
}

/** The same of every lateral that is done. */
export function sparedByDone(program: Planned & Pick<PlannedProgram, "laterals">): readonly Spared[] {
  const { laterals } = program;
  return Array.from({ length: laterals.rows }, (_, row) => row)
    .filter((row) => standingAt(laterals, row) === "done")
    .map((row) => sparedAt(program, row));
}

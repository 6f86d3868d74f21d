import { type TreatmentKind, treatmentKinds } from "../../columns/plan-columns.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { numberAt, textAt } from "../../sheet/table.ts";

/** What one treatment comes to over the program. */
export interface TreatmentMoney {
  readonly treatment: TreatmentKind;
  readonly laterals: number;
  /** Cents; laterals with an item without a price add nothing. */
  readonly cost: number;
  /** How many those are. */
  readonly unpriced: number;
}

/** The treatments of the plan, the dearest first; costs add up to the program's. */
export function moneyByTreatment({ laterals, totals }: PlannedProgram): readonly TreatmentMoney[] {
  const cost = new Map<string, number>();
  const unpriced = new Map<string, number>();
  const add = (to: Map<string, number>, treatment: string, amount: number) =>
    void to.set(treatment, (to.get(treatment) ?? 0) + amount);
  for (let row = 0; row < laterals.rows; row++) {
    const own = numberAt(laterals, "cost", row);
    const treatment = textAt(laterals, "treatment", row);
    if (Number.isNaN(own)) add(unpriced, treatment, 1);
    else add(cost, treatment, own);
  }
  return treatmentKinds
    .map((treatment) => ({
      treatment,
      laterals: totals.program.byTreatment[treatment],
      cost: cost.get(treatment) ?? 0,
      unpriced: unpriced.get(treatment) ?? 0,
    }))
    .filter((each) => each.laterals > 0)
    .sort((a, b) => b.cost - a.cost || b.laterals - a.laterals || (a.treatment < b.treatment ? -1 : 1));
}

import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import type { Verdict } from "./verdicts.ts";

export interface Choice {
  readonly treatment: TreatmentKind;
  readonly by: "plan" | "decision";
  readonly reasons: readonly Reason[];
}

/**
 * The first eligible treatment in the program's order, unless a person decided another eligible one. A decision
 * for a treatment that a rule forbids is not followed: it is said, and the plan's own choice stands.
 */
export function chooseTreatment(
  lateral: Lateral,
  verdicts: readonly Verdict[],
  order: readonly TreatmentKind[],
): Choice {
  const decided = lateral.decided.treatment;
  const reasons: Reason[] = [];
  if (decided !== null) {
    const verdict = verdicts.find((candidate) => candidate.treatment === decided.value);
    if (verdict?.eligible) {
      return {
        treatment: decided.value,
        by: "decision",
        reasons: [{ code: "decided", because: decided.because }],
      };
    }
    reasons.push({ code: "decision not allowed", treatment: decided.value });
  }
  for (const treatment of order) {
    const verdict = verdicts.find((candidate) => candidate.treatment === treatment);
    if (verdict?.eligible) return { treatment, by: "plan", reasons: [...reasons, ...verdict.reasons] };
  }
  throw new RangeError(`chooseTreatment: no eligible treatment for ${lateral.id}`);
}

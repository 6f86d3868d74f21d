import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Lateral } from "./lateral.ts";
import type { Life } from "./life.ts";
import type { Reason } from "./reason.ts";
import type { Verdict } from "./verdicts.ts";

export interface Choice {
  readonly treatment: TreatmentKind;
  readonly by: "plan" | "decision";
  readonly reasons: readonly Reason[];
}

/**
 * The first eligible treatment in the program's order, or the one of least present worth where the program asks for
 * that and every eligible one has it, unless a person decided another eligible one. A decision
 * for a treatment that a rule forbids is not followed: it is said, and the plan's own choice stands.
 */
export function chooseTreatment(
  lateral: Lateral,
  verdicts: readonly Verdict[],
  offers: readonly Worth[],
  order: readonly TreatmentKind[],
  choose: "order" | "present worth",
): Choice {
  const decided = lateral.decided.treatment;
  const reasons: Reason[] = [];
  if (decided !== null) {
    const verdict = verdicts.find((candidate) => candidate.treatment === decided.value);
    if (verdict?.eligible) {
      return {
        treatment: decided.value,
        by: "decision",
        reasons: [
          { code: "decided", because: decided.because },
          ...(verdict.againstRules ? verdict.reasons : []),
        ],
      };
    }
    reasons.push({ code: "decision not allowed", treatment: decided.value });
  }
  const least = choose === "present worth" ? leastPresentWorth(verdicts, offers) : null;
  if (least !== null) {
    return { treatment: least.treatment, by: "plan", reasons: [...reasons, least.reason] };
  }
  for (const treatment of order) {
    const verdict = verdicts.find((candidate) => candidate.treatment === treatment);
    if (verdict?.eligible) return { treatment, by: "plan", reasons: [...reasons, ...verdict.reasons] };
  }
  throw new RangeError(`chooseTreatment: no eligible treatment for ${lateral.id}`);
}

interface Worth {
  readonly treatment: TreatmentKind;
  readonly life: Life;
}

/** The offer of least present worth; null when one of them has none: something to look at first cannot be outbid. */
function leastPresentWorth(verdicts: readonly Verdict[], offers: readonly Worth[]) {
  let least: { readonly treatment: TreatmentKind; readonly worth: number } | null = null;
  let runnerUp: number | null = null;
  for (const { eligible, treatment } of verdicts) {
    if (!eligible) continue;
    const worth = offers.find((offer) => offer.treatment === treatment)?.life.presentWorth ?? null;
    if (worth === null) return null;
    if (least === null || worth < least.worth) {
      runnerUp = least?.worth ?? null;
      least = { treatment, worth };
    } else if (runnerUp === null || worth < runnerUp) runnerUp = worth;
  }
  if (least === null) return null;
  const reason: Reason = { code: "least present worth", worth: least.worth, runnerUp };
  return { treatment: least.treatment, reason };
}

import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { AfterWork } from "./after-work.ts";
import type { Cost } from "./cost.ts";
import type { Lateral } from "./lateral.ts";
import type { Life } from "./life.ts";
import type { Reason } from "./reason.ts";
import type { Verdict } from "./verdicts.ts";

export interface Choice {
  readonly treatment: TreatmentKind;
  readonly by: "plan" | "decision";
  readonly reasons: readonly Reason[];
  /** What the plan itself chooses; null where nothing is allowed but by the decision. */
  readonly own: TreatmentKind | null;
  /** The next best of those the rules allow, by the same policy; `more` is what it comes to over the horizon beyond the chosen one, cents. */
  readonly runnerUp: { readonly treatment: TreatmentKind; readonly more: number | null } | null;
  /** What a decision costs over the horizon beyond the plan's own choice, cents; 0 where they agree, null where either is not known. */
  readonly decisionCost: number | null;
}

/** An offer as far as a choice looks at it. */
export interface Worth {
  readonly treatment: TreatmentKind;
  readonly cost: Pick<Cost, "total">;
  readonly life: Life;
  readonly after: AfterWork;
}

/**
 * The plan's own choice among what the rules allow, and a person's decision over it. By the program's order, or by the least present worth over
 * the horizon of work, renewals and the failures still expected, where every offer has one; what must be looked at first cannot be outbid. A
 * decision for a treatment that is forbidden is not followed: it is said, and the plan's own choice stands.
 */
export function chooseTreatment(
  lateral: Lateral,
  verdicts: readonly Verdict[],
  offers: readonly Worth[],
  order: readonly TreatmentKind[],
  choose: "order" | "present worth",
): Choice {
  const offerOf = (treatment: TreatmentKind) => offers.find((offer) => offer.treatment === treatment) ?? null;
  // Few are: looked for among all verdicts in turn, they took three times as long.
  const eligible = verdicts.filter(({ eligible, againstRules }) => eligible && !againstRules);
  const allowed: Candidate[] = [];
  for (const treatment of order) {
    const verdict = eligible.find((each) => each.treatment === treatment);
    if (verdict !== undefined) allowed.push(new Candidate(verdict, offerOf(treatment)));
  }
  const [own, next] = choose === "order" ? allowed : byWorth(allowed);
  const ownReasons = (): readonly Reason[] =>
    own === undefined
      ? []
      : [
          ...(choose === "present worth" ? [whyOwn(allowed, own, next, own.offer)] : []),
          ...own.verdict.reasons,
        ];
  const runnerUp =
    own === undefined || next === undefined
      ? null
      : { treatment: next.treatment, more: differenceOf(next.worth, own.worth) };

  const decided = lateral.decided.treatment;
  if (decided !== null) {
    const verdict = verdicts.find(({ treatment }) => treatment === decided.value);
    if (verdict?.eligible) {
      const theirs = offerOf(decided.value);
      const worth = differenceOf(totalWorth(theirs), own?.worth ?? null);
      const overruled: readonly Reason[] =
        own === undefined || own.treatment === decided.value
          ? []
          : [
              {
                code: "decided against own choice",
                own: own.treatment,
                cost: differenceOf(theirs?.cost.total ?? null, offerOf(own.treatment)?.cost.total ?? null),
                worth,
              },
            ];
      const broken = () => (verdict.againstRules ? verdict.reasons : []);
      return new Chosen(
        {
          treatment: decided.value,
          by: "decision",
          own: own?.treatment ?? null,
          runnerUp,
          decisionCost: worth,
        },
        () => [{ code: "decided", because: decided.because }, ...broken(), ...overruled],
      );
    }
  }
  if (own === undefined) throw new RangeError(`chooseTreatment: no eligible treatment for ${lateral.id}`);
  return new Chosen(
    { treatment: own.treatment, by: "plan", own: own.treatment, runnerUp, decisionCost: 0 },
    decided === null
      ? ownReasons
      : () => [{ code: "decision not allowed", treatment: decided.value }, ...ownReasons()],
  );
}

/** A choice whose reasons are put together when somebody asks. */
class Chosen implements Choice {
  readonly treatment: TreatmentKind;
  readonly by: Choice["by"];
  readonly own: TreatmentKind | null;
  readonly runnerUp: Choice["runnerUp"];
  readonly decisionCost: number | null;
  readonly #reasons: () => readonly Reason[];

  constructor(made: Omit<Choice, "reasons">, reasons: () => readonly Reason[]) {
    this.treatment = made.treatment;
    this.by = made.by;
    this.own = made.own;
    this.runnerUp = made.runnerUp;
    this.decisionCost = made.decisionCost;
    this.#reasons = reasons;
  }

  get reasons(): readonly Reason[] {
    return this.#reasons();
  }
}

/** What the rules allow; its worth is worked out where the policy, or the runner-up's, asks for it. */
class Candidate {
  readonly treatment: TreatmentKind;
  readonly verdict: Verdict;
  readonly offer: Worth | null;
  #worth: number | null | undefined = undefined;

  constructor(verdict: Verdict, offer: Worth | null) {
    this.treatment = verdict.treatment;
    this.verdict = verdict;
    this.offer = offer;
  }

  get worth(): number | null {
    if (this.#worth === undefined) this.#worth = totalWorth(this.offer);
    return this.#worth;
  }
}

/** Whole cents of work and renewals and of the failures still expected; without the failures where they have no cost in this currency. */
function totalWorth(offer: Worth | null): number | null {
  if (offer === null || offer.life.presentWorth === null) return null;
  return offer.life.presentWorth + Math.round(offer.after.money?.remaining.best ?? 0);
}

/** Least worth first, ties in the program's order; the order itself where one must be looked at first or has no worth. */
function byWorth(allowed: readonly Candidate[]): readonly Candidate[] {
  if (!isComparable(allowed)) return allowed;
  return allowed.toSorted(
    (a, b) => (a.worth ?? 0) - (b.worth ?? 0) || allowed.indexOf(a) - allowed.indexOf(b),
  );
}

const isComparable = (allowed: readonly Candidate[]): boolean =>
  allowed.every(({ treatment, worth }) => worth !== null && treatment !== "inspect first");

function whyOwn(
  allowed: readonly Candidate[],
  own: Candidate,
  next: Candidate | undefined,
  offer: Worth | null,
): Reason {
  if (!isComparable(allowed) || own.worth === null)
    return {
      code: "order decides",
      because: own.treatment === "inspect first" ? "look first" : "not priced",
    };
  return {
    code: "least total worth",
    worth: own.worth,
    loss: offer?.after.money === null || offer === null ? null : Math.round(offer.after.money.remaining.best),
    runnerUp:
      next === undefined || next.worth === null ? null : { treatment: next.treatment, worth: next.worth },
  };
}

const differenceOf = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? null : a - b;

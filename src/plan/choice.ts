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
  offered: readonly Verdict[],
  offers: readonly Worth[],
  order: readonly TreatmentKind[],
  choose: "order" | "present worth",
): Choice {
  const weighing = new Weighing(offered, offers, order, choose);
  const decided = lateral.decided.treatment;
  if (decided !== null) {
    const verdict = offered.find(({ treatment }) => treatment === decided.value);
    if (verdict !== undefined) {
      const [own, next] = weighing.ranked;
      return followDecision(lateral, decided, verdict, offerOf(decided.value, offers), own, next);
    }
  }
  const own = weighing.first;
  if (own === undefined) throw new RangeError(`chooseTreatment: no eligible treatment for ${lateral.id}`);
  return new OwnChoice(lateral, own, weighing, decided?.value ?? null);
}

function followDecision(
  lateral: Lateral,
  decided: NonNullable<Lateral["decided"]["treatment"]>,
  verdict: Verdict,
  theirs: Worth | null,
  own: Candidate | undefined,
  next: Candidate | undefined,
): Choice {
  const worth = differenceOf(totalWorth(theirs), own?.worth ?? null);
  const overruled: readonly Reason[] =
    own === undefined || own.treatment === decided.value
      ? []
      : [
          {
            code: "decided against own choice",
            own: own.treatment,
            cost: differenceOf(theirs?.cost.total ?? null, own.offer?.cost.total ?? null),
            worth,
          },
        ];
  return {
    treatment: decided.value,
    by: "decision",
    own: own?.treatment ?? null,
    runnerUp: own === undefined ? null : runnerUpTo(own, next),
    decisionCost: worth,
    reasons: [
      ...emergenciesOf(lateral),
      { code: "decided", because: decided.because },
      ...(verdict.againstRules ? verdict.reasons : []),
      ...overruled,
    ],
  };
}

const runnerUpTo = (own: Candidate, next: Candidate | undefined): Choice["runnerUp"] =>
  next === undefined ? null : { treatment: next.treatment, more: differenceOf(next.worth, own.worth) };

/** What the rules allow, weighed as far as somebody asks: by the program's order the first is found without a look at the others' worth. */
class Weighing {
  readonly choose: "order" | "present worth";
  readonly #offered: readonly Verdict[];
  readonly #offers: readonly Worth[];
  readonly #order: readonly TreatmentKind[];
  #allowed: readonly Candidate[] | null = null;

  constructor(
    offered: readonly Verdict[],
    offers: readonly Worth[],
    order: readonly TreatmentKind[],
    choose: "order" | "present worth",
  ) {
    this.choose = choose;
    this.#offered = offered;
    this.#offers = offers;
    this.#order = order;
  }

  /** The best of them; undefined where nothing is allowed. */
  get first(): TreatmentKind | undefined {
    if (this.choose !== "order") return this.ranked[0]?.treatment;
    let first: TreatmentKind | undefined;
    for (const { treatment, againstRules } of this.#offered)
      if (!againstRules && (first === undefined || this.#place(treatment) < this.#place(first)))
        first = treatment;
    return first;
  }

  /** In the program's order. */
  get allowed(): readonly Candidate[] {
    this.#allowed ??= this.#offered
      .filter(({ againstRules }) => !againstRules)
      .map((verdict) => new Candidate(verdict, offerOf(verdict.treatment, this.#offers)))
      .sort((a, b) => this.#place(a.treatment) - this.#place(b.treatment));
    return this.#allowed;
  }

  /** The best first. */
  get ranked(): readonly Candidate[] {
    return this.choose === "order" ? this.allowed : byWorth(this.allowed);
  }

  #place(treatment: TreatmentKind): number {
    return this.#order.indexOf(treatment);
  }
}

function offerOf(treatment: TreatmentKind, offers: readonly Worth[]): Worth | null {
  for (const offer of offers) if (offer.treatment === treatment) return offer;
  return null;
}

/** The plan's own choice: its runner-up and its reasons are put together when somebody asks. */
class OwnChoice implements Choice {
  readonly treatment: TreatmentKind;
  readonly by = "plan";
  readonly decisionCost = 0;
  readonly #lateral: Lateral;
  readonly #weighing: Weighing;
  /** A decision that is forbidden. */
  readonly #refused: TreatmentKind | null;

  constructor(lateral: Lateral, own: TreatmentKind, weighing: Weighing, refused: TreatmentKind | null) {
    this.treatment = own;
    this.#lateral = lateral;
    this.#weighing = weighing;
    this.#refused = refused;
  }

  get own(): TreatmentKind {
    return this.treatment;
  }

  get runnerUp(): Choice["runnerUp"] {
    const [own, next] = this.#weighing.ranked;
    return own === undefined ? null : runnerUpTo(own, next);
  }

  get reasons(): readonly Reason[] {
    const refused: readonly Reason[] =
      this.#refused === null ? [] : [{ code: "decision not allowed", treatment: this.#refused }];
    return [...emergenciesOf(this.#lateral), ...refused, ...whyOwn(this.#weighing)];
  }
}

/** What cannot wait for the season, whatever is chosen: a gas line through a sewer is the utility's to make safe, and first. */
const emergenciesOf = ({ crossBore }: Lateral): readonly Reason[] =>
  crossBore?.value === "found" ? [{ code: "cross-bore found" }] : [];

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
export function totalWorth(offer: Worth | null): number | null {
  if (offer === null || offer.life.presentWorth === null) return null;
  return offer.life.presentWorth + Math.round(offer.after.money?.remaining.best ?? 0);
}

/** Least worth first, ties in the program's order; the order itself where one must be looked at first or has no worth. */
function byWorth(allowed: readonly Candidate[]): readonly Candidate[] {
  if (allowed.length < 2 || !isComparable(allowed)) return allowed;
  return allowed.toSorted(
    (a, b) => (a.worth ?? 0) - (b.worth ?? 0) || allowed.indexOf(a) - allowed.indexOf(b),
  );
}

/** Whether what is allowed can be weighed against each other: each has a worth, and none must be looked at first. */
export const isComparable = (allowed: readonly Pick<Candidate, "treatment" | "worth">[]): boolean =>
  allowed.every(({ treatment, worth }) => worth !== null && treatment !== "inspect first");

function whyOwn({ allowed, ranked, choose }: Weighing): readonly Reason[] {
  const [own, next] = ranked;
  if (own === undefined) return [];
  const { reasons } = own.verdict;
  return choose === "present worth" ? [whyLeast(allowed, own, next), ...reasons] : reasons;
}

function whyLeast(allowed: readonly Candidate[], own: Candidate, next: Candidate | undefined): Reason {
  if (!isComparable(allowed) || own.worth === null)
    return {
      code: "order decides",
      because: own.treatment === "inspect first" ? "look first" : "not priced",
    };
  const money = own.offer?.after.money ?? null;
  return {
    code: "least total worth",
    worth: own.worth,
    loss: money === null ? null : Math.round(money.remaining.best),
    runnerUp:
      next === undefined || next.worth === null ? null : { treatment: next.treatment, worth: next.worth },
  };
}

const differenceOf = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? null : a - b;

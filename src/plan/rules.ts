import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Rule } from "../reference/rule-table.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Reason } from "./reason.ts";
import type { ReadColumn, ReadValue } from "./recipe.ts";

/** A rule with its formula compiled: 1 yes, 0 no, NaN not known. */
export interface CompiledRule {
  readonly rule: Rule;
  /** What the formula and the wording read. */
  readonly reads: readonly ReadColumn[];
  readonly evaluate: (read: ReadValue) => number;
}

/** All rules, with the places of those about each treatment. */
export interface RuleBook {
  readonly rules: readonly CompiledRule[];
  readonly about: Readonly<
    Record<TreatmentKind, Readonly<Record<"asks" | "refuses" | "to", readonly number[]>>>
  >;
}

export function bindRules(rules: readonly CompiledRule[]): RuleBook {
  const places = (treatment: TreatmentKind, list: "asks" | "refuses" | "to") =>
    rules.flatMap(({ rule }, i) => (rule[list]?.includes(treatment) ? [i] : []));
  const about = treatmentKinds.map((treatment) => [
    treatment,
    {
      asks: places(treatment, "asks"),
      refuses: places(treatment, "refuses"),
      to: places(treatment, "to"),
    },
  ]);
  return { rules, about: Object.fromEntries(about) };
}

/** What the rules say of one treatment. */
export interface RuleVerdict {
  /** Why it is offered. */
  readonly because: readonly Reason[];
  readonly against: readonly Reason[];
  /** Whether one of those against is one that no decision goes against. */
  readonly forbidden: boolean;
}

/** A work to do before the treatment's own. */
export interface AddedWork {
  readonly work: WorkKind;
  readonly because: Reason;
}

/** The answers of every rule for one lateral, worked out once. */
export interface RuleAnswers {
  readonly verdictOn: (treatment: TreatmentKind) => RuleVerdict;
  readonly addedTo: (treatment: TreatmentKind) => readonly AddedWork[];
}

/**
 * Asks every rule of one lateral. Unknown is on the safe side: a rule that asks for a treatment must be a known yes; one that refuses, or adds a
 * preparatory work, counts unless it is a known no.
 */
export function answerRules({ rules, about }: RuleBook, read: ReadValue): RuleAnswers {
  const answers = Float64Array.from(rules, ({ evaluate }) => evaluate(read));
  const reason = (i: number): Reason => reasonOf(rules[i]!, answers[i]!, read);
  const counts = (i: number): boolean => answers[i] !== 0;
  return {
    verdictOn: (treatment) => {
      const { asks, refuses } = about[treatment];
      const met = asks.filter((i) => answers[i] === 1);
      const refusing = refuses.filter(counts);
      // Of several rules that could have asked for it, the first says what was missing.
      const unasked = met.length === 0 ? asks.slice(0, 1).map(reason) : [];
      return {
        because: met.map(reason),
        against: [...refusing.map(reason), ...unasked],
        forbidden: refusing.some((i) => rules[i]!.rule.kind !== "preference"),
      };
    },
    addedTo: (treatment) =>
      about[treatment].to.filter(counts).map((i) => ({ work: rules[i]!.rule.adds!, because: reason(i) })),
  };
}

/** Its values are read when somebody asks for them: nearly all reasons of a plan are never shown. */
function reasonOf({ rule, reads }: CompiledRule, answer: number, read: ReadValue): Reason {
  const text = Number.isNaN(answer)
    ? (rule.unknown ?? null)
    : answer === 1
      ? rule.because
      : (rule.otherwise ?? "does not ask for it");
  return {
    code: "rule",
    rule: rule.name,
    text,
    get inputs() {
      return reads.map((column) => ({ ...column, value: read(column.key) }));
    },
  };
}

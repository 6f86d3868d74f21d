import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Rule } from "../reference/rule-table.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Reason } from "./reason.ts";
import type { ReadColumn } from "./recipe.ts";
import { type FactInputs, factReader } from "./rule-facts.ts";

/** A rule with what its formula and its wording read. */
export interface ReadRule {
  readonly rule: Rule;
  readonly reads: readonly ReadColumn[];
}

/** All rules, and their formulas compiled to one function over values read beforehand (formula/compile.ts). */
export interface CompiledRules {
  readonly rules: readonly ReadRule[];
  readonly together: {
    readonly numbers: readonly string[];
    /** Is it this text (1, 0, NaN where it is missing), or with null, is it there at all. */
    readonly tests: readonly { readonly key: string; readonly text: string | null }[];
    /** Of each rule: 1 yes, 0 no, NaN not known. */
    readonly answer: (numbers: Float64Array, tested: Float64Array, out: Float64Array) => void;
  };
}

/** All rules, with the places of those about each treatment. */
export interface RuleBook {
  readonly rules: readonly ReadRule[];
  readonly about: Readonly<
    Record<TreatmentKind, Readonly<Record<"asks" | "refuses" | "to", readonly number[]>>>
  >;
  /** The answer of each rule for one lateral. The list is one for all laterals: it holds until the next one is asked about. */
  readonly answersFor: (facts: FactInputs) => Float64Array;
}

export function bindRules({ rules, together }: CompiledRules): RuleBook {
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
  return { rules, about: Object.fromEntries(about), answersFor: bindAnswers(rules.length, together) };
}

function bindAnswers(rules: number, { numbers, tests, answer }: CompiledRules["together"]) {
  const numberReaders = numbers.map(factReader);
  const textReaders = tests.map(({ key, text }) => ({ read: factReader(key), text }));
  const read = new Float64Array(numbers.length);
  const tested = new Float64Array(tests.length);
  const answers = new Float64Array(rules);
  return (facts: FactInputs): Float64Array => {
    for (let j = 0; j < read.length; j++) read[j] = numberReaders[j]!(facts) as number;
    for (let j = 0; j < tested.length; j++) {
      const { read: readText, text } = textReaders[j]!;
      const value = readText(facts);
      if (text === null) tested[j] = value === "" ? 0 : 1;
      else tested[j] = value === "" ? Number.NaN : value === text ? 1 : 0;
    }
    answer(read, tested, answers);
    return answers;
  };
}

/** What the rules say of one treatment. */
export interface RuleVerdict {
  /** Whether a rule refuses it, or none of those that could have asked for it does. */
  readonly against: boolean;
  /** Whether one of those against is one that no decision goes against. */
  readonly forbidden: boolean;
  /** Places of the rules that add a work to do before its own. */
  readonly adding: readonly number[];
}

/**
 * What the answers say of one treatment. Unknown is on the safe side: a rule that asks for a treatment must be a known yes; one that refuses, or
 * adds a preparatory work, counts unless it is a known no.
 */
export function verdictOn(
  { rules, about }: RuleBook,
  treatment: TreatmentKind,
  answers: Float64Array,
): RuleVerdict {
  const { asks, refuses, to } = about[treatment];
  let against = asks.length > 0;
  for (const i of asks) if (answers[i] === 1) against = false;
  let forbidden = false;
  for (const i of refuses) {
    if (answers[i] === 0) continue;
    against = true;
    forbidden ||= rules[i]!.rule.kind !== "preference";
  }
  let adding: number[] | null = null;
  for (const i of to) {
    if (answers[i] === 0) continue;
    adding ??= [];
    adding.push(i);
  }
  return { against, forbidden, adding: adding ?? NONE };
}

const NONE: readonly number[] = [];

/** A work to do before the treatment's own. */
export interface AddedWork {
  readonly work: WorkKind;
  readonly because: Reason;
}

/** The rules behind a verdict in words, made when somebody asks: nearly all reasons of a plan are never shown. */
export interface RuleReasons {
  /** Why it is offered. */
  readonly because: readonly Reason[];
  readonly against: readonly Reason[];
}

/** The work that a rule adds. Its reason is put together when somebody asks: for every lateral that took a sixteenth of the plan's time. */
export function addedBy(book: RuleBook, i: number, facts: FactInputs): AddedWork {
  const added = book.rules[i]!;
  return new LateAddedWork(added.rule.adds!, () => reasonOf(added, book.answersFor(facts)[i]!, facts));
}

class LateAddedWork implements AddedWork {
  readonly work: WorkKind;
  readonly #because: () => Reason;

  constructor(work: WorkKind, because: () => Reason) {
    this.work = work;
    this.#because = because;
  }

  get because(): Reason {
    return this.#because();
  }
}

export function reasonsOn(book: RuleBook, treatment: TreatmentKind, facts: FactInputs): RuleReasons {
  const { asks, refuses } = book.about[treatment];
  const answers = book.answersFor(facts);
  const reason = (i: number): Reason => reasonOf(book.rules[i]!, answers[i]!, facts);
  const counts = (i: number): boolean => answers[i] !== 0;
  const met = asks.filter((i) => answers[i] === 1);
  // Of several rules that could have asked for it, the first says what was missing.
  const unasked = met.length === 0 ? asks.slice(0, 1) : [];
  return {
    because: met.map(reason),
    against: [...refuses.filter(counts), ...unasked].map(reason),
  };
}

function reasonOf({ rule, reads }: ReadRule, answer: number, facts: FactInputs): Reason {
  const text = Number.isNaN(answer)
    ? (rule.unknown ?? null)
    : answer === 1
      ? rule.because
      : (rule.otherwise ?? "does not ask for it");
  return {
    code: "rule",
    rule: rule.name,
    text,
    inputs: reads.map((column) => ({ ...column, value: factReader(column.key)(facts) })),
  };
}

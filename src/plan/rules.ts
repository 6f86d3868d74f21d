import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Rule } from "../reference/rule-table.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import { readInLine } from "./read-in-line.ts";
import type { Reason } from "./reason.ts";
import type { ReadColumn } from "./recipe.ts";
import {
  type FactInputs,
  type FactReader,
  factReader,
  observationsThatCount,
  readFact,
} from "./rule-facts.ts";

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
  /** What the rules say of one lateral. It is one record for all laterals: it holds until the next one is asked about. */
  readonly ask: (facts: FactInputs) => RulesSaid;
}

/**
 * What the rules say of one lateral, as sets of treatments (see {@link treatmentBit}). Unknown is on the safe side: a rule that asks for a
 * treatment must be a known yes; one that refuses, or adds a preparatory work, counts unless it is a known no.
 */
export interface RulesSaid {
  /** The answer of each rule: 1 yes, 0 no, NaN not known. */
  readonly answers: Float64Array;
  /** A rule refuses it, or none of those that could have asked for it does. */
  against: number;
  /** A rule that no decision goes against refuses it. */
  forbidden: number;
  /** A rule adds a work to do before its own. */
  adding: number;
}

/** A set of treatments is a whole number, with a bit for each in the order of `treatmentKinds`. */
export const treatmentBit = (treatment: TreatmentKind): number => 1 << treatmentKinds.indexOf(treatment);

const setOf = (treatments: readonly TreatmentKind[] | undefined): number =>
  (treatments ?? []).reduce((set, treatment) => set | treatmentBit(treatment), 0);

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
  return { rules, about: Object.fromEntries(about), ask: bindQuestion(rules, together) };
}

/**
 * Few rules of the sixty say anything of a lateral, so they are asked what they are about, in whole numbers: each of thirteen treatments
 * asked which rules are about it took a twelfth of the plan's time.
 */
function bindQuestion(rules: readonly ReadRule[], { numbers, tests, answer }: CompiledRules["together"]) {
  const read = new Float64Array(numbers.length);
  const tested = new Float64Array(tests.length);
  const readNumbers = bindNumbers(numbers, read);
  const testTexts = bindTests(tests, tested);
  const gather = gatherInLine(rules);
  const said: RulesSaid = { answers: new Float64Array(rules.length), against: 0, forbidden: 0, adding: 0 };
  for (let time = 0; time < REHEARSALS; time++) {
    rehearse(read, time);
    rehearse(tested, time + 1);
    answer(read, tested, said.answers);
  }
  return (facts: FactInputs): RulesSaid => {
    readNumbers(facts);
    testTexts(facts);
    answer(read, tested, said.answers);
    gather(said);
    return said;
  };
}

/**
 * Before the first lateral the formulas are asked of all sorts of values, which takes a millisecond: what the engine compiles then knows every
 * comparison. Met one by one in rare laterals, each made it compile the sixty rules again, up to five times and 0.03 s each.
 */
const REHEARSALS = 100;
const ALL_SORTS = [Number.NaN, 0, 1, 2.5, 5, 40.5, 1000, 1e6] as const;

function rehearse(values: Float64Array, time: number): void {
  for (let at = 0; at < values.length; at++)
    values[at] = ALL_SORTS[(time * (at + 3) + (at >> 1)) % ALL_SORTS.length]!;
}

/** Makes sets of the answers, by code in which each rule has a line with its own sets: a loop over them was 0.13 s of processor of a million laterals. */
function gatherInLine(rules: readonly ReadRule[]): (said: RulesSaid) => void {
  const sets = rules.map(({ rule }) => ({
    asked: setOf(rule.asks),
    refused: setOf(rule.refuses),
    forbidden: rule.kind === "preference" ? 0 : setOf(rule.refuses),
    adding: setOf(rule.to),
  }));
  const mustBeAsked = sets.reduce((all, { asked }) => all | asked, 0);
  const lines = sets.flatMap(({ asked, ...unlessNo }, i) => {
    const adds = Object.entries(unlessNo).flatMap(([name, set]) => (set === 0 ? [] : `${name} |= ${set};`));
    return [
      ...(adds.length === 0 ? [] : [`if (answers[${i}] !== 0) { ${adds.join(" ")} }`]),
      ...(asked === 0 ? [] : [`if (answers[${i}] === 1) asked |= ${asked};`]),
    ];
  });
  return new Function(
    "said",
    [
      "const { answers } = said;",
      "let asked = 0, refused = 0, forbidden = 0, adding = 0;",
      ...lines,
      `said.against = refused | (${mustBeAsked} & ~asked);`,
      "said.forbidden = forbidden;",
      "said.adding = adding;",
    ].join("\n"),
  ) as (said: RulesSaid) => void;
}

/** What rules ask for, by what it is read from: each reader is called with what it reads. */
function bySource<Value extends number | string>(keys: readonly string[]) {
  const readers = keys.map((key, at) => ({ at, ...factReader(key) }));
  const from = <From extends FactReader["from"]>(source: From) =>
    readers.filter((each) => each.from === source) as ({ at: number } & Extract<
      FactReader,
      { from: From }
    >)[];
  return {
    program: readInLine<FactInputs, Value>(from("program")),
    observations: readInLine<FactInputs, Value>(from("observations")),
    effluent: readInLine<FactInputs, Value>(from("effluent")),
    lateral: readInLine<FactInputs, Value>(from("lateral")),
    condition: readInLine<Condition, Value>(from("condition")),
    city: readInLine<Lateral, Value>(from("city")),
  };
}

/** Reads the numbers that rules name: those of the program once for all its laterals, those of observations where there are any. */
function bindNumbers(keys: readonly string[], into: Float64Array) {
  const read = bySource<number>(keys);
  let basis: FactInputs["basis"] | null = null;
  let thresholds: FactInputs["thresholds"] | null = null;
  let areMissing = false;
  return (facts: FactInputs): void => {
    if (facts.basis !== basis || facts.thresholds !== thresholds) {
      read.program(facts, into);
      ({ basis, thresholds } = facts);
    }
    const observed = observationsThatCount(facts) !== null;
    if (observed || !areMissing) read.observations(facts, into);
    areMissing = !observed;
    read.effluent(facts, into);
    read.lateral(facts, into);
    read.condition(facts.condition, into);
    read.city(facts.lateral, into);
  };
}

/**
 * Answers the questions about texts. Where a text is what it was for the lateral before, its answers stand; what is against an effluent is
 * read only where it is another than the last.
 */
function bindTests(tests: CompiledRules["together"]["tests"], into: Float64Array) {
  const keys = [...new Set(tests.map(({ key }) => key))];
  const read = bySource<string>(keys);
  const asked = keys.map((key) =>
    tests.flatMap(({ key: of, text }, at) => (of === key ? [{ at, text }] : [])),
  );
  const texts = keys.map(() => "");
  const answered: (string | null)[] = keys.map(() => null);
  let basis: FactInputs["basis"] | null = null;
  let effluent: string | null = null;
  let temperature: number | null = null;
  return (facts: FactInputs): void => {
    const { kind, temperature: warmth } = facts.effluent;
    if (facts.basis !== basis || kind.value !== effluent || warmth.value !== temperature) {
      read.effluent(facts, texts);
      ({ basis } = facts);
      effluent = kind.value;
      temperature = warmth.value;
    }
    read.program(facts, texts);
    read.observations(facts, texts);
    read.lateral(facts, texts);
    read.condition(facts.condition, texts);
    read.city(facts.lateral, texts);
    for (let i = 0; i < texts.length; i++) {
      const value = texts[i]!;
      if (value === answered[i]) continue;
      answered[i] = value;
      for (const { at, text } of asked[i]!)
        if (text === null) into[at] = value === "" ? 0 : 1;
        else into[at] = value === "" ? Number.NaN : value === text ? 1 : 0;
    }
  };
}

/** Places of the rules that add a work to do before the treatment's own. */
export const rulesAdding = ({ about }: RuleBook, treatment: TreatmentKind, { answers }: RulesSaid) =>
  about[treatment].to.filter((i) => answers[i] !== 0);

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
  return new LateAddedWork(added.rule.adds!, () => reasonOf(added, book.ask(facts).answers[i]!, facts));
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
  const { answers } = book.ask(facts);
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
    inputs: reads.map((column) => ({ ...column, value: readFact(column.key, facts) })),
  };
}

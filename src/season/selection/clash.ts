import { brokenRules, sameRule } from "./broken-rules.ts";
import { daysInCore } from "./core-days.ts";
import type { Rule } from "./limits.ts";
import { type Limits, limitsOf } from "./limits.ts";
import { GrowingModel, type LinearAnswer, type LinearSolver } from "./linear-solver.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** One side of a rule, or all that must be done, as people would change it. */
export type ClashingRule =
  | { readonly side: "most" | "least"; readonly rule: Rule }
  | { readonly side: "must do"; readonly laterals: readonly number[] }
  /** Whole days of a kind of crew, where a season is packed: the crew by the season's own count. */
  | { readonly side: "crew-days"; readonly crew: number; readonly days: number };

/** What would have to give, and by how much: cents, minutes, days or laterals. */
export interface Change {
  readonly rule: ClashingRule;
  readonly by: number;
  /** The laterals that go, of those that must be done: one choice of so many. */
  readonly letGo?: readonly number[];
}

export interface Clash {
  /** Rules that cannot all be kept; without any one of them the others can. */
  readonly rules: readonly ClashingRule[];
  /** For each of them, how little it alone must give so that every rule of the season can be kept; those that alone are not enough are not listed. */
  readonly changes: readonly Change[];
}

/** Closely: what clashes by a cent would be kept within the usual millionth. */
const SOLVED = { gap: 0, nodes: 20_000, closely: true } as const;

/**
 * Which rules of a season clash, by leaving them out one after another (deletion filter: J. W. Chinneck, E. W. Dravnieks, ORSA Journal on
 * Computing 3, 1991), and the smallest change of each that mends it. Null where the rules can be kept.
 *
 * Only laterals that a rule asks for can make rules clash, so all others are left undone here. Of a season as packed it is given the
 * relaxation (relaxPacked): where that clashes no packing keeps the rules, and a change is the least that any packing would need.
 */
export function findClash(problem: SelectionProblem, solver: LinearSolver): Clash | null {
  const limits = limitsOf(problem);
  const all = rulesThatBind(problem, limits);
  const isKept = (kept: readonly ClashingRule[]) => giveLeast(problem, limits, kept, [], solver) !== null;
  if (isKept(all)) return null;
  let clashing = all;
  for (const rule of all) {
    const without = clashing.filter((other) => other !== rule);
    if (!isKept(without)) clashing = without;
  }
  const changes = clashing.flatMap((rule): readonly Change[] => {
    const given = giveLeast(problem, limits, all, [rule], solver);
    if (given === null) return [];
    const { by, chosen } = given;
    return [rule.side === "must do" ? { rule, by, letGo: undone(problem, chosen) } : { rule, by }];
  });
  return { rules: clashing, changes };
}

/** The least whole crew-days more, of all kinds together, with which the rules can be kept; a choice that does with them. Null where other rules clash. */
export function leastMoreDays(problem: SelectionProblem, solver: LinearSolver): Given | null {
  const limits = limitsOf(problem);
  const all = rulesThatBind(problem, limits);
  return giveLeast(
    problem,
    limits,
    all,
    all.filter(({ side }) => side === "crew-days"),
    solver,
  );
}

interface Given {
  readonly by: number;
  readonly chosen: Chosen;
}

function rulesThatBind(problem: SelectionProblem, limits: Limits): readonly ClashingRule[] {
  const { arrivals } = problem;
  const rules: ClashingRule[] = [];
  for (const [row, rule] of limits.rules.entries()) {
    // Crews that work whole days are kept by their days.
    if (rule.kind === "crew" && arrivals !== undefined) continue;
    if (limits.upper[row]! < Infinity) rules.push({ side: "most", rule });
    if (limits.lower[row]! > Number.NEGATIVE_INFINITY) rules.push({ side: "least", rule });
  }
  for (const { crew, days } of arrivals ?? []) rules.push({ side: "crew-days", crew, days });
  const laterals = [...problem.must.keys()].filter((l) => problem.must[l] === 1);
  if (laterals.length > 0) rules.push({ side: "must do", laterals });
  return rules;
}

/** How little `giving` must give, together, so that the rest is kept; 0 where nothing gives; null where that cannot be. */
function giveLeast(
  problem: SelectionProblem,
  limits: Limits,
  kept: readonly ClashingRule[],
  giving: readonly ClashingRule[],
  solver: LinearSolver,
): Given | null {
  const model = new GrowingModel();
  const sides = (side: "most" | "least") => {
    const rows = new Set<Rule>();
    for (const each of kept) if (each.side === side) rows.add(each.rule);
    return rows;
  };
  const most = sides("most");
  const least = sides("least");
  for (const [row, rule] of limits.rules.entries())
    model.addRow(
      least.has(rule) ? limits.lower[row]! / limits.scale[row]! : Number.NEGATIVE_INFINITY,
      most.has(rule) ? limits.upper[row]! / limits.scale[row]! : Number.POSITIVE_INFINITY,
    );
  const { arrivals = [] } = problem;
  const isKept = (crew: number) => kept.some((each) => each.side === "crew-days" && each.crew === crew);
  const days = daysInCore(
    {
      ...problem,
      arrivals: arrivals.map((each) =>
        isKept(each.crew) ? each : { ...each, days: Number.POSITIVE_INFINITY },
      ),
    },
    limits,
    model,
  );
  let columns = 0;
  for (const each of giving) {
    if (each.side === "must do") continue;
    if (each.side === "crew-days") days.addMoreDays(arrivals.findIndex(({ crew }) => crew === each.crew));
    else {
      model.addColumn(1, 0, Number.POSITIVE_INFINITY, false);
      model.addEntry(limits.rules.indexOf(each.rule), each.side === "most" ? -1 : 1);
    }
    columns++;
  }
  const mustGives = giving.some(({ side }) => side === "must do");
  const mustKept = kept.some(({ side }) => side === "must do");
  const links: number[][] = Array.from({ length: problem.districts }, () => []);
  const columnOf = new Map<number, readonly [lateral: number, offer: number]>();
  for (const l of lateralsAskedFor(problem)) {
    const d = problem.district[l]!;
    const must = problem.must[l] === 1 && mustKept;
    // Σ offers − opened ≤ 0, and for those that must be done Σ offers + let off ≥ 1.
    const link = model.addRow(Number.NEGATIVE_INFINITY, 0);
    links[d]!.push(link);
    const atLeast = must ? model.addRow(1, Number.POSITIVE_INFINITY) : -1;
    if (must && mustGives) {
      model.addColumn(1, 0, 1);
      model.addEntry(atLeast, 1);
      columns++;
    }
    if (problem.mustNot[l] === 1) continue;
    const offers = Array.from(
      { length: problem.firstOffer[l + 1]! - problem.firstOffer[l]! },
      (_, k) => problem.firstOffer[l]! + k,
    );
    const linkRows = days.linkRows(d, offers);
    for (const j of offers) {
      columnOf.set(columns++, [l, j]);
      model.addColumn(0, 0, 1);
      for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++)
        model.addEntry(limits.rows[at]!, limits.values[at]! / limits.scale[limits.rows[at]!]!);
      model.addEntry(link, 1);
      if (must) model.addEntry(atLeast, 1);
      days.addEntries(d, j, linkRows);
    }
  }
  for (let d = 0; d < problem.districts; d++) {
    model.addColumn(0, 0, 1);
    model.addEntry(0, problem.mobilization[d]! / limits.scale[0]!);
    for (const link of links[d]!) model.addEntry(link, -1);
  }
  days.addColumns(() => Number.POSITIVE_INFINITY);
  const answer = solver(model.finish(), SOLVED);
  if (answer.values === null) return null;
  const chosen = new Int32Array(lateralsOf(problem)).fill(-1);
  for (const [column, [l, j]] of columnOf) if (answer.values[column]! > 0.5) chosen[l] = j;
  return { by: leastOf(problem, giving, chosen, answer), chosen };
}

/** Whole cents, minutes, days or laterals, counted from the choice: the last digits of the solver are not passed on. */
function leastOf(
  problem: SelectionProblem,
  [first]: readonly ClashingRule[],
  chosen: Chosen,
  { bound }: Pick<LinearAnswer, "bound">,
): number {
  if (first === undefined) return 0;
  switch (first.side) {
    case "most":
    case "least": {
      const broken = brokenRules(problem, chosen).find(({ rule }) => sameRule(rule, first.rule));
      return broken === undefined ? 0 : Math.abs(broken.found - broken.limit);
    }
    case "must do":
      return undone(problem, chosen).length;
    // Days that no packing does without: the bound says it, found or not.
    case "crew-days":
      return Math.ceil(bound - 1e-6);
    default:
      return first satisfies never;
  }
}

/** Laterals that must be done and are not. */
const undone = ({ must }: SelectionProblem, chosen: Chosen): readonly number[] =>
  [...must.keys()].filter((l) => must[l] === 1 && chosen[l]! < 0);

/** Laterals that must be done, those they need, and those of districts that must get something. */
function lateralsAskedFor(problem: SelectionProblem): readonly number[] {
  const asked = new Uint8Array(lateralsOf(problem));
  for (let l = 0; l < asked.length; l++) {
    const d = problem.district[l]!;
    if (problem.must[l] === 1 || problem.least.laterals[d]! > 0 || problem.least.money[d]! > 0) asked[l] = 1;
  }
  for (let changed = true; changed; ) {
    changed = false;
    for (const [lateral, needed] of problem.needs)
      if (asked[lateral] === 1 && asked[needed] === 0) {
        asked[needed] = 1;
        changed = true;
      }
  }
  return [...asked.keys()].filter((l) => asked[l] === 1);
}

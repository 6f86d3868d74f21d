import type { Rule } from "./limits.ts";
import { type Limits, limitsOf } from "./limits.ts";
import { GrowingModel, type LinearSolver } from "./linear-solver.ts";
import { lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** One side of a rule, or all that must be done, as people would change it. */
export type ClashingRule =
  | { readonly side: "most" | "least"; readonly rule: Rule }
  | { readonly side: "must do"; readonly laterals: number };

/** What would have to give, and by how much: cents, minutes or laterals. */
export interface Change {
  readonly rule: ClashingRule;
  readonly by: number;
}

export interface Clash {
  /** Rules that cannot all be kept; without any one of them the others can. */
  readonly rules: readonly ClashingRule[];
  /** For each of them, how little it alone must give so that every rule of the season can be kept; those that alone are not enough are not listed. */
  readonly changes: readonly Change[];
}

const SOLVED = { gap: 1e-4, nodes: 20_000 } as const;

/**
 * Which rules of a season clash, by leaving them out one after another (deletion filter: J. W. Chinneck, E. W. Dravnieks, ORSA Journal on
 * Computing 3, 1991), and the smallest change of each that mends it. Null where the rules can be kept.
 *
 * Only laterals that a rule asks for can make rules clash, so all others are left undone here.
 */
export function findClash(problem: SelectionProblem, solver: LinearSolver): Clash | null {
  const limits = limitsOf(problem);
  const all = rulesThatBind(problem, limits);
  const isKept = (kept: readonly ClashingRule[]) => leastGiven(problem, limits, kept, null, solver) !== null;
  if (isKept(all)) return null;
  let clashing = all;
  for (const rule of all) {
    const without = clashing.filter((other) => other !== rule);
    if (!isKept(without)) clashing = without;
  }
  const changes = clashing.flatMap((rule): readonly Change[] => {
    const by = leastGiven(problem, limits, all, rule, solver);
    return by === null ? [] : [{ rule, by }];
  });
  return { rules: clashing, changes };
}

function rulesThatBind(problem: SelectionProblem, limits: Limits): readonly ClashingRule[] {
  const rules: ClashingRule[] = [];
  for (const [row, rule] of limits.rules.entries()) {
    if (limits.upper[row]! < Infinity) rules.push({ side: "most", rule });
    if (limits.lower[row]! > Number.NEGATIVE_INFINITY) rules.push({ side: "least", rule });
  }
  const laterals = problem.must.reduce((sum, one) => sum + one, 0);
  if (laterals > 0) rules.push({ side: "must do", laterals });
  return rules;
}

/** How little `giving` must give so that the rest is kept; 0 where nothing gives; null where that cannot be. */
function leastGiven(
  problem: SelectionProblem,
  limits: Limits,
  kept: readonly ClashingRule[],
  giving: ClashingRule | null,
  solver: LinearSolver,
): number | null {
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
  if (giving !== null && giving.side !== "must do") {
    model.addColumn(1, 0, Number.POSITIVE_INFINITY, false);
    model.addEntry(limits.rules.indexOf(giving.rule), giving.side === "most" ? -1 : 1);
  }
  const mustGives = giving?.side === "must do";
  const mustKept = kept.some(({ side }) => side === "must do");
  const links: number[][] = Array.from({ length: problem.districts }, () => []);
  for (const l of lateralsAskedFor(problem)) {
    const must = problem.must[l] === 1 && mustKept;
    // Σ offers − opened ≤ 0, and for those that must be done Σ offers + let off ≥ 1.
    const link = model.addRow(Number.NEGATIVE_INFINITY, 0);
    links[problem.district[l]!]!.push(link);
    const atLeast = must ? model.addRow(1, Number.POSITIVE_INFINITY) : -1;
    if (must && mustGives) {
      model.addColumn(1, 0, 1);
      model.addEntry(atLeast, 1);
    }
    if (problem.mustNot[l] === 1) continue;
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) {
      model.addColumn(0, 0, 1);
      for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++)
        model.addEntry(limits.rows[at]!, limits.values[at]! / limits.scale[limits.rows[at]!]!);
      model.addEntry(link, 1);
      if (must) model.addEntry(atLeast, 1);
    }
  }
  for (let d = 0; d < problem.districts; d++) {
    model.addColumn(0, 0, 1);
    model.addEntry(0, problem.mobilization[d]! / limits.scale[0]!);
    for (const link of links[d]!) model.addEntry(link, -1);
  }
  const answer = solver(model.finish(), SOLVED);
  if (answer.values === null) return null;
  if (giving === null) return 0;
  if (giving.side === "must do") return Math.round(answer.objective);
  const row = limits.rules.indexOf(giving.rule);
  // Whole cents, minutes or laterals: the last digits of the solver are not passed on.
  return Math.ceil(answer.objective * limits.scale[row]! - 1e-3);
}

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

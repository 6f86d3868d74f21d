import { yearOf } from "../quantity/calendar.ts";
import type { Day } from "../quantity/si.ts";
import type { Assumptions } from "../reference/assumptions.ts";
import type { RiskTables } from "../reference/risk-tables.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import { scoreBy, statedScore } from "./own-scores.ts";
import type { Reason } from "./reason.ts";
import { hasOwnScores, type ScoreFormula, type ScoreRecipe } from "./recipe.ts";
import { readerOf } from "./score-values.ts";
import { orAssumed, type Stated, stated } from "./stated.ts";

/** Likelihood × consequence. Relative: it orders laterals, it is not a probability, and sums of it mean nothing. */
export interface Risk {
  /** 1 to 5, or what the program's recipe gives; null when the recipe's formula has no value here. */
  readonly likelihood: Stated<number> | null;
  /** The same. */
  readonly consequence: Stated<number> | null;
  /** 1 to 25, or by the recipe. */
  readonly score: number | null;
  readonly reasons: readonly Reason[];
}

/**
 * Risk of one lateral, by the program's own formulas where it has some, else by the tables.
 *
 * By the tables: likelihood from its grades where it was inspected and from its age where it was not, raised
 * by reported backups; consequence from what it serves and what lies over it.
 *
 * Source: the tables of `shared/risk.json`, each with its own source. The two 1-to-5 scales and their product:
 * University of New Mexico, Southwest Environmental Finance Center, asset management guidance.
 */
export function scoreRisk(
  lateral: Lateral,
  condition: Condition,
  tables: RiskTables,
  assumptions: Assumptions,
  asOf: Day,
  scores: ScoreRecipe,
): Risk {
  if (!hasOwnScores(scores)) return new TabledRisk(lateral, condition, tables, assumptions, asOf);
  const reasons: Reason[] = [];
  const known = readerOf(lateral, condition);
  const byFormula = (formula: ScoreFormula, what: "likelihood" | "consequence") => {
    const { value, reason } = scoreBy(formula, what, scores.withOwnColumns(known));
    reasons.push(reason);
    return statedScore(value, formula.text);
  };
  const likelihood =
    scores.likelihood === null
      ? tabledLikelihood(lateral, condition, tables, asOf, reasons)
      : byFormula(scores.likelihood, "likelihood");
  const consequence =
    scores.consequence === null
      ? tabledConsequence(lateral, tables, assumptions, reasons)
      : byFormula(scores.consequence, "consequence");
  const product = likelihood === null || consequence === null ? null : likelihood.value * consequence.value;
  if (scores.score === null) return { likelihood, consequence, score: product, reasons };

  const scored: Readonly<Record<string, number>> = {
    likelihood: likelihood?.value ?? Number.NaN,
    consequence: consequence?.value ?? Number.NaN,
  };
  const { value, reason } = scoreBy(
    scores.score,
    "score",
    scores.withOwnColumns((key) => scored[key] ?? known(key)),
  );
  return { likelihood, consequence, score: value, reasons: [...reasons, reason] };
}

/**
 * Risk by the tables alone, as nearly all programs have it. It is looked up when somebody asks: whoever wants totals does not (0.1 s of a million
 * laterals). Its reasons are put together by the same way through the tables.
 */
class TabledRisk implements Risk {
  #likelihood: Stated<number> | null = null;
  #consequence: Stated<number> | null = null;
  readonly #lateral: Lateral;
  readonly #condition: Condition;
  readonly #tables: RiskTables;
  readonly #assumptions: Assumptions;
  readonly #asOf: Day;

  constructor(
    lateral: Lateral,
    condition: Condition,
    tables: RiskTables,
    assumptions: Assumptions,
    asOf: Day,
  ) {
    this.#lateral = lateral;
    this.#condition = condition;
    this.#tables = tables;
    this.#assumptions = assumptions;
    this.#asOf = asOf;
  }

  get likelihood(): Stated<number> {
    this.#likelihood ??= tabledLikelihood(this.#lateral, this.#condition, this.#tables, this.#asOf, null);
    return this.#likelihood;
  }

  get consequence(): Stated<number> {
    this.#consequence ??= tabledConsequence(this.#lateral, this.#tables, this.#assumptions, null);
    return this.#consequence;
  }

  get score(): number {
    return this.likelihood.value * this.consequence.value;
  }

  get reasons(): readonly Reason[] {
    const reasons: Reason[] = [];
    tabledLikelihood(this.#lateral, this.#condition, this.#tables, this.#asOf, reasons);
    tabledConsequence(this.#lateral, this.#tables, this.#assumptions, reasons);
    return reasons;
  }
}

/** @param reasons where the reasons go; null where nobody asks for them */
function tabledLikelihood(
  lateral: Lateral,
  condition: Condition,
  tables: RiskTables,
  asOf: Day,
  reasons: Reason[] | null,
): Stated<number> {
  const base = baseLikelihood(lateral, condition, tables, asOf, reasons);
  const backups = lateral.backups?.value ?? null;
  const raise = backups === null ? 0 : (tables.likelihood.backups[Math.min(2, backups)] ?? 0);
  if (backups !== null && raise > 0)
    reasons?.push({ code: "backups raise likelihood", count: backups, points: raise });
  return stated(Math.min(5, base.value + raise), base.origin, base.because);
}

function tabledConsequence(
  lateral: Lateral,
  tables: RiskTables,
  assumptions: Assumptions,
  reasons: Reason[] | null,
): Stated<number> {
  const { weights } = tables.consequence;
  const building = orAssumed(lateral.building, assumptions.building);
  const surface = orAssumed(lateral.surface, assumptions.surface);
  const buildingPoints = tables.consequence.building[building.value];
  const surfacePoints = tables.consequence.surface[surface.value];
  const consequence = stated(
    weights.building * buildingPoints + weights.surface * surfacePoints,
    building.origin === "assumed" || surface.origin === "assumed" ? "assumed" : "estimated",
    bothLabels(building.because, surface.because),
  );
  reasons?.push({
    code: "consequence",
    building: building.value,
    buildingPoints,
    buildingWeight: weights.building,
    surface: surface.value,
    surfacePoints,
    surfaceWeight: weights.surface,
  });
  return consequence;
}

function bothLabels(a: string | null, b: string | null): string | null {
  const both = a === null ? b : b === null ? a : `${a}, ${b}`;
  return both === "" ? null : both;
}

function baseLikelihood(
  lateral: Lateral,
  { structural, om }: Condition,
  tables: RiskTables,
  asOf: Day,
  reasons: Reason[] | null,
): Stated<number> {
  const structuralPoints =
    structural === null ? null : (tables.likelihood.structural[structural.value] ?? null);
  const omPoints = om === null ? null : (tables.likelihood.om[om.value] ?? null);
  if (structuralPoints !== null || omPoints !== null) {
    const structuralLeads = structuralPoints !== null && (omPoints === null || structuralPoints >= omPoints);
    const leader = structuralLeads ? structural : om;
    const points = Math.max(structuralPoints ?? 0, omPoints ?? 0);
    reasons?.push({
      code: "likelihood from grade",
      what: structuralLeads ? "structural" : "operation and maintenance",
      grade: leader?.value ?? 0,
      points,
    });
    return stated(points, leader?.origin ?? "measured");
  }

  const { bands, ageUnknown } = tables.uninspected;
  const year = lateral.installYear?.value ?? null;
  if (year === null) {
    reasons?.push({ code: "likelihood of unknown age", points: ageUnknown });
    return stated(ageUnknown, "assumed", "likelihood of an uninspected lateral of unknown age");
  }
  const age = Math.max(0, yearOf(asOf) - year);
  const band = bands.findLast((candidate) => candidate.fromAge <= age);
  if (band === undefined) throw new RangeError(`scoreRisk: no age band for ${age} years`);
  reasons?.push({ code: "likelihood from age", age, points: band.points });
  return stated(band.points, "assumed", "likelihood of an uninspected lateral from its age");
}

import { dateOf } from "../quantity/calendar.ts";
import type { Day } from "../quantity/si.ts";
import type { Assumptions } from "../reference/assumptions.ts";
import type { RiskTables } from "../reference/risk-tables.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { orAssumed, type Stated, stated } from "./stated.ts";

/** Likelihood × consequence. Relative: it orders laterals, it is not a probability, and sums of it mean nothing. */
export interface Risk {
  /** 1 to 5. */
  readonly likelihood: Stated<number>;
  /** 1 to 5. */
  readonly consequence: Stated<number>;
  /** 1 to 25. */
  readonly score: number;
  readonly reasons: readonly Reason[];
}

/**
 * Risk of one lateral: likelihood from its grades where it was inspected and from its age where it was not, raised
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
): Risk {
  const reasons: Reason[] = [];
  const base = baseLikelihood(lateral, condition, tables, asOf, reasons);
  const backups = lateral.backups?.value ?? null;
  const raise = backups === null ? 0 : (tables.likelihood.backups[Math.min(2, backups)] ?? 0);
  if (backups !== null && raise > 0)
    reasons.push({ code: "backups raise likelihood", count: backups, points: raise });
  const likelihood = stated(Math.min(5, base.value + raise), base.origin, base.because);

  const { building: buildingPoints, surface: surfacePoints, weights } = tables.consequence;
  const building = orAssumed(lateral.building, assumptions.building);
  const surface = orAssumed(lateral.surface, assumptions.surface);
  const consequence = stated(
    weights.building * buildingPoints[building.value] + weights.surface * surfacePoints[surface.value],
    building.origin === "assumed" || surface.origin === "assumed" ? "assumed" : "estimated",
    [building.because, surface.because].filter((label) => label !== null).join(", ") || null,
  );
  reasons.push({
    code: "consequence",
    building: building.value,
    buildingPoints: buildingPoints[building.value],
    buildingWeight: weights.building,
    surface: surface.value,
    surfacePoints: surfacePoints[surface.value],
    surfaceWeight: weights.surface,
  });
  return { likelihood, consequence, score: likelihood.value * consequence.value, reasons };
}

function baseLikelihood(
  lateral: Lateral,
  { structural, om }: Condition,
  tables: RiskTables,
  asOf: Day,
  reasons: Reason[],
): Stated<number> {
  const structuralPoints =
    structural === null ? null : (tables.likelihood.structural[structural.value] ?? null);
  const omPoints = om === null ? null : (tables.likelihood.om[om.value] ?? null);
  if (structuralPoints !== null || omPoints !== null) {
    const structuralLeads = structuralPoints !== null && (omPoints === null || structuralPoints >= omPoints);
    const leader = structuralLeads ? structural : om;
    const points = Math.max(structuralPoints ?? 0, omPoints ?? 0);
    reasons.push({
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
    reasons.push({ code: "likelihood of unknown age", points: ageUnknown });
    return stated(ageUnknown, "assumed", "likelihood of an uninspected lateral of unknown age");
  }
  const age = Math.max(0, dateOf(asOf).year - year);
  const band = bands.findLast((candidate) => candidate.fromAge <= age);
  if (band === undefined) throw new RangeError(`scoreRisk: no age band for ${age} years`);
  reasons.push({ code: "likelihood from age", age, points: band.points });
  return stated(band.points, "assumed", "likelihood of an uninspected lateral from its age");
}

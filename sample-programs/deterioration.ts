import type { HostMaterial } from "../src/columns/lateral-columns.ts";

/**
 * How the invented pipes wear. Not fitted to anything and not for use in a plan.
 *
 * A pipe has reached grade g or worse at age t with probability
 *
 *   F(t) = x⁴ / (1 + x⁴) ,   x = t / (life · f_g)
 *
 * a log-logistic curve: like a Weibull curve it starts flat and rises by age and material, but it needs only
 * multiplication and division, so it is the same to the last bit everywhere. `life` is the age at which half of
 * the pipes have reached grade 3; f_g moves the other grades. Each pipe keeps one number u for life and has
 * reached the grade when u < F(t): so a pipe never heals.
 */
export interface WearCurve {
  /** Years until half of the pipes are at grade 3 or worse. */
  readonly life: Readonly<Record<HostMaterial, number>>;
  /** f_g for grades 1 to 5. */
  readonly gradeFactors: readonly [number, number, number, number, number];
}

/** Cracks, fractures, breaks. The order is the trade's common experience (clay joints, rotting fibre pipe); the years are invented. */
export const structuralWear: WearCurve = {
  life: {
    clay: 70,
    concrete: 62,
    "cast iron": 68,
    "ductile iron": 95,
    steel: 48,
    PVC: 130,
    ABS: 105,
    polyethylene: 150,
    "bituminous fibre": 42,
    "asbestos cement": 88,
  },
  gradeFactors: [0.5, 0.75, 1, 1.3, 2.1],
};

/** Roots, deposits, infiltration. Years invented. */
export const operationWear: WearCurve = {
  life: {
    clay: 58,
    concrete: 60,
    "cast iron": 66,
    "ductile iron": 90,
    steel: 60,
    PVC: 125,
    ABS: 110,
    polyethylene: 140,
    "bituminous fibre": 50,
    "asbestos cement": 75,
  },
  gradeFactors: [0.35, 0.6, 1, 1.5, 2.6],
};

/** The joint with the main: hammered-in taps of old mains open first. Years invented. */
export const connectionWear: WearCurve = {
  life: {
    clay: 74,
    concrete: 66,
    "cast iron": 78,
    "ductile iron": 100,
    steel: 64,
    PVC: 125,
    ABS: 110,
    polyethylene: 140,
    "bituminous fibre": 60,
    "asbestos cement": 90,
  },
  gradeFactors: [0.5, 0.75, 1, 1.25, 2.2],
};

/**
 * Grade of one pipe at an age, 0 (no defect) to 5.
 *
 * @param age years; 0 for a pipe not older than its survey
 * @param hurry above 1 where soil, water or trees wear pipes sooner
 * @param fate the pipe's own u, at least 0 and below 1; small is weak
 */
export function gradeAt(
  curve: WearCurve,
  material: HostMaterial,
  age: number,
  hurry: number,
  fate: number,
): number {
  if (!(age >= 0)) throw new RangeError(`gradeAt needs an age of 0 years or more, got ${age}`);
  const worn = (age * hurry) / curve.life[material];
  let grade = 0;
  for (const factor of curve.gradeFactors) {
    const x = worn / factor;
    const x4 = x * x * x * x;
    if (fate >= x4 / (1 + x4)) break;
    grade += 1;
  }
  return grade;
}

/** Metres between joints, where roots come in and defects are counted. Invented, of the usual order. */
export const jointSpacing: Readonly<Record<HostMaterial, number>> = {
  clay: 0.9,
  concrete: 1,
  "cast iron": 1.5,
  "ductile iron": 3,
  steel: 3,
  PVC: 3,
  ABS: 3,
  polyethylene: 12,
  "bituminous fibre": 2.4,
  "asbestos cement": 3,
};

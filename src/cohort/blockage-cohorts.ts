import { type CohortPrior, priorOfCohort, type RatePrior } from "../engineering/gamma-poisson.ts";

/** A lateral with a record of blockages. "" is an unknown material. */
export interface BlockageSeen {
  readonly material: string;
  readonly events: number;
  readonly years: number;
  /** Rate a year that the table gives its grade. */
  readonly tableRate: number;
}

/** How a material blocks beside what the table expects of its grades; its prior counts in expected blockages, not in years. */
export interface BlockageCohort {
  readonly by: "material" | "all";
  /** "" for all materials. */
  readonly material: string;
  readonly fit: CohortPrior;
}

/**
 * Blockage cohorts of a city, materials in code point order and then all: each lateral's rate is the table's for its grade times a
 * factor of its own, and the factors of a cohort are gamma-distributed. One factor for all grades, so a worse grade never blocks less.
 *
 *   n ~ Poisson(θ·Σr·T) ,   θ ~ Gamma(mean k, strength s)
 *
 * Source: indirect standardisation (observed over expected), textbook; the moments are those of {@link priorOfCohort}.
 */
export function fitBlockages(seen: readonly BlockageSeen[]): readonly BlockageCohort[] {
  const names = [...new Set(seen.map(({ material }) => material))].filter((name) => name !== "").sort();
  const fitOf = (list: readonly BlockageSeen[]): CohortPrior =>
    priorOfCohort(
      list.map(({ events }) => events),
      list.map(({ years, tableRate }) => years * tableRate),
    );
  return [
    ...names.map(
      (material): BlockageCohort => ({
        by: "material",
        material,
        fit: fitOf(seen.filter((lateral) => lateral.material === material)),
      }),
    ),
    { by: "all", material: "", fit: fitOf(seen) },
  ];
}

/** What is believed of a lateral before its own record, and the cohort it is from; null where the table's own must serve. */
export function blockagePrior(
  material: string,
  tableRate: number,
  cohorts: readonly BlockageCohort[],
): { readonly prior: RatePrior; readonly cohort: BlockageCohort } | null {
  for (const cohort of cohorts) {
    const { fit } = cohort;
    if (fit.kind !== "prior" || (cohort.by === "material" && cohort.material !== material)) continue;
    // k·s blockages in s expected ones: as years of this rate, s/r.
    return {
      prior: { mean: fit.prior.mean * tableRate, strengthYears: fit.prior.strengthYears / tableRate },
      cohort,
    };
  }
  return null;
}

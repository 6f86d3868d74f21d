import { type CohortPrior, priorOfCohort, type RatePrior } from "../engineering/gamma-poisson.ts";

/** The laterals with a record of blockages, by columns, in any order: a million objects took 60 MB. */
export interface BlockagesSeen {
  readonly materials: readonly string[];
  /** Place in `materials`; "" there is an unknown material. */
  readonly material: Uint8Array;
  readonly events: Float64Array;
  /** Blockages that the table expects of its grade in the years of the record. */
  readonly expected: Float64Array;
}

/** How a material blocks beside what the table expects of its grades. */
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
 *   n ~ Poisson(θ·r·T) ,   θ ~ Gamma(mean k, strength s)
 *
 * Source: indirect standardisation (observed over expected), textbook; the moments are those of {@link priorOfCohort}.
 */
export function fitBlockages(seen: BlockagesSeen): readonly BlockageCohort[] {
  const cohorts = seenByMaterial(seen).map(
    ({ material, events, expected }): BlockageCohort => ({
      by: "material",
      material,
      fit: priorOfCohort(events, expected),
    }),
  );
  return [
    ...cohorts.sort((a, b) => (a.material < b.material ? -1 : 1)),
    { by: "all", material: "", fit: priorOfCohort(seen.events, seen.expected) },
  ];
}

/** The laterals of each known material, in the order given. One walk: one for each material took a third of a big city's fits. */
function seenByMaterial({ materials, material, events, expected }: BlockagesSeen) {
  const counts = new Uint32Array(materials.length);
  for (const code of material) counts[code]!++;
  const split = materials.map((name, code) => ({
    material: name,
    laterals: 0,
    events: new Float64Array(counts[code]!),
    expected: new Float64Array(counts[code]!),
  }));
  for (let i = 0; i < material.length; i++) {
    const own = split[material[i]!]!;
    own.events[own.laterals] = events[i]!;
    own.expected[own.laterals++] = expected[i]!;
  }
  return split.filter((own) => own.material !== "" && own.laterals > 0);
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
    const { factor, strengthInExpected } = fit.prior;
    // k·s blockages in s expected ones: as years of this rate, s/r.
    return {
      prior: { mean: factor * tableRate, strengthYears: strengthInExpected / tableRate },
      cohort,
    };
  }
  return null;
}

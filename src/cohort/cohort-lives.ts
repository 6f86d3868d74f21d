import { type FittedLife, fitLife, type LifeFit, type SeenAtAge } from "./current-status.ts";

/** One inspected lateral with what puts it in a cohort. "" is an unknown material; null an unknown year, which is in no cohort. */
export interface SeenLateral extends SeenAtAge {
  readonly material: string;
  readonly installYear: number;
}

/** Laterals taken together: narrow (material and era) where there is enough data, wider where not. */
export interface Cohort {
  readonly by: "material and era" | "material" | "all";
  /** "" for all materials. */
  readonly material: string;
  /** "" for all eras. */
  readonly era: string;
  readonly fit: LifeFit;
}

/** The fits of a city: plain data, kept in a snapshot. */
export interface CohortLives {
  /** Years in which a new era begins, rising. */
  readonly eraStarts: readonly number[];
  /** From narrow to wide, names in code point order. */
  readonly cohorts: readonly Cohort[];
}

/** `before 1940`, `1940–1969`, `from 1990`. */
export function eraOf(year: number, eraStarts: readonly number[]): string {
  if (!Number.isInteger(year)) throw new RangeError(`an era needs a whole year, got ${year}`);
  const at = eraStarts.findLastIndex((start) => start <= year);
  if (eraStarts.length === 0) return "all years";
  if (at < 0) return `before ${eraStarts[0]}`;
  const next = eraStarts[at + 1];
  return next === undefined ? `from ${eraStarts[at]}` : `${eraStarts[at]}–${next - 1}`;
}

/** Fits every cohort of the inspected laterals, those without enough data too: they say so. The order of the laterals does not matter. */
export function fitCohorts(seen: readonly SeenLateral[], eraStarts: readonly number[]): CohortLives {
  if (eraStarts.some((year, i) => i > 0 && !(year > eraStarts[i - 1]!)))
    throw new RangeError(`eras must begin in rising years, got ${eraStarts.join(", ")}`);
  // Sums of doubles depend on their order, so the laterals are put in one.
  const inOrder = [...seen].sort((a, b) => a.age - b.age || Number(a.bad) - Number(b.bad));
  const eras = new Map<number, string>();
  const eraOnce = (year: number): string => {
    let era = eras.get(year);
    if (era === undefined) {
      era = eraOf(year, eraStarts);
      eras.set(year, era);
    }
    return era;
  };
  const narrow = group(inOrder, (l) => eraOnce(l.installYear));
  const wide = group(inOrder, () => "");
  return {
    eraStarts,
    cohorts: [
      ...narrow.map(
        ([material, era, list]): Cohort => ({ by: "material and era", material, era, fit: fitLife(list) }),
      ),
      ...wide.map(
        ([material, , list]): Cohort => ({ by: "material", material, era: "", fit: fitLife(list) }),
      ),
      { by: "all", material: "", era: "", fit: fitLife(inOrder) },
    ],
  };
}

/** The narrowest cohort of a lateral that could be fitted. */
export interface ChosenLife {
  readonly cohort: Omit<Cohort, "fit">;
  readonly fit: FittedLife;
}

/**
 * The life to use for a lateral: of its material and era, else of its material, else of all; null when not even all could be fitted,
 * and a named assumption must serve. A lateral without a year has no age and needs none of this.
 */
export function lifeOf(material: string, installYear: number, lives: CohortLives): ChosenLife | null {
  const era = eraOf(installYear, lives.eraStarts);
  for (const { fit, ...cohort } of lives.cohorts) {
    const fits =
      (cohort.material === material || cohort.by === "all") &&
      (cohort.era === era || cohort.by !== "material and era");
    // An unknown material is no cohort of its own: such laterals share nothing but the gap in the file.
    if (fits && fit.kind === "fitted" && !(material === "" && cohort.by !== "all")) return { cohort, fit };
  }
  return null;
}

function group(
  seen: readonly SeenLateral[],
  eraIn: (lateral: SeenLateral) => string,
): readonly (readonly [material: string, era: string, list: readonly SeenLateral[]])[] {
  const lists = new Map<string, Map<string, SeenLateral[]>>();
  for (const lateral of seen) {
    const { material } = lateral;
    if (material === "") continue;
    let ofMaterial = lists.get(material);
    if (ofMaterial === undefined) {
      ofMaterial = new Map();
      lists.set(material, ofMaterial);
    }
    const era = eraIn(lateral);
    const list = ofMaterial.get(era);
    if (list === undefined) ofMaterial.set(era, [lateral]);
    else list.push(lateral);
  }
  const keyed = [...lists].flatMap(([material, eras]) =>
    [...eras].map(([era, list]) => ({
      key: JSON.stringify([material, era]),
      entry: [material, era, list] as const,
    })),
  );
  return keyed.sort((a, b) => (a.key < b.key ? -1 : 1)).map(({ entry }) => entry);
}

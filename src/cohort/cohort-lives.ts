import { type FittedLife, fitLife, type LifeFit, type SeenAtAge } from "./current-status.ts";

/** Inspected laterals alike, with what puts them in a cohort. "" is an unknown material; one of unknown year is in no cohort. */
export interface SeenLaterals extends SeenAtAge {
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
export function fitCohorts(seen: readonly SeenLaterals[], eraStarts: readonly number[]): CohortLives {
  if (eraStarts.some((year, i) => i > 0 && !(year > eraStarts[i - 1]!)))
    throw new RangeError(`eras must begin in rising years, got ${eraStarts.join(", ")}`);
  const narrow = group(seen, (l) => eraOf(l.installYear, eraStarts));
  const wide = group(seen, () => "");
  return {
    eraStarts,
    cohorts: [
      ...narrow.map(
        ([material, era, list]): Cohort => ({ by: "material and era", material, era, fit: fitLife(list) }),
      ),
      ...wide.map(
        ([material, , list]): Cohort => ({ by: "material", material, era: "", fit: fitLife(list) }),
      ),
      { by: "all", material: "", era: "", fit: fitLife(seen) },
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
 * and a named assumption must serve. A lateral without a year has no age and needs none of this. A cohort in which none or hardly any are
 * bad takes the wider one's, too severe for it: with none bad the likelihood rises for ever with the scale, so it has no curve of its own.
 */
export function lifeOf(material: string, installYear: number, lives: CohortLives): ChosenLife | null {
  const era = eraOf(installYear, lives.eraStarts);
  for (const each of lives.cohorts) {
    const fits =
      (each.material === material || each.by === "all") &&
      (each.era === era || each.by !== "material and era");
    // An unknown material is no cohort of its own: such laterals share nothing but the gap in the file.
    if (!fits || each.fit.kind !== "fitted" || (material === "" && each.by !== "all")) continue;
    const { fit, ...cohort } = each;
    return { cohort, fit: each.fit };
  }
  return null;
}

function group(
  seen: readonly SeenLaterals[],
  eraIn: (laterals: SeenLaterals) => string,
): readonly (readonly [material: string, era: string, list: readonly SeenLaterals[]])[] {
  const lists = new Map<string, Map<string, SeenLaterals[]>>();
  for (const laterals of seen) {
    const { material } = laterals;
    if (material === "") continue;
    let ofMaterial = lists.get(material);
    if (ofMaterial === undefined) {
      ofMaterial = new Map();
      lists.set(material, ofMaterial);
    }
    const era = eraIn(laterals);
    const list = ofMaterial.get(era);
    if (list === undefined) ofMaterial.set(era, [laterals]);
    else list.push(laterals);
  }
  const keyed = [...lists].flatMap(([material, eras]) =>
    [...eras].map(([era, list]) => ({
      key: JSON.stringify([material, era]),
      entry: [material, era, list] as const,
    })),
  );
  return keyed.sort((a, b) => (a.key < b.key ? -1 : 1)).map(({ entry }) => entry);
}

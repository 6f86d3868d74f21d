import { type Band, mapBand, worseBand } from "../engineering/band.ts";
import {
  type GradeChance,
  meanBand,
  type StructuralChances,
  sharesOfUnseen,
  tabulateStructural,
  unseenChance,
  type Wear,
} from "../engineering/failure-probability.ts";
import type { Misreading } from "../engineering/misreading.ts";
import { failureWithin } from "../engineering/survival.ts";
import { fraction } from "../quantity/si.ts";
import type { BlockagesSeen } from "./blockage-cohorts.ts";
import {
  BACKUP_RECORD_YEARS,
  type BlockageFits,
  type BlockageTables,
  fitBlocking,
} from "./blockage-tables.ts";
import { byMaterial } from "./by-material.ts";
import { type CohortLives, fitCohorts, lifeOf, type SeenLaterals } from "./cohort-lives.ts";
import { badShareAt, enoughToFit } from "./current-status.ts";

/** Laterals alike in all that the chances of the batch depend on. */
export interface LateralGroup {
  /** 0 to 5; null is not graded. */
  readonly grade: number | null;
  /** Whether the grade is of a whole survey or a decision. */
  readonly whole: boolean;
  readonly material: string;
  /** Whole years at the as-of date; null is unknown. */
  readonly age: number | null;
  laterals: number;
  /** Σ diameter × length, mm·m, of those that have both. */
  diameterLength: number;
}

/** What the city's surveys say, gathered before the plan. Order does not matter, but for the last bits of sums over sizes. */
export interface GradeRecord {
  readonly asOfYear: number;
  /** Laterals surveyed whole and graded, with their age on that day. */
  readonly seen: readonly SeenLaterals[];
  readonly groups: readonly LateralGroup[];
}

/** The same with its blockages, of which the last bits of sums depend on the order too. */
export interface CityRecord extends GradeRecord {
  readonly blockages: BlockagesSeen;
}

/** The reference tables that the fits take, in the shape of `shared/failure-modes.json` and `shared/deterioration.json`. */
export interface FitTables extends BlockageTables {
  readonly structural: { readonly byGrade: readonly GradeChance[] };
  readonly reading: Misreading;
  readonly infiltration: { readonly leaksByGrade: readonly Band[] };
  readonly wear: Wear;
  readonly eraStarts: readonly number[];
  readonly assumedLife: {
    readonly scale: number;
    readonly shape: number;
    readonly within: number;
    readonly unknownAge: number;
  };
}

/** What an estimate of a lateral nobody graded rests on. */
export type RestsOn =
  | {
      readonly kind: "cohort";
      readonly by: "material and era" | "material" | "all";
      readonly material: string;
      readonly era: string;
      readonly inspected: number;
      readonly bad: number;
    }
  | { readonly kind: "all inspected"; readonly inspected: number; readonly bad: number }
  | { readonly kind: "assumed life"; readonly age: number; readonly ageKnown: boolean };

/** A lateral of one material and age that nobody graded. */
export interface Ungraded {
  readonly restsOn: RestsOn;
  /** Share of such laterals that are poor. */
  readonly poorShare: Band;
  /** Probabilities of grades 0 to 5. */
  readonly shares: readonly number[];
  /** Chance of structural failure in the coming year, and of leaking in the season of high groundwater. */
  readonly structural: Band;
  readonly leaks: Band;
}

/** City-wide fits, with what follows from them looked up by lateral: plain data, so that a lateral costs the plan next to nothing. */
export interface CityFits extends BlockageFits {
  readonly asOfYear: number;
  /** Years that a lateral's count of backups covers. */
  readonly recordYears: number;
  readonly lives: CohortLives;
  /** Laterals surveyed whole, by grade. */
  readonly found: readonly number[];
  readonly structural: StructuralChances;
  /** By material ("" unknown), then by whole years of age. */
  readonly ungraded: Readonly<Record<string, readonly Ungraded[]>>;
  /** Of unknown year. */
  readonly ungradedOfNoAge: Ungraded;
  /** Expected number in grades 0 to 5, those nobody graded spread over what they may be. */
  readonly today: readonly number[];
  readonly notGraded: number;
  /** Mean chance of leaking over the city, by diameter × length; null where nothing leaks or nothing has a size. */
  readonly leakMean: number | null;
}

const GRADES = 6;
/** An older lateral is taken as this old: curves are as good as flat there. */
const OLDEST = 200;
const NORMAL_95 = 1.959963984540054;

/** What is fitted to all but the record of backups: it can be worked out beside that. */
export type GradeFits = Omit<CityFits, keyof BlockageFits>;

/** Fits the city, and tabulates what the plan looks up. A city without a survey is fitted too: all of it rests on assumptions. */
export const fitCity = (record: CityRecord, tables: FitTables): CityFits =>
  bothFits(fitGrades(record, tables), fitBlocking(record.blockages, tables));

/** Both halves of a city's fits, which two threads may have made. */
export const bothFits = (
  { asOfYear, recordYears, lives, found, structural, ungraded, ungradedOfNoAge, ...census }: GradeFits,
  { blockages, blocked }: BlockageFits,
): CityFits => ({
  asOfYear,
  recordYears,
  lives,
  found,
  blockages,
  structural,
  ungraded,
  ungradedOfNoAge,
  blocked,
  ...census,
});

/** Fits what the surveys found, and tabulates what follows for those nobody graded. */
export function fitGrades({ asOfYear, seen, groups }: GradeRecord, tables: FitTables): GradeFits {
  const lives = fitCohorts(seen, tables.eraStarts);
  const found = new Array<number>(GRADES).fill(0);
  for (const { grade, whole, laterals } of groups) if (grade !== null && whole) found[grade]! += laterals;
  const structural = tabulateStructural(tables.structural.byGrade, tables.wear);
  const context = { asOfYear, lives, found, structural, tables };
  const ungraded = byMaterial(
    ["", ...tables.materials],
    lives.cohorts.flatMap(({ material, fit }) => (fit.kind === "fitted" ? material : [])),
    (material) =>
      Array.from({ length: OLDEST + 1 }, (_, age) => ungradedOf(ofAge(material, age, context), context)),
  );
  const ungradedOfNoAge = ungradedOf(ofNoAge(context), context);
  const fits = {
    asOfYear,
    recordYears: BACKUP_RECORD_YEARS,
    lives,
    found,
    structural,
    ungraded,
    ungradedOfNoAge,
  };
  return { ...fits, ...census(groups, fits, tables.infiltration.leaksByGrade) };
}

/** The entry for a lateral's material and age. */
export function ungradedIn(
  { ungraded, ungradedOfNoAge }: Pick<CityFits, "ungraded" | "ungradedOfNoAge">,
  material: string,
  age: number | null,
): Ungraded {
  if (age === null) return ungradedOfNoAge;
  const found = ungraded[material]?.[Math.min(OLDEST, Math.max(0, Math.floor(age)))];
  if (found === undefined)
    throw new RangeError(`ungradedIn: no fit for ${JSON.stringify(material)} of ${age} years`);
  return found;
}

type Context = Pick<CityFits, "asOfYear" | "lives" | "found" | "structural"> & {
  readonly tables: FitTables;
};
type PoorShare = Pick<Ungraded, "restsOn" | "poorShare">;

function ofAge(material: string, age: number, { asOfYear, lives, tables }: Context): PoorShare {
  const chosen = lifeOf(material, asOfYear - age, lives);
  if (chosen === null) return ofAssumedLife(age, true, tables);
  const { cohort, fit } = chosen;
  const { inspected, bad } = fit;
  return {
    restsOn: { kind: "cohort", ...cohort, inspected, bad },
    poorShare: badShareAt(age, fit),
  };
}

/** Share of the poor among all surveyed, with its 95 % interval by the adjusted share of Agresti and Coull (1998), from memory. */
function ofNoAge({ found, tables }: Context): PoorShare {
  const inspected = found.reduce((sum, n) => sum + n, 0);
  if (inspected < enoughToFit.inspected) return ofAssumedLife(tables.assumedLife.unknownAge, false, tables);
  const bad = found.slice(tables.reading.poorFrom).reduce((sum, n) => sum + n, 0);
  const q = (bad + 2) / (inspected + 4);
  const spread = NORMAL_95 * Math.sqrt((q * (1 - q)) / (inspected + 4));
  const best = bad / inspected;
  return {
    restsOn: { kind: "all inspected", inspected, bad },
    poorShare: {
      least: Math.max(0, Math.min(best, q - spread)),
      best,
      most: Math.min(1, Math.max(best, q + spread)),
    },
  };
}

function ofAssumedLife(age: number, ageKnown: boolean, { assumedLife }: FitTables): PoorShare {
  const { scale, shape, within } = assumedLife;
  const at = (longer: number) => failureWithin(age, 0, { scale: scale * longer, shape });
  return {
    restsOn: { kind: "assumed life", age, ageKnown },
    poorShare: { least: at(within), best: at(1), most: at(1 / within) },
  };
}

function ungradedOf({ restsOn, poorShare }: PoorShare, { found, structural, tables }: Context): Ungraded {
  const { poorFrom } = tables.reading;
  // Where the city found no poor pipe, or nothing but, the poor are spread evenly over the poor grades, and the rest likewise.
  const even = new Array<number>(GRADES).fill(1);
  const shares = (share: number): readonly number[] =>
    sharesOfUnseen(fraction(share), found, poorFrom) ??
    sharesOfUnseen(fraction(share), even, poorFrom) ??
    even;
  const [low, best, high] = [shares(poorShare.least), shares(poorShare.best), shares(poorShare.most)];
  const band = (of: (shares: readonly number[]) => Band): Band => ({
    least: of(low).least,
    best: of(best).best,
    most: of(high).most,
  });
  return {
    restsOn,
    poorShare,
    shares: best,
    structural: band((list) => unseenChance(list, structural)),
    leaks: band((list) => mapBand(meanBand(list, tables.infiltration.leaksByGrade), atMostOne)),
  };
}

/** A sum of shares may be more by its last digit. */
const atMostOne = (chance: number): number => Math.min(1, chance);

function census(
  groups: readonly LateralGroup[],
  fits: Pick<CityFits, "ungraded" | "ungradedOfNoAge">,
  leaksByGrade: readonly Band[],
): Pick<CityFits, "today" | "notGraded" | "leakMean"> {
  const today = new Array<number>(GRADES).fill(0);
  let notGraded = 0;
  let size = 0;
  let leaking = 0;
  // Sums of doubles depend on their order, so the groups are put in one.
  const inOrder = groups
    .map((group) => ({ key: groupKey(group), group }))
    .sort((a, b) => (a.key < b.key ? -1 : 1));
  for (const { group } of inOrder) {
    const { grade, whole, laterals, diameterLength } = group;
    const unseen = ungradedIn(fits, group.material, group.age);
    if (grade === null) {
      notGraded += laterals;
      for (const [at, share] of unseen.shares.entries()) today[at]! += laterals * share;
    } else today[grade]! += laterals;
    const leaks =
      grade === null
        ? unseen.leaks
        : whole
          ? leaksByGrade[grade]!
          : worseBand(leaksByGrade[grade]!, unseen.leaks);
    size += diameterLength;
    leaking += diameterLength * leaks.best;
  }
  return { today, notGraded, leakMean: leaking > 0 ? leaking / size : null };
}

const groupKey = ({
  grade,
  whole,
  material,
  age,
}: Pick<LateralGroup, "grade" | "whole" | "material" | "age">): string =>
  `${material}|${age ?? "-"}|${grade ?? "-"}|${whole ? 1 : 0}`;

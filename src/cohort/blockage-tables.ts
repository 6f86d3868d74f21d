import type { Band } from "../engineering/band.ts";
import { blockageChance, type RatePrior, updateBlockageRate } from "../engineering/gamma-poisson.ts";
import type { Fraction } from "../quantity/si.ts";
import { type BlockageCohort, type BlockagesSeen, blockagePrior, fitBlockages } from "./blockage-cohorts.ts";
import { byMaterial } from "./by-material.ts";

/** The reference tables that blockages are fitted with. */
export interface BlockageTables {
  readonly blockage: {
    readonly ratePerYear: readonly number[];
    readonly rateNotGraded: number;
    readonly strengthYears: number;
    readonly callShare: Fraction;
    readonly level: Fraction;
  };
  /** Words a material may be; "" for unknown is always one more. */
  readonly materials: readonly string[];
}

/** How laterals of one material block, by O&M grade; entry 6 is not graded. */
export interface Blocking {
  /** Whether the city's own record made the priors, or the table did. */
  readonly fromCity: boolean;
  readonly priors: readonly RatePrior[];
  /** Chances with 0, 1, 2 … backups in the record. */
  readonly chances: readonly (readonly Band[])[];
  /** Chances without a record. */
  readonly unrecorded: readonly Band[];
}

/** What is fitted to the record of backups alone. */
export interface BlockageFits {
  readonly blockages: readonly BlockageCohort[];
  /** By material ("" unknown). */
  readonly blocked: Readonly<Record<string, Blocking>>;
}

/** More backups in the record than this are worked out one by one. */
const MOST_TABULATED_BACKUPS = 10;
/** Years that the city's count of backups covers, by the definition of the column. */
export const BACKUP_RECORD_YEARS = 5;

/** Fits how the materials block, and tabulates what follows by grade and backups. */
export function fitBlocking(seen: BlockagesSeen, tables: BlockageTables): BlockageFits {
  const blockages = fitBlockages(seen);
  const blocked = byMaterial(
    ["", ...tables.materials],
    blockages.flatMap(({ material, fit }) => (fit.kind === "prior" ? material : [])),
    (material) => tabulateBlocked(material, blockages, tables),
  );
  return { blockages, blocked };
}

function tabulateBlocked(
  material: string,
  cohorts: readonly BlockageCohort[],
  { blockage }: BlockageTables,
): Blocking {
  const { ratePerYear, rateNotGraded, strengthYears, callShare, level } = blockage;
  const rates = [...ratePerYear, rateNotGraded];
  const fitted = rates.map((rate) => blockagePrior(material, rate, cohorts)?.prior ?? null);
  const priors = rates.map((mean, grade) => fitted[grade] ?? { mean, strengthYears });
  const chanceAfter = (prior: RatePrior, backups: number, years: number) =>
    blockageChance(updateBlockageRate(prior, { backups, otherCalls: 0, years }, callShare), level);
  return {
    fromCity: fitted.every((prior) => prior !== null),
    priors,
    chances: priors.map((prior) =>
      Array.from({ length: MOST_TABULATED_BACKUPS + 1 }, (_, backups) =>
        chanceAfter(prior, backups, BACKUP_RECORD_YEARS),
      ),
    ),
    unrecorded: priors.map((prior) => chanceAfter(prior, 0, 0)),
  };
}

import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { Problem } from "../quantity/problem.ts";
import type { Basis } from "../reference/basis.ts";
import { isOfThePlan, type PlannedProgram, planProgram, type RowTally } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { placed, type SeasonToPlace } from "./current-season.ts";

/** What a worker needs to plan a program anew: data only, the columns in shared memory. */
export interface SettleAsked {
  readonly tables: ProgramTables;
  readonly basis: Basis;
  readonly problems: readonly Problem[];
  readonly tallies: readonly RowTally[];
  /** The saved season whose columns the sheet has, to see whether it still holds; null where nobody looked. */
  readonly season: SeasonToPlace | null;
}

/** What the worker posts: how far it is, and at last what it found. */
export type SettleSaid =
  | { readonly kind: "progress"; readonly part: number }
  | { readonly kind: "settled"; readonly found: Settled };

/** A planned program without its compiled formulas, which are no data. */
export type Settled = Omit<PlannedProgram, "basis" | "tables"> & {
  readonly fits: PlannedProgram["basis"]["fits"];
};

/** Plans the whole program anew beside the sheet. */
export interface Settling {
  readonly settled: Promise<PlannedProgram>;
  /** Whatever is done so far is dropped; the promise never settles. */
  stop(): void;
}

/** The worker as it lies beside the built program. Run from source there is none, and the plan is made in place. */
const WORKER = new URL("./settle.js", import.meta.url);

/**
 * Fits, plans, ranks and totals the whole program again, in a thread of its own.
 *
 * @param progress told the part that is planned, 0 to 1, now and then
 */
export function settleProgram(
  program: PlannedProgram,
  season: SeasonToPlace | null = null,
  progress: (part: number) => void = () => {},
): Settling {
  const asked = askedOf(program, season);
  if (!existsSync(WORKER)) return settleInPlace(program, asked);
  const worker = new Worker(WORKER);
  let stopped = false;
  const settled = new Promise<PlannedProgram>((resolve, reject) => {
    worker.on("message", (said: SettleSaid) => {
      if (stopped) return;
      if (said.kind === "progress") return progress(said.part);
      resolve(settledProgram(program, said.found));
      void worker.terminate();
    });
    worker.once("error", (error) => {
      if (!stopped) reject(error);
    });
  });
  worker.postMessage(asked);
  return {
    settled,
    stop: () => {
      stopped = true;
      void worker.terminate();
    },
  };
}

/** Looks again whether the saved season is one of this plan. */
export const inSeason = (program: PlannedProgram, season: SeasonToPlace | null): PlannedProgram =>
  season === null ? program : placed(program, season);

function settleInPlace(
  program: PlannedProgram,
  { tables, problems, tallies, season }: SettleAsked,
): Settling {
  let timer: NodeJS.Immediate | undefined;
  const settled = new Promise<PlannedProgram>((resolve, reject) => {
    timer = setImmediate(() => {
      try {
        resolve(inSeason(planProgram(tables, program.basis, { problems, tallies }), season));
      } catch (error) {
        reject(error);
      }
    });
  });
  return { settled, stop: () => clearImmediate(timer) };
}

function askedOf(
  { tables, basis, problems, tallies }: PlannedProgram,
  season: SeasonToPlace | null,
): SettleAsked {
  const { scores, ownColumns, filters, fits, ruleBook, ...data } = basis;
  return {
    tables,
    basis: data,
    problems: problems.filter((problem) => !isOfThePlan(problem)),
    tallies,
    season,
  };
}

function settledProgram({ tables, basis }: PlannedProgram, { fits, ...found }: Settled): PlannedProgram {
  return { ...found, tables, basis: { ...basis, fits } };
}

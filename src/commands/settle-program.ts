import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { PreparedBasis } from "../season/own-columns.ts";
import { isOfThePlan, type PlannedProgram } from "../season/planned-program.ts";
import { rescoreProgram } from "../season/rescored-program.ts";
import { dataOf, planAlike } from "./basis-data.ts";
import { placed, type SeasonToPlace } from "./current-season.ts";
import { finishInThreads } from "./finish-in-threads.ts";
import { fitInThreads } from "./fit-in-threads.ts";
import { planInThreads } from "./plan-in-threads.ts";
import { PlanThread } from "./plan-thread.ts";
import type { ProgramData } from "./thread-work.ts";
import { isFoundAnew, valueProblems } from "./value-problems.ts";

/** What is to be made anew of a program: everything, or its ranking alone. Data only, the columns in shared memory. */
export interface ToSettle {
  readonly anew: "everything" | "ranking";
  readonly program: ProgramData;
  /** The saved season whose columns the sheet has, to see whether it still holds; null where nobody looked. */
  readonly season: SeasonToPlace | null;
}

/** What the worker is asked, one after another; it stops with a job when that is no longer the one wanted. */
export interface SettleAsked extends ToSettle {
  readonly job: number;
  /** One shared whole number: the job that is wanted. */
  readonly wanted: Int32Array<SharedArrayBuffer>;
}

/** What the worker posts: how far it is with a job, and at last what it found. */
export type SettleSaid =
  | { readonly kind: "progress"; readonly job: number; readonly part: number }
  | { readonly kind: "settled"; readonly job: number; readonly found: Settled };

/** A planned program without its compiled formulas, which are no data. */
export type Settled = Omit<PlannedProgram, "basis" | "tables"> & {
  readonly fits: PlannedProgram["basis"]["fits"];
};

/**
 * Makes anew what is asked.
 *
 * @param basis the program's, compiled
 * @param progress told the part that is planned, 0 to 1; it may throw to stop
 */
export async function settleAnew(
  { anew, program, season }: ToSettle,
  basis: PreparedBasis,
  progress: (part: number) => void,
  second: PlanThread,
): Promise<PlannedProgram> {
  const { tables, tallies } = program;
  const inSeason = (whole: PlannedProgram) => (season === null ? whole : placed(whole, season));
  const fits = { ...basis, fits: program.basis.fits };
  if (anew === "ranking") return inSeason(rescoreProgram({ ...program, basis: fits }, basis));
  const fitted = await fitInThreads(tables, basis, second);
  const told = (done: number, total: number) => progress(done / Math.max(1, total));
  const planned = await planInThreads(tables, fitted, told, "everything", second);
  // The laterals' file is the first that is accounted for.
  const ofValues = tallies.slice(0, 1).map(({ file }) => valueProblems(tables, file, basis));
  const problems = [
    ...ofValues.flatMap(({ urgent }) => urgent),
    ...program.problems.filter((problem) => !isOfThePlan(problem) && !isFoundAnew(problem)),
    ...ofValues.flatMap(({ waiting }) => waiting),
  ];
  return inSeason(await finishInThreads(tables, fitted, planned, { problems, tallies }, second));
}

/** The worker as it lies beside the built program. Run from source there is none, and the plan is made in place. */
const WORKER = new URL("./settle.js", import.meta.url);

/**
 * Laterals up to which the thread is kept for the next time, for its code is compiled: 100,000 take 4.3 processor seconds and not 8.3. Of
 * more it would hold much memory.
 */
const MOST_KEPT = 200_000;

/** Makes programs anew in a thread of its own, one at a time: the last that was asked for. */
export class Settler {
  readonly #file: URL;
  #worker: Worker | null = null;
  #last: PlannedProgram | null = null;
  #waiting: Waiting | null = null;
  readonly #wanted = new Int32Array(new SharedArrayBuffer(4));

  /** @param file the worker; for tests */
  constructor(file = WORKER) {
    this.#file = file;
  }

  /**
   * The program made anew; null once another is asked for, or none.
   *
   * @param progress told the part that is planned, 0 to 1, now and then
   */
  async settle(
    program: PlannedProgram,
    season: SeasonToPlace | null,
    progress: (part: number) => void,
  ): Promise<PlannedProgram | null> {
    this.stop();
    const job = Atomics.load(this.#wanted, 0);
    const { tables, basis } = program;
    const isPlanned = this.#last?.tables === tables && planAlike(this.#last.basis, basis);
    const anew = isPlanned ? "ranking" : "everything";
    const asked: ToSettle = { anew, program: { ...program, basis: dataOf(basis) }, season };
    const found = existsSync(this.#file)
      ? await this.#beside({ ...asked, job, wanted: this.#wanted }, progress)
      : await inPlace(asked, basis, progress);
    if (found === null || job !== Atomics.load(this.#wanted, 0)) return null;
    const { fits, ...planned } = found;
    this.#last = { ...planned, tables, basis: { ...basis, fits } };
    if (tables.laterals.rows > MOST_KEPT) this.end();
    return this.#last;
  }

  /** Drops what is done so far of what was asked for. */
  stop(): void {
    Atomics.add(this.#wanted, 0, 1);
    this.#waiting?.resolve(null);
    this.#waiting = null;
  }

  /** Ends the thread; the next program starts another. */
  end(): void {
    this.stop();
    void this.#worker?.terminate();
    this.#worker = null;
  }

  #beside(asked: SettleAsked, progress: (part: number) => void): Promise<Settled | null> {
    this.#worker ??= this.#started();
    this.#worker.postMessage(asked);
    return new Promise((resolve, reject) => {
      this.#waiting = { job: asked.job, progress, resolve, reject };
    });
  }

  #started(): Worker {
    const worker = new Worker(this.#file);
    worker.on("message", (said: SettleSaid) => {
      const waiting = this.#waiting;
      if (waiting === null || said.job !== waiting.job) return;
      if (said.kind === "progress") return waiting.progress(said.part);
      this.#waiting = null;
      waiting.resolve(said.found);
    });
    const fail = (error: unknown) => {
      if (this.#worker !== worker) return;
      this.#worker = null;
      this.#waiting?.reject(error);
      this.#waiting = null;
    };
    worker.on("error", fail);
    // Also of one that nothing was thrown in: nobody would be told, and who waits would wait for ever.
    worker.on("exit", (code) => fail(new Error(`Settler: its thread ended with code ${code}`)));
    return worker;
  }
}

/** Who waits for what the thread finds. */
interface Waiting {
  readonly job: number;
  readonly progress: (part: number) => void;
  readonly resolve: (found: Settled | null) => void;
  readonly reject: (error: unknown) => void;
}

async function inPlace(
  asked: ToSettle,
  basis: PreparedBasis,
  progress: (part: number) => void,
): Promise<Settled> {
  await new Promise((resolve) => setImmediate(resolve));
  return foundIn(await settleAnew(asked, basis, progress, new PlanThread()));
}

/** Of a program made anew what whoever asked does not have. */
export const foundIn = ({ basis, tables: _same, ...found }: PlannedProgram): Settled => ({
  ...found,
  fits: basis.fits,
});

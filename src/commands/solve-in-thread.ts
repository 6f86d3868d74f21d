import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import { usualStops } from "../season/selection/select-season.ts";
import type { SeasonMessage, SeasonToSolve, Solved } from "../workers/season-work.ts";

/** The worker as bundled beside this code; from the sources, in tests, there is none and the work is done on this thread. */
const WORKER = new URL("./season-worker.js", import.meta.url);

/** Told the best worth so far and the bound on it, season by season. */
export type SelectionProgress = (season: number, worth: number, bound: number) => void;

/**
 * Solves seasons off the main thread. The first interrupt (Ctrl-C) asks the solver to stop with what it has; a second one ends the
 * program as usual.
 */
export async function solveInThread(
  seasons: readonly SeasonToSolve[],
  stops: { readonly gap?: number; readonly nodes?: number; readonly explain?: boolean },
  progress: SelectionProgress = () => {},
): Promise<readonly Solved[]> {
  const stop = new Int32Array(new SharedArrayBuffer(4));
  const work = { seasons, ...usualStops, ...stops, stop };
  const solved: Solved[] = [];
  const hear = (message: SeasonMessage) => {
    if (message.kind === "progress") progress(message.season, message.worth, message.bound);
    else solved[message.season] = message.solved;
  };
  const interrupt = () => void Atomics.store(stop, 0, 1);
  process.once("SIGINT", interrupt);
  try {
    if (!existsSync(WORKER)) {
      await (await import("../workers/solve-seasons.ts")).solveSeasons(work, hear);
      return solved;
    }
    const worker = new Worker(WORKER, { workerData: work });
    await new Promise<void>((resolve, reject) => {
      worker.on("message", hear);
      worker.on("error", reject);
      worker.on("exit", (code) =>
        code === 0 ? resolve() : reject(new Error(`season-worker ended with ${code}`)),
      );
    });
    return solved;
  } finally {
    process.removeListener("SIGINT", interrupt);
  }
}

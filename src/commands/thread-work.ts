import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { PlannedProgram } from "../season/planned-program.ts";
import { dataOf } from "./basis-data.ts";
import { type PaneAsked, type PaneFound, workOnPane } from "./pane-work.ts";

/** A planned program without its compiled formulas, which are no data; the columns lie in shared memory. */
export type ProgramData = Omit<PlannedProgram, "basis"> & {
  readonly basis: ReturnType<typeof dataOf<PlannedProgram["basis"]>>;
};

export interface PaneJob {
  readonly asked: PaneAsked;
  readonly program: ProgramData;
}

export interface PaneWorking {
  readonly found: Promise<PaneFound>;
  stop(): void;
}

/** The worker as it lies beside the built program; run from source there is none, and the work is done in place. */
const WORKER = new URL("./pane-worker.js", import.meta.url);

/**
 * Works out what a pane shows in a thread of its own.
 *
 * @param file the worker; for tests
 */
export function workBeside(asked: PaneAsked, program: PlannedProgram, file = WORKER): PaneWorking {
  if (!existsSync(file)) {
    let stopped = false;
    const found = new Promise<PaneFound>((resolve, reject) => {
      setImmediate(() => {
        workOnPane(asked, program).then((done) => {
          if (!stopped) resolve(done);
        }, reject);
      });
    });
    return {
      found,
      stop: () => {
        stopped = true;
      },
    };
  }
  const worker = new Worker(file);
  let stopped = false;
  const found = new Promise<PaneFound>((resolve, reject) => {
    worker.once("message", (done: PaneFound) => {
      if (!stopped) resolve(done);
      void worker.terminate();
    });
    const fail = (error: unknown) => {
      if (!stopped) reject(error);
    };
    worker.once("error", fail);
    // Also of one that nothing was thrown in; after an answer it changes nothing.
    worker.once("exit", (code) => fail(new Error(`workBeside: the pane's thread ended with code ${code}`)));
  });
  worker.postMessage({ asked, program: { ...program, basis: dataOf(program.basis) } } satisfies PaneJob);
  return {
    found,
    stop: () => {
      stopped = true;
      void worker.terminate();
    },
  };
}

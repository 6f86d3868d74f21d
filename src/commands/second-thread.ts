import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { setFlagsFromString } from "node:v8";
import { Worker } from "node:worker_threads";

/** The worker as it lies beside the built program. Run from source there is none, and one thread does all. */
const WORKER = new URL("./plan-rows.js", import.meta.url);

/**
 * Bytes of a lateral file from which a second thread is worth its start: some 200,000 laterals. Measured on two cores: 200,000 take 1.9 s with it
 * and 2.0 without, for 3.6 and 2.7 s of processor, a million 4.7 and 6.8. Below, both threads wait for the engine to compile the same code twice.
 */
const WORTH_A_THREAD = 33_000_000;
/** Of a lateral file, about. */
export const BYTES_A_LATERAL = 175;

/**
 * Asks the engine not to guess which objects live long. What it guesses so is made in old memory and keeps alive what it
 * points to: of seven plans of a million laterals three kept 100 MB more on one of their threads, and took 0.9 to 3.5 s of
 * processor to copy them; of six asked so, none.
 */
const NO_GUESSED_LIVES = "--no-allocation-site-pretenuring";

/**
 * Helpers of the engine that two threads leave out where they take every core: a helper waits there for a core, and the thread for its helper.
 * `parallel-scavenge`: helpers share a tenth of a millisecond's sweep of young objects, and each fifth sweep waited 4 ms for them, 0.7 s of
 * the two threads at a million laterals; alone they take 0.2 to 0.4 s. `concurrent-recompilation`: helpers compile what is hot while the thread
 * goes on in slow code; the second thread alone is made without them, for the first has them from its start: 0.2 s less of either core.
 */
const HELPERS = ["parallel-scavenge", "concurrent-recompilation"] as const;

function letHelp(help: boolean): void {
  if (availableParallelism() > 2) return;
  for (const helper of HELPERS) setFlagsFromString(`--${help ? "" : "no-"}${helper}`);
}

/** Where the second thread comes from, and from what size of lateral file on; for tests. */
export interface Threading {
  readonly worker?: URL;
  readonly fromBytes?: number;
}

/** A thread that reads and plans beside this one, one job at a time; none until it is started. */
export class SecondThread<Job, Done> {
  readonly #file: URL;
  readonly #from: number;
  #worker: Worker | null = null;
  #failed: Error | null = null;
  #waiting: { resolve(done: Done): void; reject(error: Error): void } | null = null;

  constructor({ worker = WORKER, fromBytes = WORTH_A_THREAD }: Threading = {}) {
    this.#file = worker;
    this.#from = fromBytes;
  }

  /** Starts it where a lateral file is so big. It loads while this thread reads the file. */
  startFor(bytes: number): void {
    if (this.#worker !== null || bytes < this.#from || !existsSync(this.#file)) return;
    setFlagsFromString(NO_GUESSED_LIVES);
    letHelp(false);
    const worker = new Worker(this.#file);
    const fail = (error: Error) => {
      if (this.#worker !== worker) return;
      this.#failed ??= error;
      this.#waiting?.reject(this.#failed);
      this.#waiting = null;
    };
    worker.on("message", (done: Done) => {
      this.#waiting?.resolve(done);
      this.#waiting = null;
    });
    worker.on("error", fail);
    // Also of one that nothing was thrown in: it was stopped from within, or by the system.
    worker.on("exit", (code) => fail(new Error(`SecondThread: it ended with code ${code}`)));
    this.#worker = worker;
  }

  /** False for one that failed, too: it is asked for nothing more. */
  get isWorking(): boolean {
    return this.#worker !== null && this.#failed === null;
  }

  /** What the thread makes of a job; rejected where it fails. Nobody has to wait for it at once: a failure is heard when somebody does. */
  ask(job: Job): Promise<Done> {
    const worker = this.#worker;
    if (worker === null || this.#failed !== null || this.#waiting !== null)
      throw new RangeError("SecondThread: asked while it is not there, or while it works");
    const done = new Promise<Done>((resolve, reject) => {
      this.#waiting = { resolve, reject };
    });
    done.catch(() => {});
    worker.postMessage(job);
    return done;
  }

  async end(): Promise<void> {
    const worker = this.#worker;
    if (worker === null) return;
    this.#worker = null;
    letHelp(true);
    await worker.terminate();
  }
}

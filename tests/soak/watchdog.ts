import { once } from "node:events";
import { Worker } from "node:worker_threads";

/**
 * An input that takes more of a processor than this is a hang: nothing in the thread that feeds it can say so. Not by the clock, which
 * goes on while a busy machine gives the process nothing.
 */
const HANGS_AFTER_MS = 60_000;

/** Looks from a thread of its own whether the number still changes; ends the process, with the number, when it does not. */
const SOURCE = `
const { parentPort, workerData: { beat, after } } = require("node:worker_threads");
const { writeSync } = require("node:fs");
const seen = new Int32Array(beat);
let last = -1;
const cpuMs = () => (process.cpuUsage().user + process.cpuUsage().system) / 1000;
let since = cpuMs();
setInterval(() => {
  if (seen[0] !== last) {
    last = seen[0];
    since = cpuMs();
  } else if (cpuMs() - since > after) {
    writeSync(2, "input " + last + " hung: nothing came of it in " + after / 1000 + " s of a processor\\n");
    process.kill(process.pid, "SIGKILL");
  }
}, after / 20);
parentPort.postMessage("on watch");
`;

export interface Watchdog {
  /** Says that this input is begun. */
  readonly begin: (input: number) => void;
  readonly stop: () => Promise<unknown>;
}

export async function startWatchdog(after = HANGS_AFTER_MS): Promise<Watchdog> {
  const beat = new SharedArrayBuffer(4);
  const current = new Int32Array(beat);
  const worker = new Worker(SOURCE, { eval: true, execArgv: [], workerData: { beat, after } });
  // Its thread comes to life only while this one is idle.
  await once(worker, "message");
  worker.unref();
  return {
    begin: (input) => {
      current[0] = input;
    },
    stop: () => worker.terminate(),
  };
}

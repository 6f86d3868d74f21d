import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, watch } from "node:fs";

/** The built program that people run. */
export const builtProgram = [
  new URL("main.js", import.meta.url),
  new URL("../../dist/main.js", import.meta.url),
]
  .map((url) => url.pathname)
  .find((path) => existsSync(path));

/** When a run is killed: so many ms after its start, or after the so-many-th change in the folder and then so many ms. */
export type Moment =
  | { readonly kind: "never" }
  | { readonly kind: "after"; readonly ms: number }
  | { readonly kind: "at change"; readonly change: number; readonly ms: number };

export interface Ran {
  readonly out: string;
  readonly err: string;
  /** Null when it was killed. */
  readonly code: number | null;
  readonly ms: number;
}

/** A run that takes longer has hung; most take a second, on a machine that is busy with other things many. */
const LONGEST_RUN_MS = 300_000;

/** Runs the built program and kills it with SIGKILL at the moment, unless it ends before. */
export async function runProgram(
  args: readonly string[],
  folder: string,
  moment: Moment = { kind: "never" },
  environment: Readonly<Record<string, string>> = {},
): Promise<Ran> {
  if (builtProgram === undefined) throw new Error("runProgram: dist/main.js is not built (npm run build)");
  const watching = moment.kind === "at change" ? watch(folder) : null;
  const started = performance.now();
  const child = spawn(process.execPath, [builtProgram, ...args], {
    env: { ...process.env, WYEPLAN_WHO: "a tester", ...environment },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let out = "";
  let err = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    out += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    err += text;
  });
  const kill = () => child.kill("SIGKILL");
  const timers = [setTimeout(kill, LONGEST_RUN_MS)];
  if (moment.kind === "after") timers.push(setTimeout(kill, moment.ms));
  if (moment.kind === "at change") {
    let changes = 0;
    watching?.on("change", () => {
      if (++changes !== moment.change) return;
      if (moment.ms < 1) kill();
      else timers.push(setTimeout(kill, moment.ms));
    });
  }
  await once(child, "close");
  for (const timer of timers) clearTimeout(timer);
  watching?.close();
  const ms = performance.now() - started;
  if (ms >= LONGEST_RUN_MS) throw new Error(`runProgram: ${args.join(" ")} hung`);
  return { out, err, code: child.exitCode, ms };
}

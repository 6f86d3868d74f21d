import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** What a run of Node took, from its start to its end. */
export interface Run {
  readonly seconds: number;
  /** Of all its threads. */
  readonly processorSeconds: number;
  /** Most memory it had, MB. */
  readonly peak: number;
}

/** Tells what the process took as it ends, to a file of its own. */
const preload = (into: string) =>
  `const { isMainThread } = require("node:worker_threads");
if (isMainThread) process.on("exit", () => {
  const { user, system } = process.cpuUsage();
  const used = { processorSeconds: (user + system) / 1e6, peak: process.resourceUsage().maxRSS / 1024 };
  require("node:fs").writeFileSync(${JSON.stringify(into)}, JSON.stringify(used));
});`;

/**
 * Runs Node with these arguments in a process of its own, its output thrown away.
 *
 * @throws Error when it does not end well
 */
export function runNode(name: string, args: readonly string[]): Run {
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-run-"));
  try {
    const used = join(folder, "used.json");
    writeFileSync(join(folder, "preload.cjs"), preload(used));
    const started = performance.now();
    const { status, stderr } = spawnSync(
      process.execPath,
      ["--require", join(folder, "preload.cjs"), ...args],
      { stdio: ["ignore", "ignore", "pipe"] },
    );
    const seconds = (performance.now() - started) / 1000;
    if (status !== 0) throw new Error(`${name} ended with ${status}: ${stderr}`);
    return { seconds, ...(JSON.parse(readFileSync(used, "utf8")) as Omit<Run, "seconds">) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

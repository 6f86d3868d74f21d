import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { plainTable } from "../../src/commands/plain-table.ts";

const RUNS = 15;
/** What is asked of a start, ms over `node -e 0`. */
const TARGETS = { "wyeplan --help": 40, "wyeplan size": 250 } as const;

/** Tells the processor time of the process as it ends, to a file of its own. */
const preload = (into: string) =>
  `process.on("exit", () => { const { user, system } = process.cpuUsage(); require("node:fs").writeFileSync(${JSON.stringify(into)}, String((user + system) / 1000)); });`;

/** Wall and processor time of starting, least of several runs taken in turn, beside Node doing nothing. */
export function benchStartup(root: string): string {
  const main = join(root, "dist/main.js");
  const commands: Readonly<Record<string, readonly string[]>> = {
    "node -e 0": ["-e", "0"],
    "wyeplan --help": [main, "--help"],
    "wyeplan size": [main, "size", "--host", "6 in", "--cover", "8 ft", "--length", "60 ft"],
  };
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-startup-"));
  const least = new Map(Object.keys(commands).map((name) => [name, { wall: Infinity, processor: Infinity }]));
  try {
    const cpu = join(folder, "cpu.txt");
    writeFileSync(join(folder, "preload.cjs"), preload(cpu));
    for (let run = 0; run < RUNS; run++)
      for (const [name, args] of Object.entries(commands)) {
        const started = performance.now();
        const { status, stderr } = spawnSync(process.execPath, [
          "--require",
          join(folder, "preload.cjs"),
          ...args,
        ]);
        const wall = performance.now() - started;
        if (status !== 0) throw new Error(`${name} ended with ${status}: ${stderr}`);
        const processor = Number(readFileSync(cpu, "utf8"));
        const best = least.get(name)!;
        best.wall = Math.min(best.wall, wall);
        best.processor = Math.min(best.processor, processor);
      }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  const base = least.get("node -e 0")!;
  const right = (heading: string) => ({ heading, align: "right" as const });
  return `Start: least of ${RUNS} runs taken in turn, ms
${plainTable(
  [
    { heading: "Command", align: "left" },
    right("Wall"),
    right("over node"),
    right("Processor"),
    right("over node"),
    right("Target"),
  ],
  [...least].map(([name, { wall, processor }]) => [
    name,
    wall.toFixed(0),
    (wall - base.wall).toFixed(0),
    processor.toFixed(0),
    (processor - base.processor).toFixed(0),
    name in TARGETS ? String(TARGETS[name as keyof typeof TARGETS]) : "",
  ]),
)}`;
}

import { join } from "node:path";
import { plainTable } from "../../src/commands/plain-table.ts";
import { runNode } from "./run-program.ts";

const RUNS = 15;
/** What is asked of a start, ms over `node -e 0`. */
const TARGETS = { "wyeplan --help": 40, "wyeplan size": 250 } as const;

/** Wall and processor time of starting, least of several runs taken in turn, beside Node doing nothing. */
export function benchStartup(root: string): string {
  const main = join(root, "dist/main.js");
  const commands: Readonly<Record<string, readonly string[]>> = {
    "node -e 0": ["-e", "0"],
    "wyeplan --help": [main, "--help"],
    "wyeplan size": [main, "size", "--host", "6 in", "--cover", "8 ft", "--length", "60 ft"],
  };
  const least = new Map(Object.keys(commands).map((name) => [name, { wall: Infinity, processor: Infinity }]));
  for (let run = 0; run < RUNS; run++)
    for (const [name, args] of Object.entries(commands)) {
      const { seconds, processorSeconds } = runNode(name, args);
      const best = least.get(name)!;
      best.wall = Math.min(best.wall, seconds * 1000);
      best.processor = Math.min(best.processor, processorSeconds * 1000);
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

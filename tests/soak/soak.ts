/**
 * `npm run soak [-- --kills N --sheet-kills N --inputs N --minutes N --seed N --state FILE]`: kills the built program's
 * commands at N seeded moments (1,000 unless said) and its sheet on a pseudo-terminal at N more (1,000), drives it on
 * failing disks, feeds N damaged inputs (1,000,000) to everything that reads them, and prints a table of each. Stops after so many minutes (60) and says how far it came. Damaged inputs go on where
 * the state file says an earlier run has stopped. The exit code is 1 when anything was lost or broke.
 */
import { readFile, writeFile } from "node:fs/promises";
import { cpus } from "node:os";
import { parseArgs } from "node:util";
import * as z from "zod";
import { plainTable } from "../../src/commands/plain-table.ts";
import { diskFaults, meetDiskFault } from "./disk-faults.ts";
import { type FuzzCount, fuzz, MOST_MEGABYTES } from "./fuzz.ts";
import { commands, killRuns } from "./kill-runs.ts";
import { killSheets } from "./sheet-kills.ts";
import { hasScript } from "./sheet-pty.ts";
import { startWatchdog } from "./watchdog.ts";

const DISK_RUNS = 60;
/** Inputs between two writings of the state file. */
const BATCH = 2_000;

const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "1000" },
    "sheet-kills": { type: "string", default: "1000" },
    inputs: { type: "string", default: "1000000" },
    minutes: { type: "string", default: "60" },
    seed: { type: "string", default: "20261125" },
    state: { type: "string", default: ".soak-state.json" },
  },
});
const whole = (name: "kills" | "sheet-kills" | "inputs" | "minutes" | "seed"): number => {
  const read = Number(values[name]);
  if (!Number.isSafeInteger(read) || read < 0)
    throw new RangeError(`--${name}: a whole number, not ${values[name]}`);
  return read;
};
const seed = whole("seed");
const until = performance.now() + whole("minutes") * 60_000;
const print = (text: string) => void process.stdout.write(`${text}\n`);
const left = { heading: "", align: "left" } as const;
const right = (heading: string) => ({ heading, align: "right" }) as const;

print(`Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? "unknown"}, seed ${seed}`);
const broken = [
  ...(await soakInputs()),
  ...(await soakKills()),
  ...(await soakSheets()),
  ...(await soakDisks()),
];
for (const fault of broken) print(fault);
print(broken.length === 0 ? "Nothing was lost and nothing broke." : `${broken.length} faults, listed above.`);
process.exitCode = broken.length === 0 ? 0 : 1;

/** How far damaged inputs have come: the state file of an earlier run with the same seed. */
async function readState(): Promise<number> {
  try {
    const state = z
      .object({ seed: z.number(), next: z.number() })
      .parse(JSON.parse(await readFile(values.state, "utf8")));
    return state.seed === seed ? state.next : 0;
  } catch {
    return 0;
  }
}

async function soakInputs(): Promise<readonly string[]> {
  const wanted = whole("inputs");
  const before = await readState();
  if (wanted <= before) return [];
  const started = performance.now();
  const sums = new Map<string, FuzzCount>();
  const faults: string[] = [];
  const watchdog = await startWatchdog();
  let next = before;
  while (next < wanted && performance.now() < until && faults.length < 20) {
    const report = await fuzz(next, Math.min(wanted, next + BATCH), seed, until, watchdog);
    next += report.inputs;
    faults.push(...report.faults);
    for (const [name, count] of report.byTarget) sums.set(name, added(sums.get(name), count));
    await writeFile(values.state, `${JSON.stringify({ seed, next })}\n`);
  }
  await watchdog.stop();
  const rows = [...sums].map(([name, { inputs, taken, refused, ms, slowestMs }]) => [
    name,
    ...[inputs, taken, refused].map(String),
    ...[(1000 * ms) / Math.max(1, inputs), slowestMs].map((value) => value.toFixed(0)),
  ]);
  const headings = ["Inputs", "Taken", "Refused", "µs an input", "Slowest ms"].map(right);
  print(`\n${plainTable([{ ...left, heading: "Damaged" }, ...headings], rows)}`);
  const seconds = (performance.now() - started) / 1000;
  print(
    `Inputs ${before} to ${next} of ${wanted} in ${seconds.toFixed(0)} s, ${((next - before) / seconds).toFixed(0)} a second; peak memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB; faults ${faults.length}.`,
  );
  if (process.resourceUsage().maxRSS / 1024 > MOST_MEGABYTES)
    faults.push(`more than ${MOST_MEGABYTES} MB of memory`);
  return faults;
}

function added(sum: FuzzCount | undefined, count: FuzzCount): FuzzCount {
  if (sum === undefined) return count;
  return {
    inputs: sum.inputs + count.inputs,
    taken: sum.taken + count.taken,
    refused: sum.refused + count.refused,
    slowestMs: Math.max(sum.slowestMs, count.slowestMs),
    ms: sum.ms + count.ms,
  };
}

async function soakKills(): Promise<readonly string[]> {
  const wanted = whole("kills");
  if (wanted === 0) return [];
  const report = await killRuns(wanted, seed, until);
  const rows = commands.map((command) => {
    const { runs, killed, whileWriting, acknowledged, doneUnsaid } = report.byCommand[command];
    return [command, ...[runs, killed, whileWriting, acknowledged, doneUnsaid].map(String)];
  });
  print(
    `\n${plainTable(
      [
        { ...left, heading: "Command" },
        right("Runs"),
        right("Killed"),
        right("while writing"),
        right("Acknowledged"),
        right("Done, unsaid"),
      ],
      rows,
    )}`,
  );
  print(
    `${report.kills} of ${wanted} kills in ${report.seconds.toFixed(0)} s; torn ends planted ${report.torn.planted}, mended, said and kept aside ${report.torn.mended}; faults ${report.faults.length}.`,
  );
  return report.faults;
}

async function soakSheets(): Promise<readonly string[]> {
  const wanted = whole("sheet-kills");
  if (wanted === 0) return [];
  if (!hasScript) {
    print("\nKills of the sheet are skipped: there is no `script` (util-linux) to make a terminal.");
    return [];
  }
  const { kills, acknowledged, whileSaving, doneUnsaid, seconds, faults } = await killSheets(
    wanted,
    seed,
    until,
  );
  const counts = [kills, whileSaving, acknowledged, doneUnsaid].map(String);
  const headings = ["Killed", "before it said so", "Acknowledged", "Done, unsaid"].map(right);
  print(
    `\n${plainTable([{ ...left, heading: "Sheet on a terminal" }, ...headings], [["decide, undo, redo", ...counts]])}`,
  );
  print(`${kills} of ${wanted} kills of the sheet in ${seconds.toFixed(0)} s; faults ${faults.length}.`);
  return faults;
}

async function soakDisks(): Promise<readonly string[]> {
  if (whole("kills") === 0) return [];
  const rows: string[][] = [];
  const faults: string[] = [];
  for (const fault of diskFaults) {
    if (performance.now() > until) break;
    const report = await meetDiskFault(fault, DISK_RUNS, seed);
    if (report === null) {
      print("\nDisks that fail are skipped: this user may not mount a disk in memory.");
      return faults;
    }
    rows.push([
      fault,
      ...[report.runs, report.refused, report.done, report.killed, report.faults.length].map(String),
    ]);
    faults.push(...report.faults);
  }
  print(
    `\n${plainTable([{ ...left, heading: "Disk" }, right("Runs"), right("Refused"), right("Done"), right("Killed"), right("Faults")], rows)}`,
  );
  return faults;
}

/**
 * `npm run soak` (options: soak-options.ts): kills the built program's commands and its sheet on a pseudo-terminal at
 * seeded moments, drives it on failing disks, feeds damaged input to everything that reads it, and prints a table of each.
 * Says how far it came when the time is up. The exit code is 1 when anything was lost or broke, 2 when it was asked wrongly.
 */
import { readFile, writeFile } from "node:fs/promises";
import { cpus } from "node:os";
import * as z from "zod";
import { plainTable } from "../../src/commands/plain-table.ts";
import { diskFaults, meetDiskFault } from "./disk-faults.ts";
import { type FuzzCount, fuzz, fuzzOne, MOST_MEGABYTES } from "./fuzz.ts";
import { commands, killRuns } from "./kill-runs.ts";
import { killSheets } from "./sheet-kills.ts";
import { hasScript } from "./sheet-pty.ts";
import { readSoakOptions, SOAK_USAGE, type SoakOptions } from "./soak-options.ts";
import { startWatchdog } from "./watchdog.ts";

const DISK_RUNS = 60;
/** Inputs between two writings of the state file. */
const BATCH = 2_000;

const print = (text: string) => void process.stdout.write(`${text}\n`);
const left = { heading: "", align: "left" } as const;
const right = (heading: string) => ({ heading, align: "right" }) as const;

const asked = readSoakOptions(process.argv.slice(2));
if (asked.kind === "run") process.exitCode = await soak(asked.options);
else if (asked.kind === "help") print(SOAK_USAGE);
else {
  process.stderr.write(`${asked.because}\n\n${SOAK_USAGE}`);
  process.exitCode = 2;
}

async function soak(options: SoakOptions): Promise<number> {
  const until = performance.now() + options.minutes * 60_000;
  print(`Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? "unknown"}, seed ${options.seed}`);
  if (options.input !== null) return feedAgain(options.input, options.seed, options.keep);
  const broken = [
    ...(await soakInputs(options, until)),
    ...(await soakKills(options, until)),
    ...(await soakSheets(options, until)),
    ...(await soakDisks(options, until)),
  ];
  for (const fault of broken) print(fault);
  print(
    broken.length === 0 ? "Nothing was lost and nothing broke." : `${broken.length} faults, listed above.`,
  );
  return broken.length === 0 ? 0 : 1;
}

/** One damaged input, as a fault names it, to look at it and to keep it. */
async function feedAgain(number: number, seed: number, keep: string | null): Promise<number> {
  const watchdog = await startWatchdog();
  const { target, bytes, outcome, ms, faults } = await fuzzOne(number, seed, watchdog);
  await watchdog.stop();
  if (keep !== null) await writeFile(keep, bytes);
  print(
    `Input ${number}: ${target}, ${bytes.length} bytes, ${outcome} in ${ms.toFixed(0)} ms of a processor.`,
  );
  if (keep !== null) print(`Its bytes are in ${keep}.`);
  for (const fault of faults) print(fault);
  return faults.length === 0 ? 0 : 1;
}

/** How far damaged inputs have come: the state file of an earlier run with the same seed. */
async function readState({ state: file, seed }: SoakOptions): Promise<number> {
  try {
    const state = z
      .object({ seed: z.number(), next: z.number() })
      .parse(JSON.parse(await readFile(file, "utf8")));
    return state.seed === seed ? state.next : 0;
  } catch {
    return 0;
  }
}

async function soakInputs(options: SoakOptions, until: number): Promise<readonly string[]> {
  const { inputs: wanted, seed } = options;
  const before = await readState(options);
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
    await writeFile(options.state, `${JSON.stringify({ seed, next })}\n`);
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

async function soakKills({ kills: wanted, seed }: SoakOptions, until: number): Promise<readonly string[]> {
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

async function soakSheets(
  { sheetKills: wanted, seed }: SoakOptions,
  until: number,
): Promise<readonly string[]> {
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

async function soakDisks({ kills, seed }: SoakOptions, until: number): Promise<readonly string[]> {
  if (kills === 0) return [];
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

import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Random } from "../../sample-programs/random.ts";
import { type Entry, readLedger } from "./ledger.ts";
import { type Moment, runProgram } from "./run-program.ts";
import { cityFiles, laterals, makeSmallCity, settingsText } from "./small-city.ts";

export const diskFaults = ["full disk", "read-only disk", "vanished folder"] as const;
export type DiskFault = (typeof diskFaults)[number];

export interface DiskReport {
  readonly fault: DiskFault;
  runs: number;
  /** Refused with a message for people and exit code 2. */
  refused: number;
  /** Done all the same: there was room, or the folder went after the work. */
  done: number;
  killed: number;
  readonly faults: string[];
}

/** Bytes of the small disk: room for the program and a few dozen decisions. */
const DISK_BYTES = 256 * 1024;

/** A disk in memory that only this test uses; null where this user may not mount one. */
export function smallDisk(bytes = DISK_BYTES): {
  readonly folder: string;
  readonly remount: (option: string) => void;
  readonly close: () => void;
} | null {
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-disk-"));
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${bytes}`, "tmpfs", folder], { stdio: "ignore" });
  } catch {
    rmSync(folder, { recursive: true, force: true });
    return null;
  }
  return {
    folder,
    remount: (option) => void execFileSync("mount", ["-o", `remount,${option}`, folder]),
    close: () => {
      execFileSync("umount", ["-l", folder]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/**
 * Decides on a disk that is full, read-only or gone, some of the runs killed as well, and looks whether what was
 * acknowledged is there, nothing is half there, the message is for people, and all is well once the disk is.
 *
 * @returns null where no disk can be mounted
 */
export async function meetDiskFault(
  fault: DiskFault,
  runs: number,
  seed: number,
): Promise<DiskReport | null> {
  const disk = smallDisk();
  if (disk === null) return null;
  const random = new Random().restart(seed, 2, diskFaults.indexOf(fault));
  const report: DiskReport = { fault, runs: 0, refused: 0, done: 0, killed: 0, faults: [] };
  try {
    const folder = join(disk.folder, "city");
    await makeSmallCity(folder);
    let entries: readonly Entry[] = [];
    const decide = async (moment: Moment, during?: () => Promise<void>) => {
      const lateral = laterals[random.below(laterals.length)]!;
      const wanted: Entry = {
        kind: "set",
        lateral,
        value: `${3 + random.below(5)} in`,
        reason: `soak ${report.runs}`,
      };
      const args = ["decide", folder, lateral, "host_diameter", wanted.value, "--reason", wanted.reason];
      const running = runProgram(args, moment.kind === "at change" ? folder : disk.folder, moment);
      await during?.();
      return { wanted, ran: await running };
    };
    const verify = async (wanted: Entry, said: boolean, what: string) => {
      const text = await readFile(join(folder, "decisions.csv"), "utf8").catch(() => "");
      const found = readLedger(text).entries;
      const after = JSON.stringify([...entries, wanted]);
      if (said && JSON.stringify(found) !== after) report.faults.push(`${what}: acknowledged and lost`);
      if (![after, JSON.stringify(entries)].includes(JSON.stringify(found)))
        report.faults.push(`${what}: the log holds neither the old nor the new: ${text.slice(-300)}`);
      entries = found;
      for (const [name, of] of Object.entries({ ...cityFiles, "program.json": settingsText }))
        if ((await readFile(join(folder, name), "utf8")) !== of)
          report.faults.push(`${what}: ${name} has changed`);
    };

    for (let run = 0; run < runs && report.faults.length < 5; run++) {
      const moment: Moment = random.chance(0.3)
        ? { kind: "at change", change: 1 + random.below(6), ms: 0 }
        : { kind: "never" };
      const away = `${folder}-away`;
      let during: (() => Promise<void>) | undefined;
      if (fault === "full disk") await fill(disk.folder, random.below(3) * 4096);
      else if (fault === "read-only disk") disk.remount("ro");
      else
        during = async () => {
          await new Promise((resolve) => setTimeout(resolve, random.below(700)));
          await rename(folder, away);
        };
      const { wanted, ran } = await decide(during === undefined ? moment : { kind: "never" }, during);
      report.runs++;
      if (ran.code === null) report.killed++;
      else if (ran.code === 2) report.refused++;
      else if (ran.code === 0) report.done++;
      const what = `${fault}, run ${run}`;
      if (ran.code === 3 || ran.code === 1) report.faults.push(`${what}: ended ${ran.code}: ${ran.err}`);
      if (ran.code === 2 && !/no space left|read-only|no such file|not there/.test(ran.err))
        report.faults.push(`${what}: refused without the reason: ${ran.err}`);
      if (fault === "full disk") await rm(join(disk.folder, "filler"), { force: true });
      else if (fault === "read-only disk") disk.remount("rw");
      else await rename(away, folder);
      await verify(wanted, /Change set \d+; wyeplan undo/.test(ran.out), what);

      // Every few runs the disk is well again: the program must go on as if nothing had been.
      if (run % 5 !== 4) continue;
      const well = await decide({ kind: "never" });
      if (well.ran.code !== 0)
        report.faults.push(`${what}: then, on a sound disk, ended ${well.ran.code}: ${well.ran.err}`);
      await verify(well.wanted, true, `${what}, sound again`);
      const size = (await readFile(join(folder, "decisions.csv"))).length;
      // Decisions fill the small disk: begin anew.
      if (size > DISK_BYTES / 4) {
        await rm(folder, { recursive: true });
        await makeSmallCity(folder);
        entries = [];
      }
    }
  } finally {
    disk.close();
  }
  return report;
}

/** Fills a disk but for so many bytes, or nearly: a disk counts in blocks. */
export async function fill(folder: string, free: number): Promise<void> {
  const filler = join(folder, "filler");
  const written: Buffer[] = [];
  for (;;) {
    try {
      written.push(Buffer.alloc(4096, 1));
      await writeFile(filler, Buffer.concat(written));
    } catch {
      break;
    }
  }
  const left = Math.max(0, (written.length - 1) * 4096 - free);
  await writeFile(filler, Buffer.alloc(left, 1)).catch(() => undefined);
}

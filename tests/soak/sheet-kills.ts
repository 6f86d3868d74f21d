import { watch } from "node:fs";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Random } from "../../sample-programs/random.ts";
import { readDecisionLog } from "../../src/program/decision-log.ts";
import { foldDecisions } from "../../src/program/decisions.ts";
import { type Entry, readLedger, stacks, standingValues } from "./ledger.ts";
import { SheetPty } from "./sheet-pty.ts";
import { cityFiles, makeSmallCity, settingsText } from "./small-city.ts";

export interface SheetKillReport {
  kills: number;
  /** Decisions, undos and redos that the screen said were done. */
  acknowledged: number;
  /** Killed between the key that decides and the screen's word that it is done. */
  whileSaving: number;
  /** Of those, how many were safe already. */
  doneUnsaid: number;
  seconds: number;
  readonly faults: string[];
}

const RUNS_A_FOLDER = 25;
/** A machine that is busy shows a prompt late; a key pressed before it would be another key. */
const [RIGHT, UP, DOWN, ENTER, UNDO, REDO] = [
  "\u001b[C",
  "\u001b[A",
  "\u001b[B",
  "\r",
  "\u001a",
  "\u0019",
] as const;
/** What the sheet says once a change is on the disk. */
const SAID = /Lateral (\S+), Host dia\.: .*before: /;

/**
 * Opens the sheet on a pseudo-terminal, decides, undoes and redoes by keys, and kills it at a seeded moment: what the screen said was
 * done must be in decisions.csv, what was asked last is there whole or not at all, and the next one opens to write.
 */
export async function killSheets(
  kills: number,
  seed: number,
  until = Number.POSITIVE_INFINITY,
): Promise<SheetKillReport> {
  const random = new Random().restart(seed, 4, 0);
  const started = performance.now();
  const report: SheetKillReport = {
    kills: 0,
    acknowledged: 0,
    whileSaving: 0,
    doneUnsaid: 0,
    seconds: 0,
    faults: [],
  };
  while (report.kills < kills && performance.now() < until && report.faults.length < 5) {
    const home = await mkdtemp(join(tmpdir(), "wyeplan-sheet-"));
    try {
      const city = new SheetCity(join(home, "city"), random, report);
      await makeSmallCity(city.folder);
      for (let run = 0; run < RUNS_A_FOLDER && report.kills < kills && performance.now() < until; run++) {
        const found = await city.run();
        report.kills++;
        report.faults.push(...found.map((fault) => `seed ${seed}, sheet kill ${report.kills}: ${fault}`));
        if (found.length > 0) break;
      }
    } catch (error) {
      report.faults.push(`seed ${seed}, after sheet kill ${report.kills}: ${String(error)}`);
    } finally {
      await rm(home, { recursive: true, force: true });
    }
  }
  report.seconds = (performance.now() - started) / 1000;
  return report;
}

class SheetCity {
  readonly folder: string;
  readonly #random: Random;
  readonly #report: SheetKillReport;
  #entries: readonly Entry[] = [];
  #serial = 0;

  constructor(folder: string, random: Random, report: SheetKillReport) {
    this.folder = folder;
    this.#random = random;
    this.#report = report;
  }

  /** One sheet from opening to its death, and what is wrong after it. */
  async run(): Promise<readonly string[]> {
    const random = this.#random;
    const sheet = new SheetPty(this.folder);
    const edits = random.below(4);
    if ((await sheet.see(/lateral \d of 5/)) === null) return [`did not open: ${sheet.text.slice(-500)}`];
    if (/[Rr]ead only/.test(sheet.text)) return [await ended(sheet, "opened for looking only")];
    for (let right = 0; right < 6; right++) sheet.press(RIGHT);
    await sheet.see(/Host dia\.: \S/);
    for (let edit = 0; edit < edits; edit++) {
      const asked = await this.#ask(sheet);
      const said = await sheet.see(SAID, asked.from);
      if (said === null) return [`ended by itself: ${sheet.text.slice(-500)}`];
      this.#entries = [...this.#entries, entryOf(asked.wanted, said)];
      this.#report.acknowledged++;
    }
    return this.#lastOf(sheet);
  }

  /** The change in which it is killed: while the prompt is open, while it saves, or once it has said so. */
  async #lastOf(sheet: SheetPty): Promise<readonly string[]> {
    const random = this.#random;
    const change = 1 + random.below(4);
    const watching = watch(this.folder);
    let changes = 0;
    const atChange = new Promise<void>((resolve) => {
      watching.on("change", () => {
        if (++changes === change) resolve();
      });
    });
    const asked = await this.#ask(sheet);
    const late = new Promise<void>((resolve) => setTimeout(resolve, random.next() * 25));
    await (random.chance(0.5) ? Promise.race([atChange, sheet.see(SAID, asked.from)]) : late);
    await sheet.kill();
    watching.close();
    // The terminal hands over what was written before the kill: what stands in it was said.
    const said = SAID.exec(sheet.text.slice(asked.from));
    if (said === null) this.#report.whileSaving++;
    else this.#report.acknowledged++;
    return this.#lookAfter(asked.wanted, said);
  }

  /** Presses the keys of a change up to the one that saves it. */
  async #ask(sheet: SheetPty): Promise<{ readonly wanted: Wanted; readonly from: number }> {
    const random = this.#random;
    const { done, undone } = stacks(this.#entries);
    if (done.length > 0 && random.chance(0.2)) {
      const from = sheet.text.length;
      sheet.press(UNDO);
      return { wanted: { kind: "undo", target: done.at(-1)! }, from };
    }
    if (undone.length > 0 && random.chance(0.5)) {
      const from = sheet.text.length;
      sheet.press(REDO);
      return { wanted: { kind: "redo", target: undone.at(-1)! }, from };
    }
    for (let moves = random.below(4); moves > 0; moves--) sheet.press(random.chance(0.5) ? UP : DOWN);
    const value = String(3 + random.below(5));
    const reason = `soak ${++this.#serial}`;
    let from = sheet.text.length;
    sheet.press(value);
    await sheet.see(/takes it as/, from);
    from = sheet.text.length;
    sheet.press(ENTER);
    await sheet.see(/Why:/, from);
    from = sheet.text.length;
    sheet.press(reason);
    await sheet.see(new RegExp(reason), from);
    from = sheet.text.length;
    sheet.press(ENTER);
    return { wanted: { kind: "set", value: `${value} in`, reason }, from };
  }

  async #lookAfter(wanted: Wanted, said: RegExpExecArray | null): Promise<readonly string[]> {
    const faults: string[] = [];
    const { entries } = readLedger(
      await readFile(join(this.folder, "decisions.csv"), "utf8").catch(() => ""),
    );
    const before = JSON.stringify(this.#entries);
    const last = entries.at(-1);
    const isNew =
      entries.length === this.#entries.length + 1 && last !== undefined && fits(last, wanted, said);
    if (JSON.stringify(isNew ? entries.slice(0, -1) : entries) !== before)
      faults.push(
        `the log is ${JSON.stringify(entries)}, said were ${before}, asked ${JSON.stringify(wanted)}`,
      );
    if (said !== null && !isNew) faults.push(`said and lost: ${said[0]}`);
    if (said === null && isNew) this.#report.doneUnsaid++;
    this.#entries = entries;

    const log = await readDecisionLog(this.folder);
    const damage = log.problems.filter(({ severity }) => severity === "rejected");
    if (damage.length > 0) faults.push(`the log is damaged: ${JSON.stringify(damage)}`);
    const held = [...foldDecisions(log.sets).decisions].flatMap(([id, of]) =>
      [...of.values()].map(({ written }) => `${id}=${written}`),
    );
    const byHand = [...standingValues(entries)].map(([id, value]) => `${id}=${value}`);
    if (held.sort().join() !== byHand.sort().join())
      faults.push(`the program holds ${held.join()}, by hand ${byHand.join()}`);
    for (const [name, text] of Object.entries({ ...cityFiles, "program.json": settingsText }))
      if ((await readFile(join(this.folder, name), "utf8")) !== text) faults.push(`${name} has changed`);
    const strange = (await readdir(this.folder)).filter(
      (name) =>
        !/^(laterals|inspections|decisions|decisions\.torn-\d+)\.csv$|^program\.json$|^\.wyeplan-lock/.test(
          name,
        ),
    );
    if (strange.length > 0) faults.push(`left behind: ${strange.join(", ")}`);
    return faults;
  }
}

/** A change asked by keys: the lateral of a set is the one under the cursor, which only the screen knows. */
type Wanted =
  | { readonly kind: "set"; readonly value: string; readonly reason: string }
  | { readonly kind: "undo" | "redo"; readonly target: number };

const entryOf = (wanted: Wanted, said: RegExpExecArray): Entry =>
  wanted.kind === "set"
    ? { kind: "set", lateral: said[1]!, value: wanted.value, reason: wanted.reason }
    : wanted;

/** Whether an entry is what was asked, and what the screen said where it said anything. */
function fits(entry: Entry, wanted: Wanted, said: RegExpExecArray | null): boolean {
  if (said !== null) return JSON.stringify(entry) === JSON.stringify(entryOf(wanted, said));
  if (wanted.kind !== "set" || entry.kind !== "set") return JSON.stringify(entry) === JSON.stringify(wanted);
  return entry.value === wanted.value && entry.reason === wanted.reason;
}

async function ended(sheet: SheetPty, what: string): Promise<string> {
  await sheet.kill();
  return `${what}: ${sheet.text.slice(-500)}`;
}

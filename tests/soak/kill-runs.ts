import { createHash } from "node:crypto";
import { appendFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Random } from "../../sample-programs/random.ts";
import { readDecisionLog } from "../../src/program/decision-log.ts";
import { foldDecisions } from "../../src/program/decisions.ts";
import { readSettings } from "../../src/program/settings.ts";
import { type Entry, readLedger, stacks, standingValues } from "./ledger.ts";
import { type Moment, type Ran, runProgram } from "./run-program.ts";
import { ADDED_NAME, addedText, cityFiles, laterals, makeSmallCity, settingsText } from "./small-city.ts";

export const commands = ["decide", "undo", "redo", "add", "remove", "plan", "workbook"] as const;
export type KilledCommand = (typeof commands)[number];

/** How often each command is drawn: most runs decide. */
const WEIGHTS: Readonly<Record<KilledCommand, number>> = {
  decide: 10,
  undo: 3,
  redo: 2,
  add: 2,
  remove: 2,
  plan: 1,
  workbook: 1,
};

export interface KillCount {
  runs: number;
  killed: number;
  /** The process held the lock when it was killed. */
  whileWriting: number;
  /** Done and said so. */
  acknowledged: number;
  /** Killed after the change was safe and before it was said. */
  doneUnsaid: number;
}

export interface KillReport {
  readonly byCommand: Readonly<Record<KilledCommand, KillCount>>;
  /** Torn ends put on the log by hand, and how many of them the next change cut, kept aside and said. */
  readonly torn: { planted: number; mended: number };
  readonly kills: number;
  readonly seconds: number;
  /** What was not as it should be; empty when nothing was lost. */
  readonly faults: readonly string[];
}

/** Runs on one folder before a new one is made. */
const RUNS_A_FOLDER = 40;
const TORN_ONE_IN = 8;

/**
 * Runs the built program on a small city again and again, kills it at a seeded moment, and looks after each kill
 * whether every acknowledged decision is there, none half there, and the city's files are as they were.
 *
 * @param until clock of `performance.now()` after which no further run is begun
 */
export async function killRuns(
  kills: number,
  seed: number,
  until = Number.POSITIVE_INFINITY,
): Promise<KillReport> {
  const random = new Random().restart(seed, 1, 0);
  const started = performance.now();
  const count = () => ({ runs: 0, killed: 0, whileWriting: 0, acknowledged: 0, doneUnsaid: 0 });
  const byCommand = Object.fromEntries(commands.map((command) => [command, count()])) as Record<
    KilledCommand,
    KillCount
  >;
  const torn = { planted: 0, mended: 0 };
  const faults: string[] = [];
  let done = 0;
  while (done < kills && performance.now() < until && faults.length < 20) {
    const city = await KilledCity.make(random, byCommand, torn);
    try {
      for (let run = 0; run < RUNS_A_FOLDER && done < kills && performance.now() < until; run++) {
        const { killed, faults: found } = await city.run();
        if (killed) done++;
        faults.push(...found.map((fault) => `seed ${seed}, kill ${done}: ${fault}`));
        if (found.length > 0) break;
      }
      faults.push(...(await city.end()).map((fault) => `seed ${seed}, after kill ${done}: ${fault}`));
    } catch (error) {
      faults.push(`seed ${seed}, after kill ${done}: ${String(error)}`);
    } finally {
      await rm(city.home, { recursive: true, force: true });
    }
  }
  return { byCommand, torn, kills: done, seconds: (performance.now() - started) / 1000, faults };
}

/** How long each command takes, learned on the way, so that kills fall anywhere in it. */
const usualMs: Partial<Record<KilledCommand, number>> = {};

class KilledCity {
  readonly home: string;
  readonly folder: string;
  readonly #random: Random;
  readonly #counts: Record<KilledCommand, KillCount>;
  readonly #torn: { planted: number; mended: number };
  #entries: readonly Entry[] = [];
  #added = false;
  #serial = 0;

  private constructor(
    home: string,
    random: Random,
    counts: Record<KilledCommand, KillCount>,
    torn: { planted: number; mended: number },
  ) {
    this.home = home;
    this.folder = join(home, "city");
    this.#random = random;
    this.#counts = counts;
    this.#torn = torn;
  }

  static async make(
    ...given: [Random, Record<KilledCommand, KillCount>, { planted: number; mended: number }]
  ) {
    const city = new KilledCity(await mkdtemp(join(tmpdir(), "wyeplan-soak-")), ...given);
    await makeSmallCity(city.folder);
    await writeFile(join(city.home, ADDED_NAME), addedText);
    return city;
  }

  /** One run of one command, killed or not, and what is wrong after it. */
  async run(): Promise<{ readonly killed: boolean; readonly faults: readonly string[] }> {
    const command = this.#draw();
    const counts = this.#counts[command];
    const wanted = this.#entryOf(command);
    const ran = await runProgram(this.#args(command, wanted), this.folder, this.#moment(command));
    counts.runs++;
    const killed = ran.code === null;
    if (killed) counts.killed++;
    else usualMs[command] = ran.ms;
    if (killed && (await readdir(this.folder)).includes(".wyeplan-lock")) counts.whileWriting++;
    const faults = await this.#lookAfter(command, wanted, ran, counts);
    if (faults.length === 0 && this.#random.below(TORN_ONE_IN) === 0) faults.push(...(await this.#tear()));
    return { killed, faults };
  }

  /** The last look: a run of each kind that nobody kills, and nothing left behind by those that were killed. */
  async end(): Promise<readonly string[]> {
    const faults: string[] = [];
    for (const command of ["decide", this.#added ? "remove" : "add", "workbook", "plan"] as const) {
      const wanted = this.#entryOf(command);
      const ran = await runProgram(this.#args(command, wanted), this.folder);
      if (ran.code !== 0) faults.push(`${command} after the kills ended ${ran.code}: ${ran.err}${ran.out}`);
      faults.push(...(await this.#lookAfter(command, wanted, ran, { ...this.#counts[command] })));
    }
    const left = (await readdir(this.folder, { recursive: true })).filter((name) =>
      /\.part$|\.wyeplan-lock/.test(name),
    );
    if (left.length > 0) faults.push(`left behind: ${left.join(", ")}`);
    return faults;
  }

  #draw(): KilledCommand {
    const possible = commands.filter((command) => {
      const { done, undone } = stacks(this.#entries);
      if (command === "undo") return done.length > 0;
      if (command === "redo") return undone.length > 0;
      if (command === "add") return !this.#added;
      return command !== "remove" || this.#added;
    });
    let at = this.#random.below(possible.reduce((sum, command) => sum + WEIGHTS[command], 0));
    for (const command of possible) {
      at -= WEIGHTS[command];
      if (at < 0) return command;
    }
    return "decide";
  }

  #moment(command: KilledCommand): Moment {
    const usual = usualMs[command];
    const random = this.#random;
    const kind = random.next();
    if (kind < 0.08) return { kind: "never" };
    // Most of a run is start-up: half of the kills wait for the writing to begin.
    if (kind < 0.65 && command !== "plan")
      return { kind: "at change", change: 1 + random.below(8), ms: random.chance(0.4) ? 0 : random.below(6) };
    return { kind: "after", ms: random.next() * (usual ?? 1500) * 1.1 };
  }

  #entryOf(command: KilledCommand): Entry | null {
    const { done, undone } = stacks(this.#entries);
    if (command === "undo") return { kind: "undo", target: done.at(-1) ?? Number.NaN };
    if (command === "redo") return { kind: "redo", target: undone.at(-1) ?? Number.NaN };
    if (command !== "decide") return null;
    const lateral = laterals[this.#random.below(laterals.length)]!;
    const value = `${3 + this.#random.below(5)} in`;
    return { kind: "set", lateral, value, reason: `soak ${++this.#serial}` };
  }

  #args(command: KilledCommand, wanted: Entry | null): readonly string[] {
    const { folder } = this;
    switch (command) {
      case "decide":
        if (wanted?.kind !== "set") throw new Error("#args: decide without a decision");
        return ["decide", folder, wanted.lateral, "host_diameter", wanted.value, "--reason", wanted.reason];
      case "add":
        return ["add", folder, "--inspections", join(this.home, ADDED_NAME)];
      case "remove":
        return ["remove", folder, "--inspections", ADDED_NAME];
      case "undo":
      case "redo":
      case "plan":
      case "workbook":
        return [command, folder];
      default:
        return command satisfies never;
    }
  }

  async #lookAfter(
    command: KilledCommand,
    wanted: Entry | null,
    ran: Ran,
    counts: KillCount,
  ): Promise<string[]> {
    const faults: string[] = [];
    if (ran.code !== null && ran.code !== 0) faults.push(`${command} ended ${ran.code}: ${ran.err}`);
    const said = SAID[command].test(ran.out);
    if (said) counts.acknowledged++;

    // Decisions, by a reader of our own.
    const text = await readFile(join(this.folder, "decisions.csv"), "utf8").catch(() => "");
    const { entries } = readLedger(text);
    const before = JSON.stringify(this.#entries);
    const after = wanted === null ? before : JSON.stringify([...this.#entries, wanted]);
    const found = JSON.stringify(entries);
    if (found !== before && found !== after)
      faults.push(
        `${command}: the log holds neither what was before nor what was asked: ${found.slice(-300)}`,
      );
    if (said && found !== after) faults.push(`${command}: acknowledged and lost`);
    if (wanted !== null && found === after && !said) counts.doneUnsaid++;
    this.#entries = entries;

    // The program's own reader agrees with a fold done by hand.
    const log = await readDecisionLog(this.folder);
    const damage = log.problems.filter(({ severity }) => severity === "rejected");
    if (damage.length > 0) faults.push(`${command}: the log is damaged: ${JSON.stringify(damage)}`);
    const { decisions } = foldDecisions(log.sets);
    const held = [...decisions].flatMap(([id, of]) =>
      [...of.values()].map(({ written }) => `${id}=${written}`),
    );
    const byHand = [...standingValues(entries)].map(([id, value]) => `${id}=${value}`);
    if (held.sort().join() !== byHand.sort().join())
      faults.push(`${command}: the program holds ${held.join()}, by hand ${byHand.join()}`);

    faults.push(...(await this.#lookAtFiles(command, said)));
    return faults;
  }

  async #lookAtFiles(command: KilledCommand, said: boolean): Promise<string[]> {
    const faults: string[] = [];
    for (const [name, text] of Object.entries(cityFiles))
      if ((await readFile(join(this.folder, name), "utf8")) !== text)
        faults.push(`${command}: ${name} has changed`);
    const settings = await readSettings(this.folder);
    if (!settings.ok)
      return [...faults, `${command}: program.json cannot be read: ${JSON.stringify(settings)}`];
    const { added_inspections: added = [], ...rest } = settings.settings;
    if (JSON.stringify(rest) !== JSON.stringify(JSON.parse(settingsText)))
      faults.push(`${command}: the settings have changed`);
    const names = added.map(({ file }) => file).join();
    const isAdded = names === `inspections/${ADDED_NAME}`;
    if (!isAdded && names !== "") faults.push(`${command}: added are ${names}`);
    if (isAdded) {
      const hash = hashOf(await readFile(join(this.folder, names)));
      if (hash !== hashOf(Buffer.from(addedText)))
        faults.push(`${command}: ${names} is not the file that was added`);
    }
    if (said && (command === "add" || command === "remove") && isAdded !== (command === "add"))
      faults.push(`${command}: acknowledged and lost`);
    if (command !== "add" && command !== "remove" && isAdded !== this.#added)
      faults.push(`${command}: an added file has come or gone`);
    this.#added = isAdded;
    const outputs = await readdir(join(this.folder, "outputs")).catch(() => []);
    for (const name of outputs.filter((of) => of.endsWith(".xlsx")))
      if (!isWholeZip(await readFile(join(this.folder, "outputs", name))))
        faults.push(`${command}: ${name} is cut`);
    if (said && command === "workbook" && outputs.filter((of) => /^[^.].*\.xlsx$/.test(of)).length !== 2)
      faults.push(`workbook: not both books are there: ${outputs.join()}`);
    return faults;
  }

  /** Puts the beginning of a change at the end of the log, as a power failure may, and looks whether the next change mends it. */
  async #tear(): Promise<readonly string[]> {
    if (this.#entries.length === 0) return [];
    const path = join(this.folder, "decisions.csv");
    const next =
      "9999,999,set,,2026-03-01T08:00:00.000Z,a tester,00417,host_diameter,8 in,never finished é\n";
    const bytes = Buffer.from(next).subarray(0, 1 + this.#random.below(Buffer.byteLength(next)));
    // What a kill has torn before stands in front of it, and is kept aside with it.
    const whole = await readFile(path, "utf8");
    if (readLedger(whole).torn) return [];
    await appendFile(path, bytes);
    this.#torn.planted++;
    const wanted = this.#entryOf("decide");
    const ran = await runProgram(this.#args("decide", wanted), this.folder);
    const faults = await this.#lookAfter("decide", wanted, ran, { ...this.#counts.decide });
    const named = /decisions\.torn-\d+\.csv/.exec(ran.err)?.[0];
    if (named === undefined) return [...faults, `a torn end was mended without a word: ${ran.err}`];
    if (!(await readFile(join(this.folder, named))).equals(bytes))
      return [...faults, `${named} does not hold the torn bytes`];
    if (faults.length === 0) this.#torn.mended++;
    return faults;
  }
}

/** What each command prints once its change is safe. */
const SAID: Readonly<Record<KilledCommand, RegExp>> = {
  decide: /Change set \d+; wyeplan undo/,
  undo: /Change set \d+ is undone/,
  redo: /Change set \d+ holds again/,
  add: /^Added /m,
  remove: /^Took /m,
  plan: /Cautions/,
  workbook: /planning-book\.xlsx/,
};

const hashOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

/** A zip file ends with its directory's place: a cut one does not (PKWARE application note, 4.3.16). */
function isWholeZip(bytes: Buffer): boolean {
  const end = bytes.length - 22;
  if (end < 0 || bytes.readUInt32LE(end) !== 0x06054b50) return false;
  return bytes.readUInt32LE(end + 16) + bytes.readUInt32LE(end + 12) === end;
}

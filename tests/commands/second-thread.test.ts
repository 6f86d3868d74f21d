import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planInThreads } from "../../src/commands/plan-in-threads.ts";
import { type BesideDone, type BesideJob, PlanThread, threadAhead } from "../../src/commands/plan-thread.ts";
import { countGrades, emptyRecord, listBlockages } from "../../src/season/city-record.ts";
import { blockageFits, gatherRecord } from "../../src/season/fits.ts";
import { joinBlocks, sharePlan } from "../../src/season/plan-blocks.ts";
import { planSheet, type Wanted } from "../../src/season/plan-sheet.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { builtWorker } from "./built-worker.ts";
import { sampleCopy } from "./sample-copy.ts";

const root = new URL("../..", import.meta.url).pathname;
const samples = ["quennock-falls", "kaltwendel"].map((name) => join(root, "sample-programs", name));
const folder = await mkdtemp(join(tmpdir(), "wyeplan-thread-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

const built = await builtWorker("plan-rows", folder);
const threading = { worker: built, fromBytes: 0 };

async function planned(program: string, at?: typeof threading, wanted: Wanted = "everything") {
  const loaded = await loadProgram(program, undefined, wanted, new PlanThread(at));
  if (!loaded.ok) throw new Error(`${program} does not load`);
  return loaded.program;
}

/** What a plan is made of, without what is made of functions, and without the order, which totals do not have. */
function madeOf(program: PlannedProgram) {
  const {
    basis: _basis,
    filters: _filters,
    order: _order,
    ...parts
  } = Object.getOwnPropertyDescriptors(program);
  return Object.fromEntries(Object.entries(parts).map(([key, { value }]) => [key, value]));
}

/** In the order they are asked for. */
const early = ["read inspections", "read record", "fit blockages", "plan rows"] as const;
const jobs = { everything: [...early, "rank"], totals: [...early, "sum"] } as const;
const ends = [
  ["throws", 'throw new Error("no more today")'],
  ["exits", "process.exit(0)"],
] as const;

/** The built worker, but for one kind of job: of that it takes a block of rows, if there are any to take, and ends. */
async function failingWorker(kind: string, how: string, end: string): Promise<URL> {
  const file = join(folder, `${how} at ${kind}.mjs`);
  await writeFile(
    file,
    `import { parentPort } from "node:worker_threads";
    import ${JSON.stringify(built.href)};
    parentPort.on("message", (job) => {
      if (job.kind !== ${JSON.stringify(kind)}) return;
      const taken = job.plan?.taken ?? job.rows?.taken;
      if (taken !== undefined) {
        Atomics.add(taken, 0, 1);
        Atomics.notify(taken, 0);
      }
      ${end};
    });`,
  );
  return pathToFileURL(file);
}

/** Notes what it is asked for, and lets the other thread take a block of the job it fails at: the first, of a city that is no more than one. */
class Watched extends PlanThread {
  readonly asked: string[] = [];
  readonly #failsAt: string;

  constructor(worker: URL, failsAt: string) {
    super({ worker, fromBytes: 0 });
    this.#failsAt = failsAt;
  }

  override ask(job: BesideJob): Promise<BesideDone> {
    this.asked.push(job.kind);
    const done = super.ask(job);
    const taken =
      job.kind === "plan rows" ? job.plan.taken : job.kind === "read record" ? job.rows.taken : null;
    if (taken !== null && job.kind === this.#failsAt) Atomics.wait(taken, 0, 0, PATIENCE);
    return done;
  }
}

/** Milliseconds, on a machine with much else to do. */
const PATIENCE = 10_000;

describe("the second thread", () => {
  it("plans every block of a sheet as this thread plans the whole", async () => {
    const { tables, basis } = await planned(samples[0]!);
    const { scores: _, ownColumns: _own, filters: _filters, ruleBook: _rules, fits, ...data } = basis;
    const second = new PlanThread(threading);
    second.startFor(1);
    expect(second.isWorking).toBe(true);
    const plan = sharePlan(tables.laterals.rows, basis, "everything", 7);
    try {
      const done = await second.ask({ kind: "plan rows", tables, basis: data, fits, plan });
      if (done.kind !== "plan rows") throw new Error("another job was done");
      expect(done.blocks).toHaveLength(Math.ceil(tables.laterals.rows / 7));
      expect(joinBlocks(tables, { plan, blocks: done.blocks })).toEqual(planSheet(tables, basis));
    } finally {
      await second.end();
    }
  });

  it("reads a city's record and fits its blockages as this thread does", async () => {
    const { tables, basis } = await planned(samples[0]!);
    const { scores: _, ownColumns: _own, filters: _filters, ruleBook: _rules, fits: _fits, ...data } = basis;
    const second = new PlanThread(threading);
    second.startFor(1);
    const rows = emptyRecord(tables.laterals.rows);
    try {
      await second.ask({ kind: "read record", tables, basis: data, rows });
      const fitted = await second.ask({ kind: "fit blockages", rows, basis: data });
      expect(fitted).toEqual({ kind: "fit blockages", fits: blockageFits(rows, basis) });
    } finally {
      await second.end();
    }
    const { blockages, ...graded } = gatherRecord(tables, basis);
    expect(countGrades(rows, basis)).toEqual(graded);
    expect(listBlockages(rows, basis)).toEqual(blockages);
    // Nothing is left to read: a block was taken, of all 400 laterals, and one that is none.
    expect(rows.taken[0]).toBe(2);
  });

  it("stops with a plan that is stopped, and takes the next", async () => {
    const { tables, basis } = await planned(samples[0]!);
    const second = new PlanThread(threading);
    second.startFor(1);
    const stop = () => {
      throw new Error("no longer wanted");
    };
    try {
      await expect(planInThreads(tables, basis, stop, "everything", second)).rejects.toThrow(
        "no longer wanted",
      );
      const whole = await planInThreads(tables, basis, undefined, "everything", second);
      expect(joinBlocks(tables, whole)).toEqual(planSheet(tables, basis));
    } finally {
      await second.end();
    }
  });

  const plans = samples.flatMap((sample) =>
    (["everything", "totals"] as const).map((wanted) => ({ sample, wanted })),
  );
  it.each(plans)(
    "leaves no trace in what is read and planned: $wanted of $sample",
    async ({ sample, wanted }) => {
      const alone = await planned(sample, undefined, wanted);
      const beside = await planned(sample, threading, wanted);
      expect(madeOf(beside)).toEqual(madeOf(alone));
      expect(beside.basis.fits).toEqual(alone.basis.fits);
      if (wanted === "everything") expect(beside.order).toEqual(alone.order);
    },
  );

  it("is started ahead where the settings name a lateral file that is big enough, and nowhere else", async () => {
    const isStarted = async (program: string, fromBytes: number) => {
      const second = await threadAhead(program, { worker: built, fromBytes });
      const { isWorking } = second;
      await second.end();
      return isWorking;
    };
    expect(await isStarted(samples[0]!, 1)).toBe(true);
    expect(await isStarted(samples[0]!, 1e9)).toBe(false);
    const damaged = join(folder, "damaged");
    await mkdir(damaged);
    expect(await isStarted(damaged, 1)).toBe(false);
    await writeFile(join(damaged, "program.json"), '{"laterals": 7');
    expect(await isStarted(damaged, 1)).toBe(false);
  });

  it("is not missed where it fails: this thread does all of it", async () => {
    const broken = join(folder, "broken.mjs");
    await writeFile(broken, 'throw new Error("no thread today");');
    const alone = await planned(samples[0]!);
    const beside = await planned(samples[0]!, { ...threading, worker: pathToFileURL(broken) });
    expect(beside.laterals).toEqual(alone.laterals);
    expect(beside.problems).toEqual(alone.problems);
  });

  it("ranks, and does not sum, where totals are wanted and a formula reads the rank", async () => {
    const ranked = sampleCopy("quennock-falls", (settings: { recipe: object }) => {
      settings.recipe = { ...settings.recipe, filters: { first: "rank <= 10" } };
    });
    const second = new Watched(built, "nothing");
    const loaded = await loadProgram(ranked, undefined, "totals", second);
    if (!loaded.ok) throw new Error("it does not load");
    expect(second.asked).toEqual(jobs.everything);
    expect(loaded.program.filters.map(({ name, count }) => [name, count])).toContainEqual(["first", 10]);
  });

  const failures = [
    ...jobs.everything.map((kind) => ({ kind, wanted: "everything" as const })),
    { kind: "sum", wanted: "totals" } as const,
  ];
  it.each(failures.flatMap((failure) => ends.map(([how, end]) => ({ ...failure, how, end }))))(
    "is not missed where it $how when asked to $kind, with a block in hand if there are any: this thread does all of it",
    async ({ kind, wanted, how, end }) => {
      const alone = await planned(samples[0]!, undefined, wanted);
      const second = new Watched(await failingWorker(kind, how, end), kind);
      const loaded = await loadProgram(samples[0]!, undefined, wanted, second);
      if (!loaded.ok) throw new Error("it does not load");
      const asked: readonly string[] = jobs[wanted];
      expect(second.asked).toEqual(asked.slice(0, asked.indexOf(kind) + 1));
      expect(madeOf(loaded.program)).toEqual(madeOf(alone));
      expect(loaded.program.basis.fits).toEqual(alone.basis.fits);
      if (wanted === "everything") expect(loaded.program.order).toEqual(alone.order);
    },
  );

  it.each(ends)("does not keep a plan from being stopped where it %s", async (how, end) => {
    const { tables, basis } = await planned(samples[0]!);
    const second = new PlanThread({ worker: await failingWorker("plan rows", how, end), fromBytes: 0 });
    second.startFor(1);
    let told = 0;
    const stop = () => {
      told++;
      throw new Error("no longer wanted");
    };
    await expect(planInThreads(tables, basis, stop, "everything", second)).rejects.toThrow(
      "no longer wanted",
    );
    // Once, by the first block: nothing is planned after it.
    expect(told).toBe(1);
    expect(second.isWorking).toBe(false);
    await second.end();
  });

  it("can be started again when it was ended, which is no failure", async () => {
    const second = new PlanThread(threading);
    second.startFor(1);
    await second.end();
    expect(second.isWorking).toBe(false);
    second.startFor(1);
    expect(second.isWorking).toBe(true);
    await second.end();
  });
});

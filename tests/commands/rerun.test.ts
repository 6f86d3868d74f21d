import { cp, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { WINTER_FILE, winterSurveys } from "../../sample-programs/winter-surveys.ts";
import { addInspections } from "../../src/commands/add.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { compareSnapshots } from "../../src/commands/compare.ts";
import { compareRuns } from "../../src/commands/compare-runs.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { removeInspections } from "../../src/commands/remove.ts";
import { takeRun } from "../../src/commands/take-run.ts";
import { readSettings } from "../../src/program/settings.ts";
import type { Run } from "../../src/program/snapshot-schema.ts";
import { recorded, unread } from "./sample-copy.ts";

const samples = new URL("../../sample-programs/", import.meta.url).pathname;
const winter = join(samples, WINTER_FILE);

let home = "";
let folder = "";
const { io, said, forget } = recorded();

beforeEach(async () => {
  home = await mkdtemp(join(tmpdir(), "wyeplan-rerun-"));
  folder = join(home, "falls");
  await cp(join(samples, "quennock-falls"), folder, { recursive: true });
  forget();
});
afterEach(() => rm(home, { recursive: true, force: true }));

const add = (inspections: string) => addInspections(folder, { inspections }, io, null);
const remove = (inspections: string) => removeInspections(folder, { inspections }, io);

async function runNow(of = folder): Promise<Run> {
  const loaded = await loadProgram(of);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return takeRun(of, loaded);
}

/** The comparison as other programs get it. */
async function compared(from: string, to?: string) {
  forget();
  expect(await compareSnapshots(folder, from, to, { json: true }, io)).toBe(EXIT.done);
  return JSON.parse(said.out);
}

describe("the sample's new surveys", () => {
  it("are what their generator makes", async () => {
    expect(await readFile(winter, "utf8")).toBe(winterSurveys());
  });

  it("come in byte for byte, move what they are about, and say why", async () => {
    expect(await add(winter)).toBe(EXIT.done);
    const copy = join(folder, "inspections/inspections-2026-winter.csv");
    expect(await readFile(copy)).toEqual(await readFile(winter));
    expect(said.out).toContain("24 rows read = 24 kept + 0 duplicates + 0 rejected");
    expect(said.out).toContain("inspections: 427 surveys → 451");
    // 00486 was never surveyed; the file's row says structural grade 5 and O&M 1.
    expect(said.out).toMatch(/00486 .*\n.*new survey of 2026-01-07 \(structural 5, O&M 1\)/);
    const found = await compared("001-before-add-inspections-2026-winter");
    expect(found.changed_inputs).toEqual(["inspections"]);
    const own = found.movers.filter((of: { own_changes: unknown[] }) => of.own_changes.length > 0);
    expect(own.length).toBeGreaterThan(10);
    expect(own.length).toBeLessThanOrEqual(24);
  });

  it("change nothing when they are added again, under any name", async () => {
    await add(winter);
    const before = await everything();
    const renamed = join(home, "another name.csv");
    await cp(winter, renamed);
    for (const file of [winter, renamed]) {
      forget();
      expect(await add(file)).toBe(EXIT.done);
      expect(said.out).toContain("Nothing changed.");
    }
    expect(await everything()).toEqual(before);
  });

  it("leave the ranking and the settings exactly as they were when they are taken out again, and are kept", async () => {
    const before = await runNow();
    await add(winter);
    expect(await runNow()).not.toEqual(before);
    expect(await remove("inspections-2026-winter.csv")).toBe(EXIT.done);
    expect(await runNow()).toEqual(before);
    expect(said.out).toContain("The program is again what it was in 001-before-add-inspections-2026-winter.");
    expect(await readdir(join(folder, "inspections"))).toEqual(["removed"]);
    expect(await readFile(join(folder, "inspections/removed/inspections-2026-winter.csv"))).toEqual(
      await readFile(winter),
    );
    // Once more round: the copy that is kept already is not there twice.
    await add(winter);
    await remove("inspections/inspections-2026-winter.csv");
    expect(await readdir(join(folder, "inspections/removed"))).toEqual(["inspections-2026-winter.csv"]);
    expect(await remove("inspections-2026-winter.csv")).toBe(EXIT.notDone);
  });

  it("are refused under a name that has other content, with what to do", async () => {
    await add(winter);
    const before = await everything();
    const changed = join(home, "inspections-2026-winter.csv");
    await writeFile(changed, `${await readFile(winter, "utf8")}x,00101,,1/2/2026,,,,,,,1,,,1,,,,,Y,,,,,\r\n`);
    expect(await add(changed)).toBe(EXIT.notDone);
    expect(said.err).toContain("a file of that name with other content");
    expect(said.err).toContain("wyeplan remove");
    expect(await everything()).toEqual(before);
  });
});

/** Every file of the program, but for the lock. */
async function everything(): Promise<Readonly<Record<string, string>>> {
  const names = (await readdir(folder, { recursive: true, withFileTypes: true })).filter((of) => of.isFile());
  const files = await Promise.all(
    names.map(async (of) => [
      join(of.parentPath, of.name),
      await readFile(join(of.parentPath, of.name), "latin1"),
    ]),
  );
  return Object.fromEntries(files);
}

describe("files that cannot be taken in", () => {
  it("change nothing: uncertain headings, no usable survey, no such file", async () => {
    const before = await everything();
    const write = async (name: string, text: string) => {
      await writeFile(join(home, name), text);
      return join(home, name);
    };
    const twoDates = await write(
      "a.csv",
      "LATERAL ID,DATE,START DATE,STR GRADE\n00101,2/1/2026,2/2/2026,3\n",
    );
    expect(await add(twoDates)).toBe(EXIT.notDone);
    const strangers = await write("b.csv", "LATERAL_REF,INSP_DATE,ST_GRADE\n77777,2/1/2026,3\n");
    expect(await add(strangers)).toBe(EXIT.notDone);
    expect(said.err).toContain("Not one survey");
    expect(await add(join(home, "none.csv"))).toBe(EXIT.notDone);
    expect(await add(home)).toBe(EXIT.notDone);
    expect(await everything()).toEqual(before);
  });

  it("never leave the program folder, through a link in the place of inspections/ either", async () => {
    const outside = join(home, "outside");
    await mkdir(outside);
    await symlink(outside, join(folder, "inspections"));
    expect(await add(winter)).toBe(EXIT.notDone);
    expect(await readdir(outside)).toEqual([]);
    const settings = JSON.parse(await readFile(join(folder, "program.json"), "utf8"));
    settings.added_inspections = [{ ...settings.inspections, file: "../outside/x.csv" }];
    await writeFile(join(folder, "program.json"), JSON.stringify(settings));
    expect(await readSettings(folder)).toMatchObject({
      ok: false,
      problems: [{ column: "added_inspections.0.file" }],
    });
  });
});

describe("runs compared", () => {
  it("tell data, decisions, recipe and day apart, and the shares add up to each move", async () => {
    expect(await planFolder(folder, { save: "first" }, io)).not.toBe(EXIT.notDone);
    await add(winter);
    const decision = { folder, lateral: "00101", column: "structural_grade", value: "5", reason: "dug up" };
    expect(await decideValue(decision, io, unread)).toBe(EXIT.done);
    const path = join(folder, "program.json");
    const settings = JSON.parse(await readFile(path, "utf8"));
    settings.as_of = "2031-03-01";
    settings.criteria = {
      ...settings.criteria,
      risk: { ...settings.criteria?.risk, consequence: { weights: { building: 0.9, surface: 0.1 } } },
    };
    await writeFile(path, JSON.stringify(settings));
    const reading = await readSettings(folder);
    expect(reading.ok ? [] : reading.problems).toEqual([]);

    const found = await compared("first");
    expect(found.changed_inputs).toEqual(["inspections", "decisions", "recipe and settings", "as-of date"]);
    expect(found.movers.length).toBeGreaterThan(50);
    const sum = (shares: { numerators: Record<string, number> }) =>
      Object.values(shares.numerators).reduce((a, b) => a + b, 0);
    for (const mover of found.movers) {
      expect(sum(mover.places_caused_by)).toBe(mover.places_up * mover.places_caused_by.denominator);
      expect(sum(mover.score_steps_caused_by)).toBe(
        mover.score_steps_up * mover.score_steps_caused_by.denominator,
      );
    }
    // Only the decision is about 00101, so it alone has a decision of its own.
    const decided = found.movers.find((of: { lateral: string }) => of.lateral === "00101");
    expect(decided.own_changes).toMatchObject([{ kind: "decision", column: "structural_grade", to: 5 }]);
    expect(decided.score_steps_caused_by.numerators.decisions).toBeGreaterThan(0);
  });

  it("whose recipe gives some laterals no score are saved, added to and compared", async () => {
    const path = join(folder, "program.json");
    const settings = JSON.parse(await readFile(path, "utf8"));
    // A backup that nobody recorded is missing, and so is what is multiplied by it.
    settings.recipe.score = "likelihood * consequence * backups";
    await writeFile(path, JSON.stringify(settings));
    await planFolder(folder, { save: "first" }, io);
    expect(await add(winter)).toBe(EXIT.done);
    settings.recipe.score = "likelihood * consequence";
    await writeFile(path, JSON.stringify(settings));
    const found = await compared("first");
    const unscored = found.movers.filter((of: { score_from: number | null }) => of.score_from === null);
    expect(unscored.length).toBeGreaterThan(0);
    for (const { score_to, score_steps_up, score_steps_caused_by } of unscored)
      expect([score_to > 0, score_steps_up, score_steps_caused_by]).toEqual([true, null, null]);
    forget();
    await compareSnapshots(folder, "first", "now", {}, io);
    expect(said.out.replace(/\s+/g, " ")).toMatch(
      /, but for \d+ that a recipe gives no score in one of them: Kendall/,
    );
    expect(said.out).toMatch(/none → \d/);
  });

  it("of the same run say that nothing changed", async () => {
    await planFolder(folder, { save: "first" }, io);
    const found = await compared("first");
    expect(found).toMatchObject({ changed_inputs: [], movers: [], kendall_tau_b: 1, spearman_rho: 1 });
    expect(found.selected.overlap).toBe(1);
    forget();
    await compareSnapshots(folder, "first", "now", {}, io);
    expect(said.out).toContain("Nothing changed: the same inputs, settings and decisions.");
  });

  it("list surveys of a later day under no change that they are not", async () => {
    const path = join(folder, "program.json");
    const settings = JSON.parse(await readFile(path, "utf8"));
    const asOf = async (day: string) => writeFile(path, JSON.stringify({ ...settings, as_of: day }));
    const said1 = async () => {
      forget();
      await compareSnapshots(folder, "first", "now", {}, io);
      return said.out.replace(/\s+/g, " ");
    };
    await asOf("2022-01-01");
    await planFolder(folder, { save: "first" }, io);
    settings.criteria.risk = { consequence: { weights: { building: 0.9, surface: 0.1 } } };
    await asOf("2022-01-01");
    expect(await said1()).toMatch(
      /Changed inputs recipe and settings: criteria\.risk Not changed, in both runs: \d+ survey\(s\) are of a day after 2022-01-01 and do not count/,
    );
    await asOf("2022-06-01");
    expect(await said1()).toMatch(/ Not counted: \d+ survey\(s\) are of a day after 2022-06-01/);
  });

  it("need no city files: two snapshots compare after the files are gone", async () => {
    await planFolder(folder, { save: "first" }, io);
    await add(winter);
    const withFiles = await compared("first", "001-after-add-inspections-2026-winter");
    await rm(join(folder, "laterals.csv"));
    await rm(join(folder, "inspections"), { recursive: true });
    expect(await compared("first", "001-after-add-inspections-2026-winter")).toEqual(withFiles);
  });

  it("with a damaged or unknown snapshot, or a wrong --top, are a problem and not a crash", async () => {
    await planFolder(folder, { save: "first" }, io);
    await writeFile(join(folder, "snapshots/first.json"), "{");
    for (const name of ["first", "none", "../first"]) {
      forget();
      expect(await compareSnapshots(folder, name, undefined, {}, io)).toBe(EXIT.notDone);
      expect(said.err).not.toBe("");
    }
    expect(await compareSnapshots(folder, "first", undefined, { top: "ten" }, io)).toBe(EXIT.notDone);
  });
});

describe("any new surveys", () => {
  /** Surveys of the first laterals of the sample, in the columns of its own file that the plan reads. */
  const survey = fc
    .tuple(
      fc.integer({ min: 101, max: 118 }),
      fc.integer({ min: 1, max: 27 }),
      fc.integer({ min: 0, max: 5 }),
      fc.constantFrom("Y", "N"),
    )
    .map(([id, day, grade, done]) => `00${id},1/${day}/2026,${grade},${done}`);
  const file = fc.array(survey, { minLength: 1, maxLength: 8 });
  const text = (rows: readonly string[]) => `LATERAL_REF,INSP_DATE,ST_GRADE,COMPLETE\n${rows.join("\n")}\n`;

  it("rank the same in whatever order their files come, and leave no trace when taken out", async () => {
    // The first rows of the sample's files are enough, and quick to plan.
    for (const name of ["laterals.csv", "inspections.csv"]) {
      const rows = (await readFile(join(folder, name), "utf8")).split("\r\n").slice(0, 40);
      await writeFile(join(folder, name), `${rows.join("\r\n")}\r\n`);
    }
    const untouched = await runNow();
    await fc.assert(
      fc.asyncProperty(file, file, async (one, two) => {
        fc.pre(text(one) !== text(two));
        await writeFile(join(home, "one.csv"), text(one));
        await writeFile(join(home, "two.csv"), text(two));
        const ranked: Run["ranking"][] = [];
        for (const order of [
          ["one.csv", "two.csv"],
          ["two.csv", "one.csv"],
        ]) {
          for (const name of order) expect(await add(join(home, name))).not.toBe(EXIT.notDone);
          const now = await runNow();
          ranked.push(now.ranking);
          const both = await compareRuns({ name: "a", run: untouched }, { name: "b", run: now }, null);
          if (!both.ok) throw new Error(JSON.stringify(both.problems));
          expect(both.comparison.rankedOtherwise.size).toBe(0);
          for (const name of order) expect(await remove(name)).toBe(EXIT.done);
          expect(await runNow()).toEqual(untouched);
        }
        expect(ranked[1]).toEqual(ranked[0]);
        await rm(join(folder, "snapshots"), { recursive: true });
      }),
      { numRuns: 5 },
    );
  }, 120_000);
});

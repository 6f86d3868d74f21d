import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { sheetColumns } from "../../src/columns/dictionary.ts";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { gatherProgram, loadProgram, loadWholeOrSay } from "../../src/commands/load-program.ts";
import { newProgram } from "../../src/commands/new.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { undoLatest } from "../../src/commands/undo.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { rateSurvey } from "../../src/plan/survey-ratings.ts";
import { isNumeric } from "../../src/quantity/measure.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { recorded, unread } from "./sample-copy.ts";

const samples = new URL("../../sample-programs/", import.meta.url).pathname;

let folder = "";
const { io, said, forget } = recorded();

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-sample-"));
  forget();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function copyOf(name: string): Promise<string> {
  const copy = join(folder, name);
  await cp(join(samples, name), copy, { recursive: true });
  return copy;
}

async function planned(of: string): Promise<PlannedProgram> {
  const loaded = await loadProgram(of);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.program;
}

/** Every cell of the planned sheet, by lateral and column. */
const cells = ({ laterals }: PlannedProgram): string =>
  JSON.stringify(
    Array.from({ length: laterals.rows }, (_, row) =>
      sheetColumns.map(({ key, measure }) =>
        isNumeric(measure) ? numberAt(laterals, key, row) : textAt(laterals, key, row),
      ),
    ),
  );

describe("the sample programs", () => {
  it("account for every row: what was planted is what was found", async () => {
    // Planted by the generator: 2 repeated ids, 1 subtotal row and 1 row without an id among the laterals; 1 repeated
    // survey, and 3 of unknown laterals or without a day among the inspections. Nothing is planted among the observations
    // but a code that the map lacks.
    const gathered = await gatherProgram(await copyOf("quennock-falls"));
    expect(
      gathered.ok &&
        gathered.tallies.map(({ file, read, kept, duplicates, rejected }) => ({
          file,
          read,
          kept,
          duplicates,
          rejected,
        })),
    ).toEqual([
      { file: "laterals.csv", read: 404, kept: 400, duplicates: 2, rejected: 2 },
      { file: "inspections.csv", read: 431, kept: 427, duplicates: 1, rejected: 3 },
      { file: "observations.csv", read: 3979, kept: 3979, duplicates: 0, rejected: 0 },
    ]);
    const metric = await gatherProgram(await copyOf("kaltwendel"));
    expect(metric.ok && metric.tallies[0]).toMatchObject({
      read: 252,
      kept: 250,
      duplicates: 1,
      rejected: 1,
    });
  });

  it("are planned, with each treatment in use and totals that add up, leaving the city's files as they were", async () => {
    const copy = await copyOf("quennock-falls");
    expect(await planFolder(copy, {}, io)).toBe(EXIT.doneWithProblems);
    const { totals } = await planned(copy);
    // This city's crew brings no one-piece liners, the other sample's does; every other treatment has its lateral.
    const unused = Object.entries(totals.program.byTreatment).filter(([, count]) => count === 0);
    expect(unused.map(([treatment]) => treatment)).toEqual(["one-piece liner"]);
    const other = await planned(await copyOf("kaltwendel"));
    expect(other.totals.program.byTreatment["one-piece liner"]).toBeGreaterThan(0);
    expect(other.totals.program.unpriced).toBe(0);
    expect(totals.districts.reduce((sum, of) => sum + of.cost, 0)).toBe(totals.program.cost);
    expect(said.out).toContain("Invented prices for the demonstration");
    for (const file of ["laterals.csv", "inspections.csv", "observations.csv", "program.json"]) {
      expect(await readFile(join(copy, file))).toEqual(await readFile(join(samples, "quennock-falls", file)));
    }
  });

  it("give the same JSON twice, and say units and sources", async () => {
    const copy = await copyOf("kaltwendel");
    await planFolder(copy, { json: true }, io);
    const first = said.out;
    said.out = "";
    await planFolder(copy, { json: true }, io);
    expect(said.out).toBe(first);
    expect(JSON.parse(first)).toMatchObject({ program: { currency: "EUR" }, totals: { laterals: 250 } });
  });

  it("show the city's own columns that the program does not know as they are, and never to a bidder", async () => {
    const copy = await copyOf("quennock-falls");
    await planFolder(copy, { json: true, withAddresses: true }, io);
    const [first] = JSON.parse(said.out).laterals;
    expect(first).toHaveProperty("other:BASINID");
    const { columns } = await planned(copy);
    expect(columns.filter(({ key }) => key.startsWith("other:")).map(({ heading }) => heading)).toContain(
      "NOTES",
    );
  });

  it("list their problems with row and column", async () => {
    expect(await checkFolder(await copyOf("quennock-falls"), io)).toBe(EXIT.doneWithProblems);
    expect(said.out).toMatch(/rejected {2}laterals\.csv, row \d+/);
    expect(said.out).toContain("404 rows read = 400 kept + 2 duplicates + 2 rejected");
    expect(said.out).toContain('found "Q70", expected a kind of the table, or a code of the city');
  });

  it("have observations that say what the surveys' quick ratings say, but for the two ratings planted otherwise", async () => {
    const gathered = await gatherProgram(await copyOf("quennock-falls"));
    if (!gathered.ok) throw new Error("the sample is not read");
    const disagreeing: string[] = [];
    let agreeing = 0;
    for (let row = 0; row < gathered.tables.laterals.rows; row++)
      for (const inspection of lateralAt(gathered.tables, row).inspections)
        for (const mode of ["structural", "operation"] as const) {
          const rated = rateSurvey(inspection, mode);
          if (rated?.agrees === false) disagreeing.push(rated.stated);
          if (rated?.agrees === true) agreeing++;
        }
    expect(disagreeing).toEqual(["3E00", "4B27"]);
    expect(agreeing).toBeGreaterThan(800);
  });

  it("explain two surveys that together saw the whole of a lateral", async () => {
    await whyLateral(await copyOf("quennock-falls"), "00333", {}, io);
    expect(said.out.replace(/\s+/g, " ")).toContain(
      "they count as one complete survey, with the worst of both",
    );
  });
});

describe("decisions", () => {
  it("change the plan of one lateral, and undo restores the whole plan exactly", async () => {
    const copy = await copyOf("quennock-falls");
    const before = cells(await planned(copy));
    const args = {
      folder: copy,
      lateral: "00278",
      column: "host_length",
      value: "100 ft",
      reason: "measured in the field",
    };
    expect(await decideValue(args, io, decidedProgram(copy))).toBe(EXIT.done);
    const decided = await planned(copy);
    expect(cells(decided)).not.toBe(before);
    said.out = "";
    await whyLateral(copy, "00278", {}, io);
    expect(said.out).toContain("100.0 ft  [decided]");
    expect(said.out).toContain("measured in the field");
    expect(await undoLatest({ folder: copy }, io)).toBe(EXIT.done);
    expect(cells(await planned(copy))).toBe(before);
  });

  it("are refused for a lateral the city does not have and for a number without its unit; nothing is written", async () => {
    const copy = await copyOf("quennock-falls");
    const decide = (lateral: string, value: string) =>
      decideValue(
        { folder: copy, lateral, column: "host_length", value, reason: "because" },
        io,
        decidedProgram(copy),
      );
    expect(await decide("278", "100 ft")).toBe(EXIT.notDone);
    expect(said.err).toContain("leading zeros");
    expect(await decide("00278", "100")).toBe(EXIT.notDone);
    expect((await planned(copy)).tables.decisions.size).toBe(0);
  });
});

describe("a damaged decision", () => {
  it("is said by every command that plans, so that nobody carries on without it", async () => {
    const copy = await copyOf("quennock-falls");
    const decided = {
      folder: copy,
      lateral: "00217",
      column: "status",
      value: "refused",
      reason: "no access",
    };
    await decideValue(decided, io, unread);
    const log = join(copy, "decisions.csv");
    await writeFile(log, (await readFile(log, "utf8")).replace("refused", "refusd"));
    forget();
    expect(await loadWholeOrSay(copy, io)).not.toBeNull();
    expect(said.err).toContain('decisions.csv, row 2: found "change set 1, which is not as it was written"');
  });
});

describe("a decided treatment", () => {
  it("that a rule forbids is written down, and the rule is said at once", async () => {
    const copy = await copyOf("quennock-falls");
    const decide = (value: string) =>
      decideValue(
        { folder: copy, lateral: "00188", column: "treatment", value, reason: "the council asks" },
        io,
        decidedProgram(copy),
      );
    // The sample's 00188 was never inspected, and what was not inspected is never lined.
    expect(await decide("full-length liner")).toBe(EXIT.done);
    expect(said.out).toContain("before: as planned.");
    expect(said.err).toMatch(/does not follow it: .*never inspected/);
    said.err = "";
    expect(await decide("inspect first")).toBe(EXIT.done);
    expect(said.err).toBe("");
  });
});

describe("newProgram", () => {
  const source = (file: string) => join(samples, "quennock-falls", file);

  it("makes a program of a city's files when every heading is settled, and it reads the same rows", async () => {
    const columns = JSON.parse(await readFile(source("program.json"), "utf8"));
    const settings = join(folder, "columns.json");
    await writeFile(settings, JSON.stringify(columns));
    const made = join(folder, "made");
    const code = await newProgram(
      made,
      {
        laterals: source("laterals.csv"),
        inspections: source("inspections.csv"),
        observations: source("observations.csv"),
        asOf: "2026-03-01",
        units: "us",
        settings,
      },
      io,
      null,
    );
    expect([code, said.err]).toEqual([EXIT.done, expect.any(String)]);
    expect(await readFile(join(made, "laterals.csv"))).toEqual(await readFile(source("laterals.csv")));
    // Aliases and the city's own words are for a person to add, so only the reading of the rows is the same.
    const written = JSON.parse(await readFile(join(made, "program.json"), "utf8"));
    // Two spellings of one unit.
    const { city_share: share, ...others } = columns.laterals.columns;
    expect(written.laterals.columns).toEqual({ ...others, city_share: { ...share, unit: "%" } });
    expect((await planned(made)).tallies).toEqual((await planned(await copyOf("quennock-falls"))).tallies);
  });

  it("asks nobody and makes nothing where a heading is not certain: it prints the lines to write", async () => {
    const file = join(folder, "city.csv");
    await writeFile(file, "LATERAL_ID,PIPE_SIZE_A,SIZE,LEN_FT\n1,4,6,30\n2,4,6,32\n");
    const made = join(folder, "made");
    expect(await newProgram(made, { laterals: file, asOf: "2026-03-01", units: "us" }, io, null)).toBe(
      EXIT.notDone,
    );
    expect(said.err).toContain('"laterals": { "columns": { "host_diameter":');
    expect(await readdir(folder)).toEqual(["city.csv"]);
  });
});

import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { findColumn } from "../../src/columns/dictionary.ts";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { Settler } from "../../src/commands/settle-program.ts";
import { checkValue } from "../../src/commands/sheet-edits.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

let folder = "";
beforeAll(() => {
  folder = sampleCopy("quennock-falls");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
beforeEach(() => rmSync(join(folder, "decisions.csv"), { force: true }));

async function decide(lateral: string, column: string, value: string) {
  const { io, said } = recorded();
  const decided = { folder, lateral, column, value, reason: "measured" };
  const code = await decideValue(decided, io, decidedProgram(folder));
  return { code, err: said.err };
}
async function planned() {
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error("the sample is not read");
  return loaded.program;
}
const checked = async () => {
  const { io, said } = recorded();
  await checkFolder(folder, io);
  return said.out.split("\n").filter((line) => line.includes("00217"));
};

describe("a decided cross-bore", () => {
  it("that was found calls for its owner at once, first of all problems, until it is decided to be cleared", async () => {
    const said = "tell the utility's owner now, no work and no cutting until it is made safe";
    expect((await decide("00217", "cross_bore", "found")).err.replace(/\s+/g, " ")).toContain(said);
    expect(await checked()).toEqual([expect.stringContaining(said)]);
    const settler = new Settler();
    const settled = await settler.settle(await planned(), null, () => {});
    settler.end();
    const urgent = settled?.problems.filter(({ remedy }) => remedy.includes(said)) ?? [];
    expect(urgent.map(({ lateral }) => lateral)).toContain("00217");
    expect(settled?.problems.slice(0, urgent.length)).toEqual(urgent);
    expect((await decide("00217", "cross_bore", "cleared")).err).toBe("");
    expect(await checked()).toEqual([]);
  }, 60_000);
});

describe("a decided length", () => {
  it("is held against the parts as a row of the file is, when it is decided and by check, until they add up", async () => {
    expect(await checked()).toEqual([]);
    // The city's parts of 00217 are 39.9 and 34.3 ft, in feet as the program is.
    const said =
      'decisions.csv, lateral 00217: found "lower 39.9 ft + upper 34.3 ft = 74.2 ft", expected the length of the lateral, 100.0 ft.';
    expect((await decide("00217", "host_length", "100 ft")).err.replace(/\s+/g, " ")).toContain(said);
    // Of another lateral, nothing is said of this one.
    expect((await decide("00188", "host_length", "40 ft")).err).not.toContain("00217");
    rmSync(join(folder, "decisions.csv"));
    await decide("00217", "host_length", "100 ft");
    expect(await checked()).toEqual([expect.stringContaining(`noted     ${said}`)]);
    expect((await decide("00217", "upper_length", "60.1 ft")).err).toBe("");
    expect(await checked()).toEqual([]);
  });

  it("is held against them in the sheet too, which says after an edit what a fresh plan says", async () => {
    const before = await planned();
    await decide("00217", "lower_length", "200 ft");
    const fresh = await planned();
    const settler = new Settler();
    const settled = await settler.settle({ ...before, tables: fresh.tables }, null, () => {});
    settler.end();
    expect(fresh.problems.length).toBe(before.problems.length + 1);
    expect(new Set(settled?.problems)).toEqual(new Set(fresh.problems));
  });
});

describe("a year after that of the program's day", () => {
  it("is refused as a decision, typed into a command or the sheet", async () => {
    const { code, err } = await decide("00188", "install_year", "2091");
    expect(code).toBe(EXIT.notDone);
    expect(err.replace(/\s+/g, " ")).toContain(
      'found "2091", expected a year up to 2026, the year of "as_of" in program.json.',
    );
    expect((await decide("00188", "install_year", "2026")).code).toBe(EXIT.done);
    const column = findColumn("install_year")!;
    const { program } = (await planned()).basis;
    expect(checkValue(column, "2027", program)).toMatchObject({ ok: false });
    expect(checkValue(column, "2026", program)).toMatchObject({ ok: true });
  });

  it("has no effect where the log has one of it, when the program's day was set back", async () => {
    await decide("00188", "install_year", "2026");
    const file = join(folder, "program.json");
    const text = readFileSync(file, "utf8");
    writeFileSync(file, text.replace('"as_of": "2026-03-01"', '"as_of": "2025-03-01"'));
    const { laterals, problems } = await planned();
    writeFileSync(file, text);
    const row = Array.from({ length: laterals.rows }, (_, at) => at).find(
      (at) => textAt(laterals, "lateral", at) === "00188",
    );
    expect(numberAt(laterals, "install_year", row!)).toBe(1945);
    expect(problems.filter((each) => each.file === "decisions.csv")).toMatchObject([
      { severity: "rejected", column: "install_year", found: "2026" },
    ]);
  });

  it("is missing in a city's file, with row, column, what was found and what was expected", async () => {
    const file = join(folder, "laterals.csv");
    const text = readFileSync(file, "utf8");
    const line = text.split("\n").find((each) => each.includes(",00188,"))!;
    writeFileSync(file, text.replace(line, line.replace(",1945,", ",2027,")));
    const { laterals, problems } = await planned();
    writeFileSync(file, text);
    const row = Array.from({ length: laterals.rows }, (_, at) => at).find(
      (at) => textAt(laterals, "lateral", at) === "00188",
    );
    expect(numberAt(laterals, "install_year", row!)).toBeNaN();
    expect(problems.filter((each) => each.found === "2027")).toMatchObject([
      {
        severity: "rejected",
        file: "laterals.csv",
        // Line 92 of the text: a cell above it has a line break, and rows are counted as a spreadsheet counts.
        row: 91,
        column: "INST_YEAR",
        expected: 'a year up to 2026, the year of "as_of" in program.json',
      },
    ]);
  });
});

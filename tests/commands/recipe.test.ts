import { readFileSync } from "node:fs";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { compileRecipe, withOwnColumns } from "../../src/commands/compile-recipe.ts";
import { formulasOf } from "../../src/commands/formulas.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { planAsJson } from "../../src/commands/plan-json.ts";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { usualScores } from "../../src/plan/recipe.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import { MOST_OWN, noRecipe, type RecipeText } from "../../src/reference/recipe.ts";
import { viewProgram } from "../../src/screen/program-view.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { finite, type PreparedBasis } from "../../src/season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { readSheet } from "../../src/season/read-planned.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "../season/examples.ts";
import { recorded } from "./sample-copy.ts";

const samples = new URL("../../sample-programs/", import.meta.url).pathname;

let folder = "";
const { io, said, forget } = recorded();

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-recipe-"));
  forget();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** A copy of the US sample with this recipe. */
async function sampleWith(recipe: unknown): Promise<string> {
  const copy = join(folder, "program");
  await cp(join(samples, "quennock-falls"), copy, { recursive: true });
  const file = join(copy, "program.json");
  const settings = JSON.parse(await readFile(file, "utf8"));
  await writeFile(file, JSON.stringify({ ...settings, recipe }, null, 2));
  return copy;
}

async function planned(of: string): Promise<PlannedProgram> {
  const loaded = await loadProgram(of);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.program;
}

function withRecipe(recipe: Partial<RecipeText>): PreparedBasis {
  const { faults, ...compiled } = compileRecipe({ ...usBasis, recipe: { ...noRecipe, ...recipe } });
  if (faults.length > 0) throw new Error(JSON.stringify(faults));
  return { ...usBasis, recipe: { ...noRecipe, ...recipe }, ...compiled };
}

const faultsOf = (recipe: Partial<RecipeText>) =>
  compileRecipe({ ...usBasis, recipe: { ...noRecipe, ...recipe } }).faults;

const idsOf = ({ order, laterals }: PlannedProgram) =>
  Array.from(order, (row) => textAt(laterals, "lateral", row));

/** Every kind of column a recipe may read, missing values among them. */
const everything = {
  likelihood:
    "if_missing(structural_grade, age > 60 ? 4 : 2) + min(if_missing(backups, 0), 2) / 2 + (survey_old ? 0.5 : 0)",
  consequence: 'building == "hospital" or surface == "street" ? 5 : host_diameter > 4 in ? 3 : 2',
  score: "0.6 * likelihood + 0.4 * consequence + (reinspect ? 0.1 : 0)",
  columns: {
    age: "year_of(as_of) - install_year",
    survey_old: "if_missing(as_of - inspected_on > 5 years, false)",
    near_hospital: 'building == "hospital"',
    per_length: "cost / (host_length / (1 ft))",
    deep_part: "max(cover_main, cover_house) - 6 ft",
    rank_part: "rank / 100",
    by_zero: "1 / (backups - backups)",
  },
  filters: {
    "old clay": 'host_material == "clay" and age > 70',
    "in LS-07": 'district == "LS-07" and known(inspected_on) and ovality < 5 percent',
    "top ten": "rank <= 10",
  },
};

describe("a recipe on the sample program", () => {
  it("heads a column as it says, and by its key when it says nothing", async () => {
    const columns = { age: { formula: "year_of(as_of) - install_year", heading: "Age" }, old: "age > 70" };
    const program = await planned(await sampleWith({ columns }));
    const own = program.columns.filter(({ key }) => key === "age" || key === "old");
    expect(own.map(({ heading }) => heading)).toEqual(["Age", "old"]);
  });

  it("gives the same by record and by column, row by row, for every formula", async () => {
    const program = await planned(await sampleWith(everything));
    const { laterals, basis, tables, filters } = program;
    const { likelihood, consequence, score } = basis.scores;
    let missing = 0;
    let present = 0;
    for (let row = 0; row < laterals.rows; row++) {
      const read = withOwnColumns(readSheet(laterals, row), basis.ownColumns);
      for (const { column, evaluate } of basis.ownColumns) {
        const value = numberAt(laterals, column.key, row);
        expect(value, `${column.key} of row ${row}`).toBe(finite(evaluate(read)));
        if (Number.isNaN(value)) missing++;
        else present++;
      }
      basis.filters.forEach(({ evaluate }, i) => {
        expect(filters[i]?.met[row]).toBe(evaluate(read) === 1 ? 1 : 0);
      });
      // The scores by the stages of one lateral are the sheet's, and what their formulas give on the sheet.
      const { risk } = planLateral(lateralAt(tables, row), basis);
      for (const [key, formula, found] of [
        ["likelihood", likelihood, risk.likelihood?.value ?? Number.NaN],
        ["consequence", consequence, risk.consequence?.value ?? Number.NaN],
        ["risk", score, risk.score ?? Number.NaN],
      ] as const) {
        expect(numberAt(laterals, key, row)).toBe(found);
        expect(formula?.evaluate(read)).toBe(found);
      }
    }
    expect(missing).toBeGreaterThan(laterals.rows);
    expect(present).toBeGreaterThan(3 * laterals.rows);
    expect(filters.map(({ name }) => name)).toEqual(["old clay", "in LS-07", "top ten"]);
    expect(filters[2]?.count).toBe(10);
  });

  it("keeps the rows of a filter that plain reading keeps, and a decision counts as planned with", async () => {
    const program = await planned(await sampleWith(everything));
    const { laterals, filters } = program;
    let count = 0;
    for (let row = 0; row < laterals.rows; row++)
      // The sample is planned as of 2026.
      if (
        textAt(laterals, "host_material", row) === "clay" &&
        2026 - numberAt(laterals, "install_year", row) > 70
      )
        count++;
    expect(filters[0]?.count).toBe(count);
    expect(count).toBeGreaterThan(0);
  });

  it("prints the plan of a filter's rows alone, adding up, and refuses an unknown filter", async () => {
    const program = await sampleWith(everything);
    expect(await planFolder(program, { filter: "top ten" }, io)).toBe(EXIT.doneWithProblems);
    expect(said.out).toContain('Only "top ten" (rank <= 10): 10 of ');
    expect(said.out).toMatch(/^Program +10 /m);
    expect(await planFolder(program, { filter: "top tne" }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain('Its filters: "old clay", "in LS-07", "top ten".');
  });

  it("carries its columns and filters into JSON, and why says each score with what it read", async () => {
    const folderOf = await sampleWith(everything);
    const program = await planned(folderOf);
    const json = planAsJson(program) as {
      readonly own_columns: readonly { readonly key: string; readonly unit: string | null }[];
      readonly laterals: readonly Readonly<Record<string, unknown>>[];
    };
    // In the order in which each follows the columns it reads, which here is the order written.
    expect(json.own_columns.map(({ key }) => key)).toEqual(Object.keys(everything.columns));
    expect(json.own_columns[3]).toEqual({
      key: "per_length",
      formula: everything.columns.per_length,
      unit: "cent",
    });
    expect(json.laterals[0]).toHaveProperty("age");
    const [first = ""] = idsOf(program);
    expect(await whyLateral(folderOf, first, {}, io)).toBe(EXIT.done);
    const words = said.out.replace(/\s+/g, " ");
    expect(words).toContain("by the program's recipe");
    expect(words).toMatch(
      /score = 0\.6 \* likelihood .* with reinspect (yes|no), likelihood [\d.]+, consequence/,
    );
    expect(words).toContain('filter "top ten" needs the rank among all laterals');
  });

  it("shows its columns in the sheet and the planning book's ranking, and nothing of them to a bidder", async () => {
    const program = await planned(await sampleWith(everything));
    const sheet = viewProgram(program, () => []);
    const at = sheet.columns.findIndex(({ key }) => key === "per_length");
    expect(sheet.columns[at]).toMatchObject({ heading: "per_length", unit: "USD", align: "right" });
    expect(sheet.shownAtFirst).toContain(at);
    expect(sheet.filters.map(({ name, count }) => [name, count])[2]).toEqual(["top ten", 10]);
    const contents = bookContents(program);
    const headings = (sheets: readonly { readonly columns: readonly { readonly heading: string }[] }[]) =>
      sheets.flatMap(({ columns }) => columns.map(({ heading }) => heading)).join("\n");
    expect(headings(buildPlanningBook(contents).sheets)).toContain("per_length (USD)");
    const bid = buildBidBook(readBidView(contents)).sheets;
    expect(headings(bid).length).toBeGreaterThan(100);
    expect(headings(bid)).not.toContain("per_length");
  });

  it("lists what formulas may name, checks one that is typed, and shows its first values", async () => {
    const program = await sampleWith(everything);
    expect(await formulasOf(program, undefined, io)).toBe(EXIT.doneWithProblems);
    expect(said.out).toMatch(/^host_length +a length +ft +given$/m);
    expect(said.out).toMatch(/^age +a plain number +year_of\(as_of\) - install_year$/m);
    forget();
    expect(await formulasOf(program, "host_length + 3", io)).toBe(EXIT.notDone);
    expect(said.err).toBe(
      "host_length + 3\n              ^\nCharacter 15: found 3, a plain number; expected a length. 3 has no unit; write 3 ft or 3 m.\n",
    );
    forget();
    await formulasOf(program, "inspected_on < as_of - 5 years", io);
    expect(said.out).toMatch(/gives yes or no; of 400 laterals \d+ yes, \d+ unknown/);
    expect(said.out.split("\n")).toHaveLength(3 + 2 + 10 + 1);
  });
});

/** A: grade 5, a house under a yard. B: grade 3, a hospital under a street. */
const two = programTables(
  [
    lateralRow("A", { surface: "yard", building: "house", backups: 0 }),
    lateralRow("B", { surface: "street", building: "hospital", backups: 0 }),
  ],
  [surveyRow("A", 5), surveyRow("B", 3)],
);
const planTwo = (basis: PreparedBasis) => planProgram(two, basis, { problems: [], tallies: [] });

describe("scores", () => {
  it("with other weights give another rank, as worked by hand", () => {
    // shared/risk.json: A has likelihood 5 and consequence 0.6 × 2 + 0.4 × 1 = 1.6; B has 3 and 0.6 × 5 + 0.4 × 5 = 5.
    // Product: A 8, B 15. 0.9 and 0.1: A 4.66, B 3.2. 0.1 and 0.9: A 1.94, B 4.8.
    const scoresOf = (basis: PreparedBasis) => {
      const program = planTwo(basis);
      return { ids: idsOf(program), scores: [0, 1].map((row) => numberAt(program.laterals, "risk", row)) };
    };
    expect(scoresOf(usBasis)).toEqual({ ids: ["B", "A"], scores: [8, 15] });
    const heavy = scoresOf(withRecipe({ score: "0.9 * likelihood + 0.1 * consequence" }));
    expect(heavy.ids).toEqual(["A", "B"]);
    expect(heavy.scores[0]).toBeCloseTo(4.66, 12);
    expect(heavy.scores[1]).toBeCloseTo(3.2, 12);
    const light = scoresOf(withRecipe({ score: "0.1 * likelihood + 0.9 * consequence" }));
    expect(light.ids).toEqual(["B", "A"]);
    expect(light.scores[0]).toBeCloseTo(1.94, 12);
    expect(light.scores[1]).toBeCloseTo(4.8, 12);
  });

  it("may read the program's own columns of earlier stages", () => {
    const recipe = { columns: { worst: "max(structural_grade, om_grade)" }, likelihood: "worst / 5 * 5" };
    const program = planTwo(withRecipe(recipe));
    expect([0, 1].map((row) => numberAt(program.laterals, "likelihood", row))).toEqual([5, 3]);
  });

  it("that are missing rank last and are said, with how many", () => {
    const tables = programTables(
      [lateralRow("A", { backups: 0 }), lateralRow("B"), lateralRow("C", { backups: 4 }), lateralRow("D")],
      [surveyRow("A", 1), surveyRow("B", 5), surveyRow("C", 1), surveyRow("D", 2)],
    );
    const program = planProgram(tables, withRecipe({ score: "backups + 1" }), { problems: [], tallies: [] });
    // Scored: C 5, A 1. Not scored: B before D by structural grade, although both are worse pipes than A and C.
    expect(idsOf(program)).toEqual(["C", "A", "B", "D"]);
    expect(program.problems).toMatchObject([
      { severity: "noted", column: "recipe.score", found: "2 lateral(s) without a score" },
    ]);
  });

  it("that divide by zero are missing", () => {
    expect(idsOf(planTwo(withRecipe({ score: "1 / (structural_grade - 5)" })))).toEqual(["B", "A"]);
  });
});

const anyTwo = fc.record({ grade: fc.integer({ min: 0, max: 5 }), backups: fc.option(fc.nat(3)) });

describe("a program without a recipe", () => {
  it("compiles nothing", async () => {
    const { scores: _, ownColumns: _own, filters: _filters, ...basis } = usBasis;
    const prepared = await prepareBasis(basis);
    if (!prepared.ok) throw new Error("the house's rules have a fault");
    // Compiled rules are functions, which are equal to themselves only.
    const { ruleBook } = prepared.basis;
    expect(prepared.basis).toEqual({
      ...usBasis,
      scores: usualScores,
      ownColumns: [],
      filters: [],
      ruleBook,
    });
  });

  it("is restored by taking the recipe out, and equals the usual score written out", () => {
    fc.assert(
      fc.property(
        fc.array(anyTwo, { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 1, max: 9 }),
        (drawn, weight) => {
          const tables = programTables(
            drawn.map(({ backups }, i) => lateralRow(`L${i}`, backups === null ? {} : { backups })),
            drawn.map(({ grade }, i) => surveyRow(`L${i}`, grade)),
          );
          const plan = (basis: PreparedBasis) => planProgram(tables, basis, { problems: [], tallies: [] });
          const before = plan(usBasis);
          plan(withRecipe({ score: `likelihood + ${weight} * if_missing(backups, 0)` }));
          const after = plan(usBasis);
          const written = plan(withRecipe({ score: "likelihood * consequence" }));
          for (const again of [after, written]) {
            expect(again.order).toEqual(before.order);
            expect(again.laterals.columns.get("risk")).toEqual(before.laterals.columns.get("risk"));
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe("a recipe's faults", () => {
  it("stand on their line of program.json and point at the character", async () => {
    const program = await sampleWith({
      likelihood: "structural_grade + 1",
      score: "likelihood * host_length",
    });
    expect(await checkFolder(program, io)).toBe(EXIT.notDone);
    const text = await readFile(join(program, "program.json"), "utf8");
    const line = text.split("\n").findIndex((each) => each.includes('"score": "likelihood')) + 1;
    expect(said.err).toContain(
      `program.json, line ${line}, key "recipe.score": found "likelihood * host_length"`,
    );
  });

  it.each([
    // A length and a bare number: what to write.
    ["host_length + 3 > 40 ft ? 1 : 2", 15, "3 has no unit; write 3 ft or 3 m."],
    ["host_diameter < 6", 17, "6 in"],
    // Columns of the stages after it.
    ["cost / (100 usd)", 1, ""],
    ["1 + consequence", 5, ""],
    ["structural_grade * x", 20, ""],
  ])("likelihood %s is refused at character %i", (likelihood, at, remedy) => {
    const [fault, ...more] = faultsOf({ likelihood });
    expect(more).toEqual([]);
    expect(fault?.path).toEqual(["recipe", "likelihood"]);
    expect(fault?.expected).toContain(`at character ${at},`);
    expect(fault?.remedy).toContain(remedy);
    expect(fault?.remedy.split("\n").at(-1)).toBe(`    ${" ".repeat(at - 1)}^`);
  });

  it("say that the score is the risk, also through a column of the program's own", () => {
    expect(faultsOf({ score: "risk + 1" })[0]).toMatchObject({
      expected: "a column known before the score at character 1, where risk stands",
    });
    expect(faultsOf({ score: "1 + twice", columns: { twice: "2 * risk" } })[0]?.expected).toBe(
      "a column known before the score at character 5, where twice stands",
    );
    expect(faultsOf({ columns: { late: "cost > 500 usd" }, score: "late ? 1 : 2" })[0]?.expected).toContain(
      'filled by the stage "cost"',
    );
  });

  it("name circles among own columns, taken names, and filters that do not ask a question", () => {
    const circle = faultsOf({ columns: { left_part: "right_part + 1", right_part: "left_part + 1" } });
    expect(circle.map(({ remedy }) => remedy).join()).toContain(
      "They need each other: left_part → right_part → left_part.",
    );
    expect(faultsOf({ columns: { risk: "1" } })[0]?.path).toEqual(["recipe", "columns", "risk"]);
    expect(faultsOf({ filters: { "no question": "risk + 1" } })[0]?.expected).toContain("yes or no");
  });

  it("that each name the two before them are worked out once each, not two to the power of their number", () => {
    const names = Array.from({ length: MOST_OWN }, (_, i) => `c${i}`);
    const columns = Object.fromEntries(
      names.map((name, i) => [
        name,
        i < 2 ? "risk * 0 + 1" : `0.5 * ${names[i - 1]} + 0.5 * ${names[i - 2]}`,
      ]),
    );
    const { ownColumns, faults } = compileRecipe({ ...usBasis, recipe: { ...noRecipe, columns } });
    expect(faults).toEqual([]);
    let asked = 0;
    const read = withOwnColumns(() => {
      asked++;
      return 7;
    }, ownColumns);
    expect(read(names.at(-1)!)).toBeCloseTo(1, 9);
    expect(asked).toBe(2);
  });
});

describe("a program with more columns or filters than are kept", () => {
  it("is refused with the number that may be", () => {
    const written = Object.fromEntries(Array.from({ length: MOST_OWN + 1 }, (_, i) => [`c${i}`, "1 == 1"]));
    for (const part of ["columns", "filters"]) {
      const recipe = { recipe: { [part]: written } };
      const reading = readSettingsText(bytesOfSettings(recipe));
      expect(reading.ok ? [] : reading.problems.map(({ expected }) => expected)).toEqual([
        `at most ${MOST_OWN} of them`,
      ]);
    }
  });
});

const bytesOfSettings = (more: object) =>
  new TextEncoder().encode(
    JSON.stringify({
      ...JSON.parse(readFileSync(`${samples}kaltwendel/program.json`, "utf8")),
      ...more,
    }),
  );

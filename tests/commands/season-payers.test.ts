import { cpSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookedSelection } from "../../src/commands/booked-selection.ts";
import { withCurrentSeason } from "../../src/commands/current-season.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { loadSeasonOrSay } from "../../src/commands/load-season.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { reportOf } from "../../src/commands/report.ts";
import { type SeasonOptions, seasonOfFolder } from "../../src/commands/season.ts";
import { inspectionsSaid, payersSaid } from "../../src/commands/season-words.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { readSeasonRun } from "../../src/program/season-runs.ts";
import { seasonOf } from "../../src/program/season-settings.ts";
import { showCount, showQuantity } from "../../src/quantity/show-quantity.ts";
import { cents } from "../../src/quantity/si.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { seasonSheets } from "../../src/workbook/season-sheet.ts";
import { uncertaintySheets } from "../../src/workbook/uncertainty-sheet.ts";
import { recorded, sampleCopy, unread } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

let folder = "";
let out = "";
let json: { readonly payers: unknown; readonly sums: { readonly works: number } };
beforeAll(async () => {
  folder = sampleCopy("quennock-falls");
  const { io, said, forget } = recorded();
  await seasonOfFolder(folder, { save: "spring" }, io);
  out = said.out.replace(/\s+/g, " ");
  forget();
  await seasonOfFolder(folder, { json: true }, io);
  json = JSON.parse(said.out);
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function sample() {
  const loaded = await loadProgram(folder);
  const reading = await readSeasonRun(folder, "spring");
  if (!loaded.ok || !reading.ok) throw new Error("the sample is not read");
  return { ...loaded, run: reading.run };
}

describe("a season's money", () => {
  it("is said to be that of all who pay, divided over them as each lateral's offer divides it", async () => {
    const { program, settings, run } = await sample();
    const { laterals, tables, basis } = program;
    const wanted = new Map(run.chosen.map(({ lateral, treatment }) => [lateral, treatment]));
    const paid = { cityCost: 0, ownerCost: 0, undivided: 0, undividedLaterals: 0 };
    for (let row = 0; row < laterals.rows; row++) {
      const treatment = wanted.get(textAt(laterals, "lateral", row));
      if (treatment === undefined) continue;
      const { offers } = planLateral(lateralAt(tables, row), basis);
      const { split, cost } = offers.find((offer) => offer.treatment === treatment)!;
      if (split.kind !== "split") {
        paid.undivided += cost.total!;
        paid.undividedLaterals++;
      } else {
        paid.cityCost += split.city!;
        paid.ownerCost += split.owner!;
      }
    }
    expect(paid.ownerCost).toBeGreaterThan(0);
    expect(json.payers).toEqual({
      city: paid.cityCost,
      owners: paid.ownerCost,
      notDivided: paid.undivided,
      notDividedLaterals: paid.undividedLaterals,
    });
    expect(paid.cityCost + paid.ownerCost + paid.undivided).toBe(json.sums.works);
    const said = `what owners pay too: of these the city pays ${showQuantity(paid.cityCost, "money", basis.program)}, owners ${showQuantity(paid.ownerCost, "money", basis.program)}`;
    expect(out).toContain(said);
    expect(bookedSelection(program, settings, "spring", run)?.said.join(" ")).toContain(said);
  });

  it("leaves out the words for what is not divided where all of it is", () => {
    const said = (undivided: number) =>
      payersSaid(
        { cityCost: cents(300), ownerCost: cents(200), undivided: cents(undivided) },
        { pays: "whole cost", undividedLaterals: 1 },
        { units: "us", currency: "USD" },
      );
    expect(said(0)).toMatch(/city pays USD 3\.00, owners USD 2\.00\.$/);
    expect(said(100)).toContain("USD 1.00 is not divided");
  });
});

describe("a season whose budget pays the city's share", () => {
  let ofCity = "";
  let told = { out: "", json: "", list: "" };
  beforeAll(async () => {
    ofCity = sampleCopy("quennock-falls", (settings) => {
      settings.season.budget_pays = "city share";
    });
    cpSync(join(folder, "runs"), join(ofCity, "runs"), { recursive: true });
    const run = async (options: SeasonOptions) => {
      const { io, said } = recorded();
      await seasonOfFolder(ofCity, options, io);
      return said.out;
    };
    told = {
      out: (await run({ save: "share", against: "spring" })).replace(/\s+/g, " "),
      json: await run({ json: true }),
      list: await run({ list: true }),
    };
  }, 120_000);
  afterAll(() => rmSync(ofCity, { recursive: true, force: true }));

  it("counts of every offer what its lateral's own plan divides", async () => {
    const loaded = await loadProgram(ofCity);
    if (!loaded.ok) throw new Error("the sample is not read");
    const { program, settings } = loaded;
    const { problem, offerRows } = seasonProblem(program, seasonOf(settings)!);
    const parts = { whole: 0, part: 0, none: 0, undivided: 0 };
    for (const [j, at] of offerRows.entries()) {
      const lateral = lateralAt(program.tables, numberAt(program.offers, "lateral_row", at));
      const treatment = textAt(program.offers, "treatment", at);
      const { split, cost } = planLateral(lateral, program.basis).offers.find(
        (offer) => offer.treatment === treatment,
      )!;
      const counted = split.kind === "split" ? split.city! : cost.total!;
      expect(problem.cost[j], `${lateral.id} ${treatment}`).toBe(counted);
      const kind =
        split.kind !== "split"
          ? "undivided"
          : counted === cost.total
            ? "whole"
            : counted === 0
              ? "none"
              : "part";
      parts[kind]++;
    }
    for (const [kind, count] of Object.entries(parts)) expect(count, kind).toBeGreaterThan(0);
  });

  it("says what it counts, what is not divided, and what owners pay beside it, and saves whole costs", async () => {
    const { payers, sums, chosen, budgetPays, money } = JSON.parse(told.json);
    expect(budgetPays).toBe("city share");
    expect(money).toBe(31_500_000);
    expect(sums.works).toBe(payers.city + payers.notDivided);
    const whole = chosen.reduce((sum: number, { cost }: { cost: number }) => sum + cost, 0);
    expect(whole).toBe(payers.city + payers.owners + payers.notDivided);
    expect(payers.notDividedLaterals).toBeGreaterThan(0);
    const loaded = await loadProgram(ofCity);
    const reading = await readSeasonRun(ofCity, "share");
    if (!loaded.ok || !reading.ok) throw new Error("the season is not read");
    const { program, settings } = loaded;
    const shown = (cents: number) => showQuantity(cents, "money", program.basis.program);
    const said =
      `The budget counts the city's share of the cost of all works, ${shown(sums.works)}, in it ${shown(payers.notDivided)} for ` +
      `${payers.notDividedLaterals} lateral(s) at their whole cost, which is not divided`;
    expect(told.out).toContain(said);
    expect(told.out).toContain(`Owners pay ${shown(payers.owners)} of these works directly.`);
    expect(told.out).toContain("kept back; it counts the city's share of cost");
    expect(told.out).toContain("money is not compared: that budget counted the whole cost");
    expect(told.list).toContain(`${shown(sums.works + sums.mobilization)} of the city's share`);
    expect(told.list).toMatch(/season spring: .* laterals, USD [\d,.]+, proven/);
    expect(reading.run.chosen).toEqual(chosen);
    const booked = bookedSelection(program, settings, "share", reading.run)!;
    expect(booked.said.join(" ")).toContain(said);
    expect(booked.season.program.works).toBe(sums.works);
    const contents = bookContents(program);
    const sheets = [...seasonSheets(contents, booked), ...uncertaintySheets(contents)];
    expect(sheets.flatMap(({ columns }) => columns.map(({ heading }) => heading))).toEqual(
      expect.arrayContaining([
        "City's share of cost, this season (USD)",
        "Works, city's share, ranked cut (USD)",
        "City's share of planned cost (USD)",
      ]),
    );
  }, 60_000);

  it("has progress and report count of what is spent the same share as of the lateral's plan", async () => {
    const { io, said, forget } = recorded();
    const spent = {
      folder: ofCity,
      lateral: "00115",
      column: "installed_cost",
      value: "6000",
      reason: "diary",
    };
    await decideValue(spent, io, unread);
    const loaded = await loadProgram(ofCity);
    if (!loaded.ok) throw new Error("the sample is not read");
    const { laterals } = loaded.program;
    const row = Array.from({ length: laterals.rows }, (_, at) => textAt(laterals, "lateral", at)).indexOf(
      "00115",
    );
    const share = numberAt(laterals, "city_cost", row) / numberAt(laterals, "cost", row);
    expect(share).toBeGreaterThan(0.1);
    expect(share).toBeLessThan(0.9);
    const counted = Math.round(600_000 * share);
    forget();
    await progressOf(ofCity, { json: true }, io);
    // 4,000 opens its district.
    expect(JSON.parse(said.out)).toMatchObject({
      budget_pays: "city share",
      counted_spent_cents: counted,
      remaining_budget_cents: 35_000_000 - 400_000 - counted,
      program: { spent_cents: 600_000 },
    });
    forget();
    await progressOf(ofCity, {}, io);
    const { basis } = loaded.program;
    expect(said.out.replace(/\s+/g, " ")).toContain(
      `The budget counts the city's share of cost: ${showQuantity(counted, "money", basis.program)} of what is spent`,
    );
    await reportOf(ofCity, {}, io);
    const page = readFileSync(join(ofCity, "outputs", "report.html"), "utf8").replaceAll("&#39;", "'");
    expect(page).toContain(
      `counts the city's share of what is spent, USD ${showCount(Math.round(counted / 100))}: there is USD`,
    );
  }, 60_000);
});

describe("a season saved under one budget and read under another", () => {
  it("takes what was spent off its costs as they are counted now, by hand", async () => {
    const copy = sampleCopy("quennock-falls");
    const { io } = recorded();
    const spent = {
      folder: copy,
      lateral: "00115",
      column: "installed_cost",
      value: "6000",
      reason: "diary",
    };
    await decideValue(spent, io, unread);
    // Of 13,898.79 the city's plan pays 7,496.59; so of 6,000.00 it has paid 3,236.22.
    const left = { "whole cost": 789_879, "city share": 749_659 - 323_622 };
    for (const budget_pays of ["whole cost", "city share"] as const) {
      changeRules(copy, { budget_pays });
      await seasonOfFolder(copy, { save: budget_pays.replace(" ", "-") }, io);
    }
    for (const [budget_pays, cost] of Object.entries(left)) {
      changeRules(copy, { budget_pays });
      for (const name of ["whole-cost", "city-share"]) {
        const loaded = await loadSeasonOrSay(copy, name, io, (program, settings, named) =>
          withCurrentSeason(copy, { program, settings }, null, named),
        );
        const { run } = loaded!.season!;
        // A cross-bore was found in 00291.
        expect(run.so_far).toEqual([
          { lateral: "00291", standing: "held back", spent: 0 },
          { lateral: "00115", standing: "begun", spent: 600_000, visited: [] },
        ]);
        const booked = bookedSelection(loaded!.whole, loaded!.settings, name, run)!;
        const row = booked.laterals.find(({ lateral }) => lateral === "00115");
        expect(row?.season?.cost, `${name}, read under ${budget_pays}`).toBe(cost);
        const other = name === "whole-cost" ? "whole cost" : "city's share of cost";
        expect(booked.said.join(" ").includes(`, when its budget counted the ${other}.`), name).toBe(
          name !== budget_pays.replace(" ", "-"),
        );
      }
    }
    rmSync(copy, { recursive: true, force: true });
  }, 120_000);
});

describe("inspections beside a season", () => {
  it("are said not to be chosen by worth, with how many laterals wait for one", async () => {
    const { program, run } = await sample();
    const { laterals } = program;
    // What is held back waits for no camera yet.
    const waiting = Array.from({ length: laterals.rows }, (_, row) =>
      textAt(laterals, "cross_bore", row) === "found" ? "held back" : textAt(laterals, "treatment", row),
    );
    const planned = waiting.filter((treatment) => treatment === "inspect first").length;
    const taken = run.chosen.filter(({ treatment }) => treatment === "inspect first").length;
    expect(planned).toBeGreaterThan(100);
    expect(out).toContain(`of ${planned} ranked lateral(s) that wait for one, ${taken} are in this season`);
    expect(inspectionsSaid(0, 0, { choosable: 0, chosen: 0 })).toBeNull();
  });
});

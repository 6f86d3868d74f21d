import { describe, expect, it } from "vitest";
import { type CommandIo, EXIT } from "../../src/commands/command-io.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { uncertaintyOf } from "../../src/commands/uncertainty.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { calendarFinish } from "../../src/season/uncertainty/calendar-finish.ts";
import { seasonUncertainty } from "../../src/season/uncertainty/season-uncertainty.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { recorded } from "./sample-copy.ts";

const sample = new URL("../../sample-programs/quennock-falls", import.meta.url).pathname;

async function printed(command: (io: CommandIo) => Promise<number>) {
  const { io, said } = recorded();
  const code = await command({ ...io, columns: 80 });
  return { code, ...said };
}

describe("wyeplan uncertainty", () => {
  it("fits 80 columns and always says which distribution, what moves together and the estimate's class", async () => {
    const { code, out } = await printed((io) => uncertaintyOf(sample, { draws: "200" }, io));
    expect([EXIT.done, EXIT.doneWithProblems]).toContain(code);
    expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
    for (const words of [
      "200 possible seasons",
      "beta-PERT",
      "triangular",
      "Together in a season",
      "Estimate class 4",
    ])
      expect(out).toContain(words);
    expect(out).toMatch(/Program\s+20\d\d-\d\d-\d\d/);
  });

  it("says that its sums hold no lump sum, and what they are with those as fixed", async () => {
    const { out } = await printed((io) => uncertaintyOf(sample, { draws: "200" }, io));
    const text = out.replaceAll(/\s+/g, " ");
    // The sample's unit prices: mobilization 24,000 and traffic control 18,500.
    expect(text).toContain(
      "Not in these sums: the bid's lump sums (mobilization, traffic control), USD 42,500.00",
    );
    const { program, lump_sums_cents } = JSON.parse(
      (await printed((io) => uncertaintyOf(sample, { draws: "200", json: true }, io))).out,
    );
    expect(lump_sums_cents).toBe(4_250_000);
    const [, planned, p80] = /With them as fixed: planned USD ([\d,.]+), P80 USD ([\d,.]+)\./.exec(text)!;
    const cents = (shown: string) => Math.round(Number(shown.replaceAll(",", "")) * 100);
    expect(cents(planned!)).toBe(program.cost_cents.planned + 4_250_000);
    expect(Math.abs(cents(p80!) - program.cost_cents.p80 - 4_250_000)).toBeLessThanOrEqual(0.5);
  });

  it("gives the same answer twice", async () => {
    const once = await printed((io) => uncertaintyOf(sample, { draws: "200", json: true }, io));
    const again = await printed((io) => uncertaintyOf(sample, { draws: "200", json: true }, io));
    expect(again.out).toBe(once.out);
    expect(JSON.parse(once.out)).toMatchObject({ draws: 200, seed: 1, shape: "beta-PERT" });
  });

  it("says which percentile the plan is, in cost, crew-days and date", async () => {
    const json = JSON.parse(
      (await printed((io) => uncertaintyOf(sample, { draws: "200", json: true }, io))).out,
    );
    const { cost_cents: cost, crew_days: crewDays, finish } = json.program;
    const { out } = await printed((io) => uncertaintyOf(sample, { draws: "200" }, io));
    const said = out.replaceAll(/\s+/g, " ");
    const seasons = (share: number) => `${Math.round(share * 100)} seasons of 100`;
    expect(said).toContain(`holds in ${seasons(cost.planned_holds)}`);
    expect(said).toContain(`crew-days in ${seasons(crewDays.planned_holds)}`);
    expect(said).toContain(`the planned finish, ${finish.planned}, in ${seasons(finish.planned_holds)}`);
    expect(said).toContain("P10: one season in ten comes to no more, or is done by then");
    // A share p holds exactly where the planned value lies at the p-th percentile: between those that are told.
    for (const { planned, p10, p50, planned_holds: holds } of [cost, crewDays]) {
      expect(planned >= p10).toBe(holds >= 0.1);
      expect(planned >= p50).toBe(holds >= 0.5);
    }
    expect(finish.planned < finish.p10).toBe(finish.planned_holds < 0.1);
    // And the planned finish is that of the calendar.
    const loaded = await loadProgram(sample);
    if (!loaded.ok) throw new RangeError("the sample cannot be read");
    const { finish: ofCalendar } = planSeason(loaded.program)!.calendars.expected;
    expect(finish.planned).toBe(isoDate(ofCalendar!));
  });

  it("refuses a number of draws that is none", async () => {
    const { code, err } = await printed((io) => uncertaintyOf(sample, { draws: "many" }, io));
    expect(code).toBe(EXIT.notDone);
    expect(err).toContain("a whole number from 100 to 100000");
  });

  it("finishes, when all goes as planned, on the days of the calendar, and later when it takes longer or rains more", async () => {
    const loaded = await loadProgram(sample);
    if (!loaded.ok) throw new RangeError("the sample cannot be read");
    const finishOf = calendarFinish(loaded.program);
    const season = planSeason(loaded.program);
    if (finishOf === null || season === null) throw new RangeError("the sample has no calendar");
    const times = (factor: number) => new Map(season.work.map(({ district }) => [district, factor] as const));
    const planned = finishOf(times(1), 1);
    for (const { district, finish } of season.calendars.expected.districts)
      expect(planned.districts.get(district)).toBe(finish);
    expect(planned.program).toBe(season.calendars.expected.finish);
    expect(finishOf(times(1), 2).program).toBe(season.calendars.twice.finish);
    expect(Number(finishOf(times(1.5), 1).program)).toBeGreaterThan(Number(planned.program));
    expect(Number(finishOf(times(0.6), 1).program)).toBeLessThan(Number(planned.program));
  });
});

it("with nothing uncertain every treatment of the sample costs what is planned, to the cent", async () => {
  const loaded = await loadProgram(sample);
  if (!loaded.ok) throw new RangeError("the sample cannot be read");
  const { uncertainty: house, ...basis } = loaded.program.basis;
  const sure = { least: 1, best: 1, most: 1 };
  const uncertainty = {
    ...house,
    draws: 100,
    time: { ...house.time, productivity: sure, own: sure },
    length: { ...house.length, bias: sure, own: sure },
    price: { ...house.price, market: sure, ofClass: sure },
    changes: { ...house.changes, on: {} },
  };
  const found = seasonUncertainty({ ...loaded.program, basis: { ...basis, uncertainty } });
  const { totals, laterals } = loaded.program;
  // Nobody is sent to the cross-bore that was found, so its look costs nothing yet.
  const heldBack = { district: "LS-11", cost: 35_000 };
  const row = [...loaded.program.order].find((at) => textAt(laterals, "lateral", at) === "00291")!;
  expect(textAt(laterals, "district", row)).toBe(heldBack.district);
  expect(numberAt(laterals, "cost", row)).toBe(heldBack.cost);
  // Extensions of lines are whole cents; what is beyond the included length is reckoned from the length again.
  for (const [i, { cost, district }] of found.districts.entries()) {
    const planned = totals.districts[i]!.cost - (district === heldBack.district ? heldBack.cost : 0);
    expect(Math.abs(cost.p50 - planned)).toBeLessThan(totals.districts[i]!.laterals);
  }
  expect(found.program.cost.planned).toBe(totals.program.cost - heldBack.cost);
});

describe("wyeplan progress", () => {
  it("accounts for all laterals of the sample within 80 columns, and for the money given", async () => {
    const { out } = await printed((io) => progressOf(sample, { budget: "1500000" }, io));
    expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(out).toContain("Remaining budget: USD 1,500,000.00 of USD 1,500,000.00.");
    const { program } = JSON.parse((await printed((io) => progressOf(sample, { json: true }, io))).out);
    const { done, under_way, to_do, held_back, refused, no_work } = program;
    expect(done + under_way + to_do + held_back + refused + no_work).toBe(400);
    expect(held_back).toBe(1);
  });

  it("refuses a budget that is no amount", async () => {
    const { code, err } = await printed((io) => progressOf(sample, { budget: "1.5M" }, io));
    expect(code).toBe(EXIT.notDone);
    expect(err).toContain("an amount in the program's currency");
  });
});

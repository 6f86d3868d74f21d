import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { workStatuses } from "../../src/columns/plan-columns.ts";
import { bookedSelection } from "../../src/commands/booked-selection.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { takeoffOf } from "../../src/commands/takeoff.ts";
import { readSeasonRun } from "../../src/program/season-runs.ts";
import { recorded, sampleCopy, unread } from "./sample-copy.ts";

// The words of the issue, one by one, through the commands: each status, what was installed, what remains of the budget, and the season
// planned again with what is done held fixed.

let folder: string;
/** Ids and costs of the season as it was saved. */
let chosen: readonly { readonly lateral: string; readonly cost: number }[];
beforeAll(async () => {
  folder = sampleCopy("quennock-falls");
  await seasonOfFolder(folder, { save: "spring" }, recorded().io);
  const reading = await readSeasonRun(folder, "spring");
  if (!reading.ok) throw new Error("the season was not saved");
  chosen = reading.run.chosen;
  // One of each status, in the order of the list: permitted, cleaned, measured, lined, accepted, warranty check due, refused.
  for (const [i, status] of workStatuses.entries()) await decide(chosen[i]!.lateral, "status", status);
  await decide(chosen[4]!.lateral, "installed_cost", "5210.40");
  await decide(chosen[4]!.lateral, "installed_length", "41.2 ft");
  await decide(chosen[5]!.lateral, "status_on", "2027-05-01");
  await decide(chosen[6]!.lateral, "installed_cost", "310");
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function decide(lateral: string, column: string, value: string): Promise<void> {
  const { io, said } = recorded();
  const code = await decideValue({ folder, lateral, column, value, reason: "site diary" }, io, unread);
  expect(code, said.err).toBe(0);
}

const dollars = (cents: number): string =>
  `USD ${(cents / 100).toLocaleString("en-US", { minimumFractionDigits: 2 })}`;

/** Districts with a lateral that is done, cleaned or measured. */
function openedIn(districts: readonly { readonly done: number; readonly under_way: number }[]): number {
  const opened = districts.filter(({ done, under_way }) => done + under_way > 0).length;
  expect(opened).toBeGreaterThan(0);
  return opened;
}

async function progress(options: Parameters<typeof progressOf>[1] = {}): Promise<string> {
  const { io, said } = recorded();
  await progressOf(folder, options, io);
  return said.out;
}

describe("tracking the work of a season", () => {
  it("takes each status, what was installed and what was spent as decisions", async () => {
    const { program, held } = JSON.parse(await progress({ json: true }));
    for (const status of workStatuses) expect(program.by_status[status], status).toBe(1);
    // Lined, accepted and warranty check due are done; cleaned and measured are under way; permitted is a paper.
    expect(program).toMatchObject({ done: 3, under_way: 2, refused: 1 });
    // 41.2 ft × 304.8 mm.
    expect(program.installed_mm).toBe(Math.round(41.2 * 304.8));
    expect(held.map(({ lateral }: { lateral: string }) => lateral).sort()).toEqual(
      [3, 4, 5, 6].map((i) => chosen[i]!.lateral).sort(),
    );
  });

  it("says what remains of the budget: that of program.json, or one that is given", async () => {
    // What was entered; for what is done without that, the plan's cost.
    const { program, held, districts } = JSON.parse(await progress({ json: true }));
    const spent = held.reduce((sum: number, { cost_cents }: { cost_cents: number }) => sum + cost_cents, 0);
    expect(program.spent_cents).toBe(spent);
    // 4,000 for each district in which work has begun, as the season takes it off.
    const opened = openedIn(districts);
    expect(held.find(({ lateral }: { lateral: string }) => lateral === chosen[4]!.lateral).cost_cents).toBe(
      521_040,
    );
    const text = await progress();
    expect(text.replaceAll(/\s+/g, " ")).toContain(
      `Remaining budget: ${dollars(35_000_000 - spent - 400_000 * opened)} of USD 350,000.00, with ${dollars(400_000 * opened)} of mobilization in ${opened} district(s) where work has begun.`,
    );
    expect(JSON.parse(await progress({ json: true, budget: "400000" })).remaining_budget_cents).toBe(
      40_000_000 - spent - 400_000 * opened,
    );
  });

  it("plans the season again with what is done held fixed and what is refused left out", async () => {
    const { io, said } = recorded();
    await seasonOfFolder(folder, { json: true }, io);
    const again = JSON.parse(said.out);
    const now = new Set(again.chosen.map(({ lateral }: { lateral: string }) => lateral));
    for (const i of [3, 4, 5, 6]) expect(now.has(chosen[i]!.lateral)).toBe(false);
    const { held } = JSON.parse(await progress({ json: true }));
    const spent = held.reduce((sum: number, { cost_cents }: { cost_cents: number }) => sum + cost_cents, 0);
    // 350,000 less the tenth kept back, what was spent, and 4,000 for each district where work is done or has begun.
    const { districts } = JSON.parse(await progress({ json: true }));
    expect(again.money).toBe(31_500_000 - spent - 400_000 * openedIn(districts));
    expect(again.spentOnOpening).toBe(400_000 * openedIn(districts));
    for (const each of again.calendar.crews) {
      const has = ({ preparation: 30, lining: 35, dig: 6 } as Record<string, number>)[each.crew];
      if (has !== undefined) expect(each.packed + each.mobilized).toBeLessThanOrEqual(has);
    }
  }, 120_000);

  it("tells what is done or refused from what falls out for others' sake", async () => {
    const { io, said } = recorded();
    await seasonOfFolder(folder, { against: "spring" }, io);
    expect(said.out).toContain("held fixed: 3 lateral(s) done, 1 refused");
    const line = (start: string) => said.out.split("\n").find((each) => each.startsWith(`  ${start}`)) ?? "";
    for (const i of [3, 4, 5]) {
      expect(line("done since")).toContain(chosen[i]!.lateral);
      expect(line("fall out")).not.toContain(chosen[i]!.lateral);
    }
    expect(line("refused since: 1")).toContain(chosen[6]!.lateral);
  }, 120_000);

  it("buys nothing for what is done or refused, and says so", async () => {
    const { io, said } = recorded();
    await takeoffOf(folder, { season: "spring", json: true }, io);
    const tubeOf = (json: string): number =>
      JSON.parse(json)
        .takeoff.program.lines.filter(({ item }: { item: string }) => item === "liner tube")
        .reduce((sum: number, { use }: { use: number }) => sum + use, 0);
    expect(said.err).toContain("Not in the takeoff, because done or refused: 4 lateral(s)");
    const fresh = sampleCopy("quennock-falls");
    try {
      await seasonOfFolder(fresh, { save: "spring" }, recorded().io);
      const whole = recorded();
      await takeoffOf(fresh, { season: "spring", json: true }, whole.io);
      expect(tubeOf(said.out)).toBeLessThan(tubeOf(whole.said.out));
    } finally {
      rmSync(fresh, { recursive: true, force: true });
    }
  }, 120_000);

  it("says by --why that a lateral is done or refused, not that a rule nobody wrote forbids it", async () => {
    for (const [i, words] of [
      [4, `${chosen[4]!.lateral} is done already.`],
      [6, "its status is refused"],
    ] as const) {
      const { io, said } = recorded();
      await seasonOfFolder(folder, { why: chosen[i]!.lateral }, io);
      expect(said.out).toContain(words);
      expect(said.out).not.toContain("must_not");
    }
  }, 120_000);

  it("takes off what was spent on work that has begun: from the budget whatever is chosen, and from what it still costs", async () => {
    const { io, said, forget } = recorded();
    await seasonOfFolder(folder, { json: true }, io);
    const before = JSON.parse(said.out);
    const begun = chosen[1]!;
    await decide(begun.lateral, "installed_cost", "400");
    forget();
    await seasonOfFolder(folder, { json: true }, io);
    const after = JSON.parse(said.out);
    expect([before.spentOnBegun, after.spentOnBegun]).toEqual([0, 40_000]);
    expect(after.money).toBe(before.money - 40_000);
    // Of the budget of 350,000: what is kept back, what is spent, and the rest; three are done, one refused, two prepared.
    expect(after.budget).toBe(35_000_000);
    expect(after.moneyBeforeSpending - after.spent).toBe(after.money);
    expect(after).toMatchObject({ overspent: 0, done: 3, refused: 1, prepared: 2 });
    const found = after.chosen.find(({ lateral }: { lateral: string }) => lateral === begun.lateral);
    const whole = after.chosen.reduce((sum: number, { cost }: { cost: number }) => sum + cost, 0);
    expect(found.cost).toBe(begun.cost);
    expect(after.sums.works).toBe(whole - 40_000);
    expect(after.totals.program.works).toBe(whole - 40_000);
    forget();
    await seasonOfFolder(folder, { save: "again", against: "spring" }, io);
    expect(said.out).toContain("prepared: 2 lateral(s) cleaned or measured");
    // One was cleaned and has cost 400, another measured and nothing entered: what progress counts as under way.
    expect(said.out).toContain("under way: 2 lateral(s), USD 400.00 spent on them");
    expect(said.out).toContain("nothing is entered (installed_cost) for 1 of them");
    expect(JSON.parse(await progress({ json: true })).program.under_way).toBe(2);
    expect(said.out).toContain("; USD 400.00 of it is spent already.");
    expect(said.out).not.toContain("overspent");
    expect(said.out).toMatch(/money USD .* → USD .*, still to be spent: USD [\d,.]+ is spent already/);
    forget();
    await seasonOfFolder(folder, { why: begun.lateral }, io);
    expect(said.out).toContain("what is still to be spent: USD 400.00 has been spent on it already");
  }, 120_000);

  it("shows each season in the planning book as it was selected, whatever was recorded since", async () => {
    for (const name of ["spring", "again"]) {
      const loaded = await loadProgram(folder);
      const reading = await readSeasonRun(folder, name);
      if (!loaded.ok || !reading.ok) throw new Error("not read");
      const booked = bookedSelection(loaded.program, loaded.settings, name, reading.run);
      const { works, mobilization } = booked!.season.program;
      expect({ works, mobilization }, name).toEqual({
        works: reading.run.works,
        mobilization: reading.run.mobilization,
      });
      expect(booked!.said.join(" ").includes("spent when it was selected"), name).toBe(name === "again");
      expect(booked!.said.join(" ").includes("Costs are what was still to be spent"), name).toBe(
        name === "again",
      );
      // Cleaned for 400, and measured with nothing entered.
      expect(booked!.said.join(" ").includes("2 lateral(s) were under way"), name).toBe(name === "again");
    }
  }, 120_000);

  it("says by how much more is spent than there is, and all that the budget lacks", async () => {
    const { io, said, forget } = recorded();
    await decide(chosen[1]!.lateral, "installed_cost", "400000");
    const file = join(folder, "program.json");
    const settings = JSON.parse(readFileSync(file, "utf8"));
    // The laterals that a district is to have cost money there is not.
    settings.season.districts = undefined;
    writeFileSync(file, JSON.stringify(settings));
    await seasonOfFolder(folder, {}, io);
    const { held, districts } = JSON.parse(await progress({ json: true }));
    const opening = 400_000 * openedIn(districts);
    const onHeld = held.reduce((sum: number, { cost_cents }: { cost_cents: number }) => sum + cost_cents, 0);
    const over = onHeld + opening + 40_000_000 - 31_500_000;
    expect(said.out).toContain(`1 refused; ${dollars(onHeld)} spent on them`);
    expect(said.out).toContain(
      `opened: ${openedIn(districts)} district(s) where work has begun: ${dollars(opening)} of mobilization is gone`,
    );
    expect(said.out).toContain(`overspent: ${dollars(over)} more is spent than the budget less its reserve`);
    forget();
    await seasonOfFolder(folder, { json: true }, io);
    expect(JSON.parse(said.out)).toMatchObject({ overspent: over, money: 0 });
    settings.season.must_do = [chosen[8]!.lateral];
    writeFileSync(file, JSON.stringify(settings));
    forget();
    await seasonOfFolder(folder, {}, io);
    const [, budget] = /write "budget": ([\d.]+)/.exec(said.err)!;
    // With a cent less there is none; with that, there is one.
    for (const [cents, has] of [
      [Number(budget) * 100 - 1, false],
      [Number(budget) * 100, true],
    ] as const) {
      settings.season.budget = Math.round(cents) / 100;
      writeFileSync(file, JSON.stringify(settings));
      forget();
      await seasonOfFolder(folder, {}, io);
      expect(said.out.includes("laterals in"), String(settings.season.budget)).toBe(has);
    }
  }, 120_000);
});

import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { loadSeasonOrSay } from "../../src/commands/load-season.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { type SeasonOptions, seasonOfFolder } from "../../src/commands/season.ts";
import { lumpSumsSaid } from "../../src/commands/season-words.ts";
import { takeoffOf } from "../../src/commands/takeoff.ts";
import { readVariation } from "../../src/commands/vary-words.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

let folder: string;
beforeAll(() => {
  folder = sampleCopy("quennock-falls");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function season(options: SeasonOptions) {
  const { io, said } = recorded();
  const code = await seasonOfFolder(folder, options, io);
  return { code, ...said };
}

const rewriteSeason = (changes: object) => changeRules(folder, changes);

describe("wyeplan season", () => {
  it("says what its sums leave out and its book's estimate has, to the cent, and whether that is over the budget", async () => {
    const copy = sampleCopy("kaltwendel");
    const { io, said, forget } = recorded();
    await seasonOfFolder(copy, { save: "spring" }, io);
    const [, lump, all] =
      /lump sums \(mobilization, traffic control\), EUR ([\d,.]+) at .* come to EUR ([\d,.]+), more than the budget/.exec(
        said.out,
      )!;
    // Its unit prices: mobilization 16,500 and traffic control 12,800.
    expect(lump).toBe("29,300.00");
    forget();
    await seasonOfFolder(copy, { json: true }, io);
    const cents = (shown: string) => Math.round(Number(shown.replaceAll(",", "")) * 100);
    // The budget of its program.json.
    expect(cents(all!)).toBeGreaterThan(18_000_000);
    const left = 18_000_000 * 0.95 - cents(all!);
    expect(JSON.parse(said.out)).toMatchObject({
      lumpSums: cents(lump!),
      worksAndLumpSums: cents(all!),
      moneyLeftWithLumpSums: left,
    });
    forget();
    await seasonOfFolder(copy, {}, io);
    // The first number on money left says what it leaves out, and the next two lines are that.
    expect(said.out).toMatch(
      /money left, without lump sums +EUR [\d,.]+ .*\nlump sums of the bid +EUR 29,300\.00 .*\nmoney left, lump sums instead of mobilization +EUR −?-?[\d,.]+/,
    );
    const shownLeft = /lump sums instead of mobilization +EUR (\S+)/.exec(said.out)![1]!;
    expect(cents(shownLeft.replace("−", "-"))).toBe(left);
    forget();
    const loaded = await loadSeasonOrSay(copy, "spring", io);
    const sheets = [...buildPlanningBook(bookContents(loaded!.program)).sheets];
    const total = sheets.find(({ name }) => name === "Estimate")!.foot!.find((row) => row[1] === "Total")!;
    expect(total).toContainEqual(expect.objectContaining({ result: Number(all!.replaceAll(",", "")) }));
    const { out } = await season({});
    expect(out).toContain("lump sums (mobilization, traffic control), USD 42,500.00");
    // The budget of 350,000 less its tenth kept back is 315,000. The works are those that the season lists: seasons with the root
    // cutting of 00172 or that of 00214 are worth the same to the cent, and their works are not.
    const { chosen } = JSON.parse((await season({ json: true })).out);
    const works = chosen.reduce((total: number, { cost }: { cost: number }) => total + cost, 0);
    const sum = works + 4_250_000;
    const shown = (amount: number) =>
      `USD ${(amount / 100).toLocaleString("en-US", { minimumFractionDigits: 2 })}`;
    expect(sum).toBeGreaterThan(31_500_000);
    expect(out).toContain(
      `Works and lump sums come to ${shown(sum)}, which takes ${shown(sum - 31_500_000)} of the USD 35,000.00 kept back.`,
    );
    rmSync(copy, { recursive: true, force: true });
  }, 60_000);

  it("says by hand whether works and lump sums fit the money, take of the reserve or are more than the budget", () => {
    // A budget of 350,000, a tenth of it kept back; 6,000 spent on works and 4,000 on opening a district, whose place the lump sums take.
    const said = (works: number, spent = 0, opening = 0) =>
      lumpSumsSaid(works, {
        lumpSums: 4_250_000,
        lumpSumItems: ["mobilization"],
        rules: { budget: 35_000_000 },
        pays: "whole cost",
        season: { moneyBefore: 31_500_000, spent: spent + opening, opening: { spent: opening } },
        style: { units: "us", currency: "USD" },
      })!.replace(/^.* by district\./, "");
    expect(said(27_250_000)).toBe("");
    expect(said(27_250_001)).toBe(
      " Works and lump sums come to USD 315,000.01, which takes USD 0.01 of the USD 35,000.00 kept back.",
    );
    expect(said(27_825_237)).toBe(
      " Works and lump sums come to USD 320,752.37, which takes USD 5,752.37 of the USD 35,000.00 kept back.",
    );
    expect(said(27_825_237, 600_000, 400_000)).toContain("takes USD 11,752.37 of the USD 35,000.00");
    expect(said(30_750_000)).toContain("takes USD 35,000.00 of the USD 35,000.00");
    expect(said(30_750_001)).toBe(" Works and lump sums come to USD 350,000.01, more than the budget.");
  });

  it("adds up: districts to the program, the chosen to their cost, loss before less after to the worth", async () => {
    const { out } = await season({ json: true });
    const told = JSON.parse(out);
    const sum = (key: string) =>
      told.totals.districts.reduce((total: number, d: Record<string, number>) => total + d[key]!, 0);
    for (const key of [
      "laterals",
      "chosen",
      "works",
      "mobilization",
      "lossBefore",
      "lossAvoided",
      "infiltrationRemoved",
    ])
      expect(sum(key)).toBe(told.totals.program[key]);
    const costs = told.chosen.reduce((total: number, { cost }: { cost: number }) => total + cost, 0);
    expect(told.totals.program.works).toBe(costs);
    // The objective is the loss avoided, in whole cents.
    expect(told.totals.program.lossAvoided).toBe(told.worth);
    // 350,000 less the tenth kept back.
    expect(told.money).toBe(31_500_000);
    expect(costs + told.totals.program.mobilization).toBeLessThanOrEqual(told.money);
    // The rules of the sample's program.json, read off what was reported: crew_days 30, 35 and 6, and 8 laterals of LS-11.
    const days = told.packing.packed.map((each: number, crew: number) => each + told.packing.mobilized[crew]);
    for (const [crew, most] of [30, 35, 6].entries()) expect(days[crew]).toBeLessThanOrEqual(most);
    const served = told.totals.districts.find(({ district }: { district: string }) => district === "LS-11");
    expect(served.chosen).toBeGreaterThanOrEqual(8);
    const ids = told.chosen.map(({ lateral }: { lateral: string }) => lateral);
    expect(new Set(ids).size).toBe(ids.length);
    // The bound is of seasons that count less of their crews' days: it is never below one that fits, and the gap is stated against it.
    expect(told.bound).toBeGreaterThanOrEqual(told.worth);
    expect(told.gap).toBeCloseTo((told.bound - told.worth) / told.bound, 12);
    // With days counted at their least it does not fit as packed, so what fits is worth less; it is proven all the same.
    expect(told.ended).toBe("proven");
    expect(told.gap).toBeLessThanOrEqual(0.001);
    expect(Math.max(...told.packing.unpacked.excess)).toBeGreaterThan(0);
    expect(told.worth).toBeLessThan(told.packing.unpacked.worth);
    expect(told.worth).toBeGreaterThan(told.rankedCut.worth);
  });

  it("saves a season under a name, never over another, and says what moved against it", async () => {
    expect((await season({ save: "spring" })).err).toContain("Saved as season spring");
    const again = await season({ save: "Spring" });
    expect(again.code).toBe(2);
    expect(again.err).toContain("never overwritten");
    expect((await season({ against: "spring" })).out).toContain("come in: none");
    expect((await season({ against: "sprang" })).err).toContain("Saved are: spring");
  });

  it("has plans, takeoff, calendar and books of its own, at the money that was selected", async () => {
    const told = JSON.parse((await season({ json: true })).out);
    const { io, said, forget } = recorded();
    await planFolder(folder, { season: "spring", json: true, withAddresses: true }, io);
    const plan = JSON.parse(said.out);
    expect(plan.totals.cost).toBe(told.totals.program.works);
    expect(plan.laterals.length).toBe(told.totals.program.chosen);
    expect(plan.program.name).toMatch(/, season spring$/);
    // Nothing of a season that changed since.
    expect(said.err).not.toContain("season");
    forget();
    await takeoffOf(folder, { season: "spring", json: true }, io);
    expect(JSON.parse(said.out).program.name).toMatch(/, season spring$/);
    expect(await planFolder(folder, { season: "sprang" }, io)).toBe(2);
    expect(said.err).toContain("Saved are: spring");
  });

  it("fits its crew-days and dates by the calendar, which plans and packs it anew", async () => {
    const { calendar } = JSON.parse((await season({ json: true })).out);
    expect(calendar.slips).toEqual([]);
    for (const each of calendar.crews)
      expect(each.packed * 100).toBeGreaterThanOrEqual(each.countedHundredths);
    expect(calendar.finish).toBe(
      calendar.districts
        .map(({ finish }: { finish: string }) => finish)
        .sort()
        .at(-1),
    );
    const { out } = await season({});
    expect(out).toContain(`It fits the calendar: done on ${calendar.finish}`);
    // crew_days of the sample's program.json.
    for (const [kind, has] of [
      ["preparation", 30],
      ["lining", 35],
      ["dig", 6],
    ] as const) {
      const { packed, mobilized } = calendar.crews.find(({ crew }: { crew: string }) => crew === kind);
      expect(packed + mobilized).toBeLessThanOrEqual(has);
    }
  });

  it("varies the season's last day: a longer one is never worth less", async () => {
    const { out } = await season({
      vary: ["season", "2026-04-15..2026-05-27", "by", "2", "weeks"],
      json: true,
      gap: "0.005",
    });
    const { points } = JSON.parse(out);
    expect(points.length).toBe(4);
    // Three weeks of one lining crew bind; six weeks no longer do.
    expect(points[0].worth).toBeLessThan(points[3].worth);
  });

  it("draws what other budgets would do, and finds nothing under a lateral it does not know", async () => {
    const { out } = await season({ vary: ["budget", "100000..500000", "by", "200000"], gap: "0.01" });
    expect(out).toContain("next unit of money adds");
    expect(out.match(/[●◆]/g)?.length).toBeGreaterThanOrEqual(3);
    const nobody = await season({ why: "no such" });
    expect(nobody.code).toBe(2);
    const asJson = await season({ why: "00113", json: true });
    expect(asJson).toMatchObject({ code: 2, out: "" });
    expect(asJson.err).toContain("--why is text and has no JSON");
  });

  it("says which rules clash and what would mend it", async () => {
    rewriteSeason({ crew_days: { preparation: 1 }, districts: { "LS-11": { least_laterals: 30 } } });
    const { code, err } = await season({});
    expect(code).toBe(2);
    expect(err).toContain("That is proven");
    expect(err).toContain("1 crew-days of preparation");
    expect(err).toContain("at least 30 laterals in LS-11");
    expect(err).toMatch(
      /The fewest crew-days more that make room; no fewer do:\n {2}\d+ more crew-day\(s\) of preparation/,
    );
    // Money alone cannot be packed round: then it is the rules that clash.
    rewriteSeason({ budget: 1000, districts: { "LS-11": { least_laterals: 30 } } });
    const poor = await season({});
    expect(poor.err).toContain("Any one of these mends it");
  });

  it("names who cannot be selected and why, and the budget to write so that its reserve leaves enough", async () => {
    rewriteSeason({
      budget: 350_000,
      crew_days: { preparation: 30, lining: 35, dig: 6 },
      districts: {},
      must_do: ["00358", "00217"],
    });
    const barred = await season({});
    expect(barred.err).toContain("nothing can be selected for 00358 (no permission that holds)");
    expect(barred.err).toContain("take 1 lateral(s) out of must_do: 00358 (no permission that holds)");
    // Needed are USD 40,000 of works and mobilization or so; 0.9 of the budget is there to spend.
    const must_do = ["00115", "00217", "00215", "00126", "00159", "00145"];
    rewriteSeason({ budget: 40_000, must_do });
    const { err } = await season({});
    const budget = Number(/write "budget": ([\d.]+), the reserve included/.exec(err)![1]);
    rewriteSeason({ budget: budget - 0.02 });
    expect((await season({})).err).toMatch(/USD 0\.0[12] more to the money/);
    rewriteSeason({ budget });
    expect((await season({})).err).toBe("");
  });

  it("says what is named for a main that is not to be lined: it has no effect", async () => {
    rewriteSeason({
      must_do: [],
      mains_lined: { laterals: { "00217": "2026-05-04" }, districts: { "LS-11": "not this season" } },
    });
    const { err } = await season({});
    expect(err).toContain('"00217" has no effect: whether its main is to be lined is not known');
    expect(err).toContain('"LS-11" has no effect: no lateral of it has a main that is to be lined');
    const { io, said } = recorded();
    await checkFolder(folder, io);
    expect(said.out).toContain('"00217" has no effect: whether its main is to be lined is not known');
    rewriteSeason({ mains_lined: {} });
  });

  it("refuses names that the city's file does not have", async () => {
    rewriteSeason({ must_do: ["nobody"] });
    const { code, err } = await season({});
    expect(code).toBe(2);
    expect(err).toContain('season.must_do": found "nobody"');
    const { io, said } = recorded();
    await checkFolder(folder, io);
    expect(said.out).toContain('season.must_do": found "nobody"');
  });
});

describe("what --vary asks for", () => {
  it("is read, and refused with what to write", () => {
    const words = (said: string) => readVariation(said.split(" "), ["lining"]);
    expect(words("budget 10..30 by 10")).toEqual({
      ok: true,
      variation: { of: "budget", crew: null, amounts: [10, 20, 30] },
    });
    expect(words("crews lining 2..3 by 0.5")).toMatchObject({ variation: { amounts: [2, 2.5, 3] } });
    for (const said of [
      "budget 30..10 by 5",
      "crews 2..3 by 1",
      "crews painters 2..3 by 1",
      "money 1..2 by 1",
      "budget 0..1000 by 1",
    ])
      expect(words(said)).toMatchObject({ ok: false });
  });
});

it("calls laterals in no district as every other list does", async () => {
  const own = sampleCopy("quennock-falls");
  try {
    const file = join(own, "laterals.csv");
    writeFileSync(file, readFileSync(file, "utf8").replaceAll(",LS-14,", ",,"));
    const { io, said } = recorded();
    await seasonOfFolder(own, {}, io);
    expect(said.out).toMatch(/^ *\(no district\) +\d+ of \d+ /m);
    expect(said.out).not.toContain("(none)");
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}, 60_000);

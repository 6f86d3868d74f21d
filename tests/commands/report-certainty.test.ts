import { rmSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { certaintyOf } from "../../src/commands/report/certainty.ts";
import { certaintyBody } from "../../src/commands/report/certainty-section.ts";
import { uncertaintyOf } from "../../src/commands/uncertainty.ts";
import { asRead, printedJson, reportFor, sectionOf, whole } from "./report-page.ts";
import { recorded, SAMPLES, sampleCopy } from "./sample-copy.ts";

const sample = join(SAMPLES, "quennock-falls");
const uncertainty = (folder: string) => printedJson((io) => uncertaintyOf(folder, { json: true }, io));
const inHundred = (share: number) => `${Math.round(share * 100)} of 100`;

describe("how sure cost and dates are, in the report", () => {
  it("is what the command finds by the same draws, to the figure", async () => {
    const [found, page] = [await uncertainty(sample), await reportFor(sample)];
    const section = sectionOf(page, "certainty");
    const { cost_cents: cost, finish } = found.program;
    expect(section).toContain(`carried through ${found.draws.toLocaleString("en-US")} possible courses`);
    expect(section).toContain(
      `Cost: between USD ${whole(cost.p10)} and USD ${whole(cost.p90)} in 8 of 10 courses. The estimate, USD ${whole(cost.planned)}, is enough in ${inHundred(cost.planned_holds)}.`,
    );
    expect(section).toContain(
      `with USD ${whole(found.contingency_cents)} over the estimate (${((100 * found.contingency_cents) / cost.planned).toFixed(1)} % of it) set aside, the money is enough in ${inHundred(found.contingency_level)}.`,
    );
    expect(section).toContain(
      `Finish: between ${finish.p10} and ${finish.p90} in 8 of 10 courses. The planned day, ${finish.planned}, is kept in ${inHundred(finish.planned_holds)}. Within the season's calendar the work is finished in ${inHundred(finish.in_season)}.`,
    );
    for (const [name, key] of [
      ["The estimate itself", "planned"],
      ["1 in 10 (P10)", "p10"],
      ["5 in 10 (P50)", "p50"],
      ["8 in 10 (P80)", "p80"],
      ["9 in 10 (P90)", "p90"],
    ] as const)
      expect(section).toContain(`${name} |${whole(cost[key])} |${finish[key]} |`);
    expect(section).toContain(
      `What moves the cost most: ${found.drivers_of_cost
        .slice(0, 3)
        .map(({ words }: { words: string }) => words)
        .join("; then ")}.`,
    );
    // On the front page too: an estimate alone reads as a promise.
    expect(sectionOf(page, "money")).toContain(
      `between USD ${whole(cost.p10)} and USD ${whole(cost.p90)}; the estimate is enough in ${inHundred(cost.planned_holds)}`,
    );
  });

  it("says that no date can be told without a calendar, and tells crew-days", async () => {
    const folder = sampleCopy("quennock-falls", (settings) => {
      delete settings.season.calendar;
    });
    const { crew_days: days } = (await uncertainty(folder)).program;
    const section = sectionOf(await reportFor(folder), "certainty");
    expect(section).toContain(
      "Dates of the finish cannot be said: program.json has no calendar of a season to finish in.",
    );
    expect(section).toContain(
      `Crew-days: between ${days.p10.toFixed(1)} and ${days.p90.toFixed(1)} in 8 of 10`,
    );
    expect(section).toContain(`9 in 10 (P90) |`);
    expect(section).toContain(`|${days.p90.toFixed(1)} |`);
    rmSync(folder, { recursive: true, force: true });
  });

  it("says why no cost can be told where nothing has a price, without a picture of it, and still tells dates", async () => {
    const folder = sampleCopy("quennock-falls", (settings) => {
      delete settings.unit_prices;
    });
    const page = await reportFor(folder);
    const section = sectionOf(page, "certainty");
    expect(section).toContain("How sure the cost is cannot be worked out: no work of the plan has a price.");
    expect(section).not.toMatch(/USD|Contingency/);
    expect(section).toMatch(/Finish: between 20/);
    expect(page.match(/<svg/g)).toHaveLength(5);
    rmSync(folder, { recursive: true, force: true });
  });

  it("counts the city's share where the budget does, and says so", async () => {
    const folder = sampleCopy("quennock-falls", (settings) => {
      settings.season.budget_pays = "city share";
    });
    const { cost_cents: cost } = (await uncertainty(folder)).program;
    expect(sectionOf(await reportFor(folder), "certainty")).toContain(
      `City's share of cost: between USD ${whole(cost.p10)} and USD ${whole(cost.p90)} in 8 of 10 courses.`,
    );
    rmSync(folder, { recursive: true, force: true });
  });

  it("packs no more laterals into days than is said, and says that it did not", async () => {
    const loaded = await loadProgram(sample);
    if (!loaded.ok) throw new Error("the sample cannot be planned");
    const { program } = loaded;
    const certainty = certaintyOf(program, 399);
    expect(certainty.found.program.cost).toEqual(certaintyOf(program).found.program.cost);
    expect(asRead(certaintyBody({ program, certainty }, "plan").markup)).toContain(
      "Dates of the finish cannot be said: of 400 laterals, more than 399, they are not worked out for a report; wyeplan uncertainty does.",
    );
  });
});

describe("sums of the report that laterals without a price are not in", () => {
  const withoutDigging = () =>
    sampleCopy("quennock-falls", (settings) => {
      delete settings.unit_prices.items["open-cut replacement"];
    });

  it("are marked wherever they stand, what the city pays as well, and the mark is explained", async () => {
    const folder = withoutDigging();
    const { totals } = await printedJson((io) => planFolder(folder, { json: true }, io));
    const { unpriced, cost } = totals;
    expect(unpriced).toBeGreaterThan(0);
    const page = await reportFor(folder);
    expect(asRead(page)).toContain(
      `USD ${whole(cost)}* estimated cost of the work, without ${unpriced} that have no price`,
    );
    const money = sectionOf(page, "money");
    expect(money).toMatch(
      /Of this the city pays USD [\d,]+\* and owners USD [\d,]+\*; USD [\d,]+\* is not divided/,
    );
    expect(money).toMatch(/Open-cut replacement \|\d+ \|[\d,]+\* \|/);
    expect(money).toContain(`All |400 |${whole(cost)}* |`);
    expect(money).toContain(`* Incomplete: ${unpriced} lateral(s) are not in it`);
    expect(sectionOf(page, "certainty")).toContain(
      `* ${unpriced} lateral(s) are in no cost: an item of their work has no price.`,
    );
    expect(sectionOf(page, "certainty")).toMatch(/8 in 10 \(P80\) \|[\d,]+\* \|/);
    // And so in the terminal.
    const { io, said } = recorded();
    await planFolder(folder, {}, io);
    expect(said.out).toMatch(/City pays USD [\d,.]+\*, owners USD [\d,.]+\*; USD [\d,.]+\* is not divided/);
    rmSync(folder, { recursive: true, force: true });
  });

  it("have no mark where every work has a price", async () => {
    expect(asRead(await reportFor(sample))).not.toMatch(/\d\*/);
    const { io, said } = recorded();
    await planFolder(sample, {}, io);
    expect(said.out).toMatch(/City pays USD 523,573\.37, owners/);
  });
});

import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookedSelection } from "../../src/commands/booked-selection.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { inspectionsSaid, payersSaid } from "../../src/commands/season-words.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { readSeasonRun } from "../../src/program/season-runs.ts";
import { showQuantity } from "../../src/quantity/show-quantity.ts";
import { cents } from "../../src/quantity/si.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { textAt } from "../../src/sheet/table.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

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
    const paid = { cityCost: 0, ownerCost: 0, undivided: 0 };
    for (let row = 0; row < laterals.rows; row++) {
      const treatment = wanted.get(textAt(laterals, "lateral", row));
      if (treatment === undefined) continue;
      const { offers } = planLateral(lateralAt(tables, row), basis);
      const { split, cost } = offers.find((offer) => offer.treatment === treatment)!;
      if (split.kind !== "split") paid.undivided += cost.total!;
      else {
        paid.cityCost += split.city!;
        paid.ownerCost += split.owner!;
      }
    }
    expect(paid.ownerCost).toBeGreaterThan(0);
    expect(json.payers).toEqual({
      city: paid.cityCost,
      owners: paid.ownerCost,
      notDivided: paid.undivided,
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
        { units: "us", currency: "USD" },
      );
    expect(said(0)).toMatch(/city pays USD 3\.00, owners USD 2\.00\.$/);
    expect(said(100)).toContain("USD 1.00 is not divided");
  });
});

describe("inspections beside a season", () => {
  it("are said not to be chosen by worth, with how many laterals wait for one", async () => {
    const { program, run } = await sample();
    const { laterals } = program;
    const waiting = Array.from({ length: laterals.rows }, (_, row) => textAt(laterals, "treatment", row));
    const planned = waiting.filter((treatment) => treatment === "inspect first").length;
    const taken = run.chosen.filter(({ treatment }) => treatment === "inspect first").length;
    expect(planned).toBeGreaterThan(100);
    expect(out).toContain(`of ${planned} ranked lateral(s) that wait for one, ${taken} are in this season`);
    expect(inspectionsSaid(0, 0)).toBeNull();
  });
});

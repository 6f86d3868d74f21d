import { describe, expect, it } from "vitest";
import { breakdownText } from "../../src/commands/breakdown-text.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planAsJson } from "../../src/commands/plan-json.ts";
import { sampleCopy } from "./sample-copy.ts";

it("counts each section as a liner: liners by wall are the liners that the bid pays for, in every district", async () => {
  const loaded = await loadProgram(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname);
  if (!loaded.ok) throw new RangeError("the sample cannot be read");
  const { totals } = loaded.program;
  for (const { linersByWall, bidLines } of [...totals.districts, totals.program]) {
    const placed = [...linersByWall.values()].reduce((a, b) => a + b, 0);
    const paid = [...bidLines]
      .filter(([line]) => /^(sectional|full-length|connection|one-piece) liner/.test(line))
      .reduce((sum, [, hundredths]) => sum + hundredths / 100, 0);
    expect(placed).toBe(paid);
  }
  // The sample has laterals with several sections, or the count above would prove nothing.
  const sections = [...totals.program.bidLines]
    .filter(([line]) => line.startsWith("sectional"))
    .reduce((sum, [, hundredths]) => sum + hundredths / 100, 0);
  expect(sections).toBeGreaterThan(totals.program.byTreatment["sectional liner"]);
  const lines = breakdownText(loaded.program, 80).join("\n").split("\n");
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
});

describe("what is known of no lateral", () => {
  // Without prices in a currency other than the table of failure costs, without a diameter: no money, no loss, no water.
  const unknown = async () => {
    const folder = sampleCopy("kaltwendel", (settings) => {
      delete settings.unit_prices;
      delete settings.criteria.failure_costs;
      delete settings.laterals.columns.host_diameter;
    });
    const loaded = await loadProgram(folder);
    if (!loaded.ok) throw new RangeError("the sample cannot be read");
    return loaded.program;
  };

  it("is no table of names", async () => {
    expect(breakdownText(await unknown(), 200)).toEqual([]);
  });
});

it("says in JSON that totals are in the bid's units: feet, where the laterals are in metres", async () => {
  const loaded = await loadProgram(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname);
  if (!loaded.ok) throw new RangeError("the sample cannot be read");
  const said = planAsJson(loaded.program) as {
    units_of_totals: string;
    totals: { linerLengthByDiameter: Record<string, number> };
    laterals: readonly { liner_length: number | null }[];
  };
  expect(said.units_of_totals).toContain("hundredths of the bid's own unit (lengths in ft)");
  const total = Object.values(said.totals.linerLengthByDiameter).reduce((a, b) => a + b, 0) / 100;
  // The column as it is: a liner at the connection is in neither.
  const metres = said.laterals.reduce((sum, { liner_length }) => sum + (liner_length ?? 0), 0);
  // 400 lengths rounded to hundredths of a foot are off by no more than 2 ft together.
  expect(Math.abs(total - metres / 0.3048)).toBeLessThan(2);
});

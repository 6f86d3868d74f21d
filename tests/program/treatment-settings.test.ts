import { describe, expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { houseTreatmentEffects } from "../../src/reference/treatment-effects.ts";
import { houseTreatmentRules } from "../../src/reference/treatment-rules.ts";
import { allBasisRows } from "../../src/workbook/basis-rows.ts";
import { usBasis } from "../plan/examples.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

const readingOf = (criteria: unknown) =>
  readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, criteria }, null, 2)));
const basisWith = (criteria: unknown) => {
  const reading = readingOf(criteria);
  if (!reading.ok) throw new Error(reading.problems.map(describeProblem).join("\n"));
  return basisForSettings(reading.settings);
};
const saidOf = (criteria: unknown) => {
  const reading = readingOf(criteria);
  return reading.ok ? [] : reading.problems.map(({ column, expected }) => `${column}: ${expected}`);
};

describe("how sections are placed, in program.json", () => {
  it("takes the stock, what must stay clear and what a section repairs from the program, and says so", () => {
    const { sectional } = basisWith({
      treatments: {
        sectional: {
          stocked_lengths: ["2 ft", "5 ft"],
          keep_clear: [{ name: "bend", kinds: ["bend"], bars: "end", clear_each_side: "6 in" }],
          repairs: ["crack", "hole"],
        },
      },
    }).treatments;
    // 2 and 5 ft of 0.3048 m; 6 in of 0.0254 m.
    expect(sectional.stockedLengths.values.map((length) => length.toFixed(4))).toEqual(["0.6096", "1.5240"]);
    expect(sectional.keepClear).toEqual([
      { name: "bend", kinds: ["bend"], bars: "end", clearEachSide: expect.closeTo(0.1524, 9) },
    ]);
    expect(sectional.repairs).toEqual(["crack", "hole"]);
    expect(sectional.overlapEachSide).toBe(houseTreatmentRules.sectional.overlapEachSide);
    expect(sectional.source.note).toContain("Changes stocked_lengths.");
    expect(sectional.placingSource.note).toContain("Changes keep_clear, repairs.");
  });

  it("refuses a kind that nobody sees", () => {
    expect(saidOf({ treatments: { sectional: { repairs: ["cracks"] } } })[0]).toMatch(
      /^criteria\.treatments\.sectional\.repairs\.0: .*"crack"/,
    );
  });
});

describe("what is dug up, in program.json", () => {
  it("takes the trench and the pits of bursting from the program", () => {
    const { openCut, bursting } = basisWith({
      treatments: {
        open_cut: { trench_width: "4 ft" },
        bursting: { pits: [{ name: "pit at the main", surface: "alley", area: "50 ft2" }] },
      },
    }).treatments;
    expect(openCut.trenchWidth).toBeCloseTo(1.2192, 9);
    // 50 ft² of 0.09290304 m².
    expect(bursting.pits).toEqual([
      { name: "pit at the main", surface: "alley", area: expect.closeTo(4.645152, 9) },
    ]);
    expect(bursting.source.at).toBe("criteria.treatments.bursting");
  });
});

describe("what works leave of the chances of failure, in program.json", () => {
  it("takes a share of the program's own and leaves the others, with the source of each", () => {
    const effects = basisWith({
      treatment_effects: {
        "sectional liner": { reached: { least: "30 %", best: "60 %", most: 0.8 } },
      },
    }).effects.works;
    const house = houseTreatmentEffects.works["sectional liner"];
    expect(effects["sectional liner"]).toMatchObject({
      structural: house?.structural,
      reached: { least: 0.3, best: 0.6, most: 0.8 },
      source: { at: "criteria.treatment_effects.sectional liner" },
    });
    expect(effects["full-length liner"]).toEqual(houseTreatmentEffects.works["full-length liner"]);
  });

  it("refuses shares out of order, and a work that changes no chance", () => {
    expect(
      saidOf({ treatment_effects: { "joint grouting": { blockage: { least: 0.9, best: 0.5, most: 1 } } } }),
    ).toEqual(["criteria.treatment_effects.joint grouting.blockage: least ≤ best ≤ most"]);
    expect(
      saidOf({ treatment_effects: { "new cleanout": { reached: { least: 0, best: 0, most: 0 } } } })[0],
    ).toContain('criteria.treatment_effects.new cleanout: no such change: "new cleanout" changes no chance');
  });

  it("is on the Basis sheet with sections, pits and effects, each with its unit", () => {
    const rows = allBasisRows(usBasis).map(({ what, unit }) => `${what} [${unit}]`);
    for (const part of [
      /^Stocked lengths.* \[ft\]$/,
      /^Keep clear, bend, clear each side \[ft\]$/,
      /^Repairs \[\]$/,
      /^Pits, pit at the main, area \[ft2\]$/,
      /sectional liner, reached, best \[%\]$/,
    ])
      expect(rows.filter((row) => part.test(row)).length, String(part)).toBeGreaterThan(0);
  });
});

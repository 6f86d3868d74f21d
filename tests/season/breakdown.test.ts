import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { breakDown } from "../../src/season/breakdown.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { numberAt, withColumns } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

const plan = (rows: Parameters<typeof programTables>[0], surveys: Parameters<typeof programTables>[1]) =>
  planProgram(programTables(rows, surveys), usBasis, { problems: [], tallies: [] });

/** The same plan whose chosen offers say so much of each lateral. */
function withEffects(program: PlannedProgram, effect: (row: number) => readonly [number, number]) {
  const { offers } = program;
  const column = (part: 0 | 1) => {
    const values = new Float64Array(new SharedArrayBuffer(offers.rows * 8));
    for (let at = 0; at < offers.rows; at++) values[at] = effect(numberAt(offers, "lateral_row", at))[part];
    return { kind: "number", values } as const;
  };
  return {
    ...program,
    offers: withColumns(offers, [
      ["loss_avoided", column(0)],
      ["infiltration_removed", column(1)],
    ]),
  };
}

const rows = [
  lateralRow("A1"),
  lateralRow("A2", { district: "Mill Creek" }),
  lateralRow("A3", { cleanout: 0 }),
  lateralRow("A4", { district: "" }),
];
const surveys = [
  surveyRow("A1", 4, 1, { structural_quick: "4332" }),
  surveyRow("A2", 4, 1, { structural_quick: "4332" }),
  surveyRow("A3", 1, 4),
];

describe("the breakdown of a plan", () => {
  it("by hand: two liners of 40 ft, roots of 40 ft with a cleanout, one inspection", () => {
    const { program, districts } = breakDown(plan(rows, surveys));
    // Prices of tests/plan/examples.ts; 30 ft are in the base price.
    expect([...program.costByItem].sort()).toEqual([
      ["additional liner length", 2 * 10 * 7_050],
      ["camera inspection", 35_000],
      ["full-length liner", 2 * 420_000],
      ["new cleanout", 180_000],
      ["root cutting", 40 * 1_200],
    ]);
    expect(districts.map(({ district }) => district)).toEqual(["", "LS-14", "Mill Creek"]);
  });

  it("leaves out every item of a lateral of which one has no price, so that the items add up to the cost", () => {
    const { "new cleanout": _, ...prices } = usBasis.prices;
    const found = { problems: [], tallies: [] };
    const { laterals, offers, lines, totals } = planProgram(
      programTables(rows, surveys),
      { ...usBasis, prices },
      found,
    );
    const { program } = breakDown({ laterals, offers, lines });
    // The roots of A3 have a price, its cleanout has none.
    expect([...program.costByItem].sort()).toEqual([
      ["additional liner length", 2 * 10 * 7_050],
      ["camera inspection", 35_000],
      ["full-length liner", 2 * 420_000],
    ]);
    expect(totals.program.cost).toBe(141_000 + 35_000 + 840_000);
  });

  it("compares before and after of the laterals for which both are known, and counts the others", () => {
    const planned = plan(rows, surveys);
    const before = numberAt(planned.laterals, "present_loss", 0);
    const water = Math.round(numberAt(planned.laterals, "infiltration", 0) * 1e6);
    const { program } = breakDown(withEffects(planned, (row) => (row === 0 ? [100, 0.002] : [NaN, NaN])));
    expect(program.loss).toEqual({ before, after: before - 100, notKnown: 3 });
    expect(program.infiltration).toEqual({ before: water, after: water - 2000, notKnown: 3 });
  });

  it("sums clear water as the laterals have it: what rounding each one moves is not seen, however many they are", () => {
    const planned = plan(
      Array.from({ length: 60 }, (_, i) => lateralRow(`C${i}`)),
      [],
    );
    // Each takes 4.903 mL/s (111.909 gpd, tests/season/city-risk.test.ts): in whole mL/s sixty would be 300 and not 294.2.
    const exact = (60 * 111.909 * 3.785412) / 86_400;
    const { program } = breakDown(withEffects(planned, () => [0, 0]));
    // Half a µL/s a lateral, and the six figures of the rate.
    expect(Math.abs(program.infiltration.before / 1e6 - exact)).toBeLessThan(60 * 1e-6);
  });

  it("adds up: items to the cost in the totals, districts to the program, whatever the city is like", () => {
    const lateral = fc.record({
      structural: fc.integer({ min: 0, max: 5 }),
      om: fc.integer({ min: 0, max: 5 }),
      surveyed: fc.boolean(),
      district: fc.constantFrom("", "LS-14", "Mill Creek"),
      length: fc.integer({ min: 1, max: 60 }),
      diameter: fc.constantFrom(76.2, 101.6, 152.4, 254),
      avoided: fc.option(fc.integer({ min: 0, max: 1000 }), { nil: Number.NaN }),
    });
    fc.assert(
      fc.property(fc.array(lateral, { minLength: 1, maxLength: 12 }), (city) => {
        const planned = plan(
          city.map(({ district, length, diameter }, i) =>
            lateralRow(`B${i}`, { district, host_length: length, host_diameter: diameter }),
          ),
          city.flatMap(({ surveyed, structural, om }, i) =>
            surveyed ? [surveyRow(`B${i}`, structural, om)] : [],
          ),
        );
        const { program, districts } = breakDown(
          withEffects(planned, (row) => [city[row]!.avoided, city[row]!.avoided / 1000]),
        );
        const sum = (values: Iterable<number>) => [...values].reduce((a, b) => a + b, 0);
        expect(sum(program.costByItem.values())).toBe(planned.totals.program.cost);
        for (const [i, own] of districts.entries())
          expect(sum(own.costByItem.values())).toBe(planned.totals.districts[i]!.cost);
        for (const of of ["loss", "infiltration"] as const)
          for (const part of ["before", "after", "notKnown"] as const)
            expect(sum(districts.map((own) => own[of][part]))).toBe(program[of][part]);
      }),
      { numRuns: 60 },
    );
  });
});

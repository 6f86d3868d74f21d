import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crewKinds, treatmentKinds } from "../../src/columns/plan-columns.ts";
import { bidLineKey } from "../../src/plan/bid-lines.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import type { Totals } from "../../src/season/totals.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { siBasis, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const nothingFound = { problems: [], tallies: [] };
const plan = (laterals: readonly Row[], inspections: readonly Row[], basis = usBasis) =>
  planProgram(programTables(laterals, inspections), basis, nothingFound);

/** Six laterals, one of each treatment but digging. */
const mixed = {
  laterals: [
    lateralRow("A1"),
    lateralRow("A2", { district: "Mill Creek" }),
    lateralRow("A3", { cleanout: 0 }),
    lateralRow("A4"),
    lateralRow("A5", { district: "Mill Creek" }),
    lateralRow("A6"),
  ],
  inspections: [
    surveyRow("A1", 4, 1, { structural_quick: "4332" }),
    surveyRow("A2", 4, 1, { structural_quick: "4100" }),
    surveyRow("A3", 1, 4),
    surveyRow("A4", 2),
    surveyRow("A5", 1, 1, { connection_grade: 4 }),
  ],
};

describe("planProgram", () => {
  it("fills every plan column of every row as the record of that lateral says", () => {
    const planned = plan(mixed.laterals, mixed.inspections);
    for (let row = 0; row < planned.laterals.rows; row++) {
      const record = planLateral(lateralAt(planned.tables, row), usBasis);
      expect(textAt(planned.laterals, "treatment", row)).toBe(record.choice.treatment);
      expect(numberAt(planned.laterals, "risk", row)).toBe(record.risk.score);
      expect(numberAt(planned.laterals, "cost", row)).toBe(record.chosen.cost.total);
      expect(numberAt(planned.laterals, "crew_minutes", row)).toBe(record.chosen.crewTime.total);
    }
    expect(textAt(planned.laterals, "treatment", 0)).toBe("full-length liner");
    expect(numberAt(planned.laterals, "wall", 0)).toBe(4.5);
    // 101.6 mm ÷ 4.5 mm; Glock's wall of this host under 4.33 ft of water over the invert: see tests/plan/walls.test.ts.
    expect(numberAt(planned.laterals, "dr", 0)).toBeCloseTo(22.578, 3);
    expect(numberAt(planned.laterals, "wall_second_opinion", 0)).toBeCloseTo(0.921, 3);
    expect(Number.isNaN(numberAt(planned.laterals, "dr", 3))).toBe(true);
    expect(Number.isNaN(numberAt(planned.laterals, "wall", 3))).toBe(true);
  });

  it("keeps an offer a lateral and eligible treatment, one of them chosen, and the lines of the chosen one", () => {
    const planned = plan(mixed.laterals, mixed.inspections);
    const chosen = new Map<number, number>();
    for (let at = 0; at < planned.offers.rows; at++) {
      const row = numberAt(planned.offers, "lateral_row", at);
      chosen.set(row, (chosen.get(row) ?? 0) + numberAt(planned.offers, "chosen", at));
    }
    expect([...chosen.values()]).toEqual([1, 1, 1, 1, 1, 1]);
    const lines = Array.from({ length: planned.lines.rows }, (_, at) => textAt(planned.lines, "line", at));
    expect(lines).toEqual([
      "full-length liner | 4 in",
      "additional liner length | 4 in",
      "sectional liner | 4 in x 3 ft",
      // 5 ft of cover and 4 in of pipe: 5.33 ft to the invert.
      "new cleanout | 0 to 6 ft",
      "root cutting | 4 in",
      "connection liner | 8 in",
      "camera inspection",
    ]);
  });

  it("ranks by risk, then grades, then id, each rank once", () => {
    const planned = plan(mixed.laterals, mixed.inspections);
    const ids = Array.from(planned.order, (row) => textAt(planned.laterals, "lateral", row));
    // Likelihoods: A1 and A2 4 (structural 4), A3 3 (O&M 4), A6 3 (age 68, not inspected), A4 2, A5 1; same consequence.
    // A1 before A2 by id; A3 before A6 because it has a structural grade.
    expect(ids).toEqual(["A1", "A2", "A3", "A6", "A4", "A5"]);
    expect(planned.laterals.columns.get("rank")).toMatchObject({
      values: Float64Array.from([1, 2, 3, 5, 6, 4]),
    });
  });

  it("does not let a missing price look like a smaller cost", () => {
    const { "new cleanout": _, ...prices } = usBasis.prices;
    const planned = plan(mixed.laterals, mixed.inspections, { ...usBasis, prices });
    expect(Number.isNaN(numberAt(planned.laterals, "cost", 2))).toBe(true);
    expect(planned.totals.program.unpriced).toBe(1);
  });

  it("makes liners of whole-number quantities: a metric program pays by hundredths of a metre", () => {
    const planned = plan(mixed.laterals, mixed.inspections, siBasis);
    const lines = new Map<string, number>();
    for (let at = 0; at < planned.lines.rows; at++) {
      lines.set(textAt(planned.lines, "line", at), numberAt(planned.lines, "hundredths", at));
    }
    // 12.192 m is 12.19 m as paid; 9 m are included in the base price.
    expect(lines.get("additional liner length | 100 mm")).toBe(319);
    expect(lines.get("root cutting | 100 mm")).toBe(1219);
  });
});

const anyLateral = fc.record({
  district: fc.constantFrom("LS-14", "Mill Creek", ""),
  host_diameter: fc.constantFrom(76.2, 101.6, 152.4, 203.2),
  host_length: fc.double({ min: 3, max: 40, noNaN: true }),
  cover_main: fc.double({ min: 0.5, max: 6, noNaN: true }),
  cleanout: fc.constantFrom(0, 1),
  structural: fc.integer({ min: 0, max: 5 }),
  om: fc.integer({ min: 0, max: 5 }),
  quick: fc.constantFrom("", "4100", "5236", "4B27"),
});
type AnyLateral = typeof anyLateral extends fc.Arbitrary<infer T> ? T : never;

const rowsOf = (drawn: readonly AnyLateral[]) => ({
  laterals: drawn.map(({ structural: _s, om: _o, quick: _q, ...differs }, i) => lateralRow(`L${i}`, differs)),
  inspections: drawn.map(({ structural, om, quick }, i) =>
    surveyRow(`L${i}`, structural, om, { structural_quick: quick }),
  ),
});

/** Every figure of a total that adds up. */
function figures(totals: Totals): Map<string, number> {
  const all = new Map<string, number>([
    ["laterals", totals.laterals],
    ["resin", totals.resinMillilitres],
    ["seals", totals.endSeals],
    ["connections", totals.connectionLiners],
    ["minutes", totals.crewMinutes],
    ["unpriced", totals.unpriced],
    ["cost", totals.cost],
  ]);
  for (const crew of crewKinds) all.set(`minutes of ${crew}`, totals.crewMinutesByCrew[crew]);
  for (const kind of treatmentKinds) all.set(kind, totals.byTreatment[kind]);
  for (const [size, length] of totals.linerLengthByDiameter) all.set(`length ${size}`, length);
  for (const [wall, count] of totals.linersByWall) all.set(`wall ${wall}`, count);
  for (const [key, hundredths] of totals.bidLines) all.set(key, hundredths);
  return all;
}

describe("totals", () => {
  it("districts add up to the program exactly, every figure a whole number", () => {
    fc.assert(
      fc.property(fc.array(anyLateral, { maxLength: 25 }), (drawn) => {
        const { laterals, inspections } = rowsOf(drawn);
        const { totals } = plan(laterals, inspections);
        const sums = new Map<string, number>();
        for (const district of totals.districts) {
          for (const [figure, value] of figures(district)) sums.set(figure, (sums.get(figure) ?? 0) + value);
        }
        for (const [figure, value] of figures(totals.program)) {
          expect(sums.get(figure) ?? 0).toBe(value);
          expect(Number.isSafeInteger(value)).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("cost is the sum of quantity times price of the bid lines, line by line", () => {
    fc.assert(
      fc.property(fc.array(anyLateral, { maxLength: 15 }), (drawn) => {
        const { laterals, inspections } = rowsOf(drawn);
        const planned = plan(laterals, inspections);
        let sum = 0n;
        for (let row = 0; row < planned.laterals.rows; row++) {
          for (const line of planLateral(lateralAt(planned.tables, row), usBasis).chosen.bidLines) {
            const price = usBasis.prices[bidLineKey(line)] ?? usBasis.prices[line.item]!;
            sum += (BigInt(line.hundredths) * BigInt(price) + 50n) / 100n;
          }
        }
        expect(BigInt(planned.totals.program.cost)).toBe(sum);
      }),
      { numRuns: 25 },
    );
  });

  it("neither rank nor totals depend on the order of the rows", () => {
    fc.assert(
      fc.property(fc.array(anyLateral, { minLength: 2, maxLength: 15 }), fc.nat(), (drawn, turn) => {
        const { laterals, inspections } = rowsOf(drawn);
        const by = turn % laterals.length;
        const turned = [...laterals.slice(by), ...laterals.slice(0, by)];
        const [a, b] = [plan(laterals, inspections), plan(turned, [...inspections].reverse())];
        const ids = (planned: typeof a) =>
          Array.from(planned.order, (row) => textAt(planned.laterals, "lateral", row));
        expect(ids(b)).toEqual(ids(a));
        expect(figures(b.totals.program)).toEqual(figures(a.totals.program));
      }),
      { numRuns: 40 },
    );
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bidLineKey, depthBand } from "../../src/plan/bid-lines.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { stated } from "../../src/plan/stated.ts";
import { takeOffMaterials, takeoffKey } from "../../src/plan/takeoff.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { selectRows } from "../../src/season/select-rows.ts";
import { roundings, takeoffRows } from "../../src/workbook/takeoff-rows.ts";
import { siBasis, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const noCleanout = { cleanout: 0 } as const;

/** Bid lines and uses of one lateral, planned alone. */
function walk(lateral: Row, survey: Row | null) {
  const tables = programTables([lateral], survey === null ? [] : [survey]);
  const { lateral: planned, chosen } = planLateral(lateralAt(tables, 0), usBasis);
  return {
    treatment: chosen.treatment,
    bid: chosen.bidLines.map((line) => [bidLineKey(line), line.hundredths]),
    uses: takeOffMaterials(chosen, planned, usBasis).map((use) => [takeoffKey(use), use.amount]),
  };
}

describe("quantities walked through by hand: a 4 in lateral of 40 ft (12.192 m), one of each treatment", () => {
  it("inspect first: paid each; the camera runs 12.192 m once", () => {
    expect(walk(lateralRow("A"), null)).toEqual({
      treatment: "inspect first",
      bid: [["camera inspection", 100]],
      uses: [["camera run | ", 12_192]],
    });
  });

  it("clean and cut roots, no cleanout: 40.00 ft and a cleanout paid, 5 ft of cover and 4 in of pipe deep; one pass each of camera, cleaning and cutter", () => {
    expect(walk(lateralRow("B", noCleanout), surveyRow("B", 1, 4))).toMatchObject({
      treatment: "clean and cut roots",
      bid: [
        ["new cleanout | 0 to 6 ft", 100],
        ["root cutting | 4 in", 4000],
      ],
      uses: [
        ["camera run | ", 12_192],
        ["cleaning | ", 12_192],
        ["root cutting | ", 12_192],
        ["new cleanout | 0 to 6 ft", 1],
      ],
    });
  });

  it("sectional liner: one defect of 0.3 m and 0.3 m each side is 0.9 m, so the stocked 3 ft", () => {
    // The tube stocked for 4 in is 100 mm: π · 10 cm · 91.44 cm = 2872.7 cm². Camera before and after: 2 · 12.192 m.
    const stock = "4 in x 4.5 mm, felt, polyester";
    expect(walk(lateralRow("C"), surveyRow("C", 4, 1, { structural_quick: "4100" }))).toEqual({
      treatment: "sectional liner",
      bid: [["sectional liner | 4 in x 3 ft", 100]],
      uses: [
        [`sectional liner | ${stock}, 914 mm`, 1],
        [`tube and sheet | ${stock}`, 2873],
        ["end seal | 4 in", 2],
        ["bladder use | 4 in", 1],
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
      ],
    });
  });

  it("full-length liner: 30 ft included, 10.00 ft additional; the tube has run-in, run-out and its bends", () => {
    // 12.192 + 0.6 + 0.6 m, and outside of two bends of 45° in 100 mm: 2 · π/4 · 0.05 = 0.07854 m; 13.47054 m.
    // Sheet: π · 10 cm · 1347.054 cm = 42 318.9 cm².
    const stock = "4 in x 4.5 mm, felt, polyester";
    expect(walk(lateralRow("D", { bends: 2, sharpest_bend: 45 }), surveyRow("D", 4))).toEqual({
      treatment: "full-length liner",
      bid: [
        ["full-length liner | 4 in", 100],
        ["additional liner length | 4 in", 1000],
      ],
      uses: [
        [`liner tube | ${stock}`, 13_471],
        [`tube and sheet | ${stock}`, 42_319],
        ["end seal | 4 in", 2],
        ["bladder use | 4 in", 1],
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
      ],
    });
  });

  it("connection liner: one for an 8 in main; sheet of both parts, two seals in the main and one above", () => {
    // Main, r 0.1016 m, 15 in each side: 2π · 0.1016 · 0.762 = 0.48644 m². Opening, a 0.0508 m, k = 1/2:
    // π·a²·(1 + k²/8 + 3k⁴/64 + 25k⁶/1024 + …) = 0.0081073 · 1.0346 = 0.00839 m². Lateral: mean saddle
    // 0.1016 · (1 − 2 · 1.46746/π) = 0.00668 m, 2π · 0.0508 · 0.61668 = 0.19684 m². Together 0.67489 m².
    expect(walk(lateralRow("E"), surveyRow("E", 1, 1, { connection_grade: 4 }))).toEqual({
      treatment: "connection liner",
      bid: [["connection liner | 8 in", 100]],
      uses: [
        ["connection liner | 8 in main, 4 in x 4.5 mm, felt, polyester", 1],
        ["tube and sheet | 4 in x 4.5 mm, felt, polyester", 6749],
        ["end seal | 4 in", 1],
        ["end seal | 8 in", 2],
        ["bladder use | 4 in", 1],
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
      ],
    });
  });

  it("open cut: 40.00 ft of pipe, and a trench 3 ft wide: 120.00 sq ft of street, 11.15 m²", () => {
    // 12.192 m · 0.9144 m = 11.14836 m² = 111 483.6 cm² = 120.00 ft².
    expect(walk(lateralRow("F", { host_material: "asbestos cement" }), surveyRow("F", 5))).toEqual({
      treatment: "open-cut replacement",
      bid: [
        ["open-cut replacement | 4 in", 4000],
        ["surface restoration | street", 12_000],
      ],
      uses: [
        ["camera run | ", 12_192],
        ["new pipe | 4 in", 12_192],
        ["surface restored | street", 111_484],
      ],
    });
  });
});

describe("a new cleanout is paid by the depth to the invert", () => {
  const band = (cover: number | null, basis = usBasis) =>
    depthBand(
      {
        coverAtHouse: cover === null ? null : stated(metres(cover), "city"),
        hostDiameter: stated(millimetres(101.6), "city"),
      },
      basis,
    );

  it("a limit belongs to the band below it", () => {
    // 4 in of pipe and 5 ft 8 in of cover are 6 ft: 1.7272 m; a centimetre more is 6.03 ft.
    expect(band(1.7272)).toBe("0 to 6 ft");
    expect(band(1.7372)).toBe("6 to 8 ft");
    expect(band(2.9464)).toBe("8 to 10 ft");
    expect(band(2.9564)).toBe("over 10 ft");
    expect(band(2, siBasis)).toBe("2 to 2.5 m");
  });

  it("of unknown cover is paid at the assumed cover, and of unknown diameter says so", () => {
    expect(band(null)).toBe(band(usBasis.assumptions.cover.value));
    expect(depthBand({ coverAtHouse: null, hostDiameter: null }, usBasis)).toBe("depth not known");
  });
});

const anyRow = fc.record({
  keep: fc.boolean(),
  structural: fc.integer({ min: 0, max: 5 }),
  om: fc.integer({ min: 0, max: 5 }),
  district: fc.constantFrom("LS-14", "Mill Creek", ""),
  length: fc.double({ min: 2, max: 70, noNaN: true }),
  bends: fc.integer({ min: 0, max: 4 }),
});

describe("a takeoff", () => {
  const planOf = (drawn: readonly (typeof anyRow extends fc.Arbitrary<infer T> ? T : never)[]) =>
    planProgram(
      programTables(
        drawn.map(({ district, length, bends }, i) =>
          lateralRow(`L${i}`, { district, host_length: length, bends, sharpest_bend: 45 }),
        ),
        drawn.map(({ structural, om }, i) => surveyRow(`L${i}`, structural, om)),
      ),
      usBasis,
      { problems: [], tallies: [] },
    );

  it("buys at least what is used, item by item; districts' uses add up and their rounding is never less", () => {
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 25 }), (drawn) => {
        const { takeoff, batches } = planOf(drawn);
        for (const group of [...takeoff.districts, takeoff.program]) {
          for (const { use, cuts, purchase } of group.lines) {
            if (purchase !== null) expect(purchase.count * purchase.holds).toBeGreaterThanOrEqual(use);
            if (cuts === null) continue;
            const longer = cuts.orderedToLength.reduce((sum, length) => sum + length, 0);
            const left = cuts.usableLeft.reduce((sum, rest) => sum + rest, 0);
            expect(cuts.rolls * cuts.roll).toBe(use - longer + left + cuts.scrap);
            expect(cuts.boundByLength).toBeLessThanOrEqual(cuts.boundByMartelloToth);
            expect(cuts.boundByMartelloToth).toBeLessThanOrEqual(cuts.rolls);
          }
          for (const { components } of group.resins)
            for (const { leftoverGrams } of components) expect(leftoverGrams).toBeGreaterThanOrEqual(0);
        }
        for (const row of takeoffRows(takeoff.program)) {
          const same = takeoff.districts
            .flatMap(takeoffRows)
            .filter(({ material, variant }) => material === row.material && variant === row.variant);
          expect(same.reduce((sum, { use }) => sum + use, 0)).toBe(row.use);
        }
        // First-fit decreasing of all pieces may be a roll over that of the districts; whole containers may not.
        for (const { row, byDistricts } of roundings(takeoff))
          if (row.material !== "liner tube")
            expect(byDistricts).toBeGreaterThanOrEqual(row.bought?.count ?? 0);
        expect(takeoff.districts.flatMap(({ resins }) => resins)).toEqual(batches);
      }),
      { numRuns: 60 },
    );
  });

  it("of selected rows is that of a plan of them alone", () => {
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 12 }), (drawn) => {
        const part = selectRows(
          planOf(drawn),
          Uint8Array.from(drawn, ({ keep }) => Number(keep)),
        );
        expect(part.takeoff).toEqual(planOf(drawn.filter(({ keep }) => keep)).takeoff);
      }),
      { numRuns: 40 },
    );
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bidLineKey, depthBand } from "../../src/plan/bid-lines.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { stated } from "../../src/plan/stated.ts";
import { takeOffMaterials, takeoffKey } from "../../src/plan/takeoff.ts";
import { fraction, metres, millimetres } from "../../src/quantity/si.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { selectRows } from "../../src/season/select-rows.ts";
import { takeOffByDistrict } from "../../src/season/takeoff.ts";
import { roundings, takeoffRows } from "../../src/workbook/takeoff-rows.ts";
import { chosenLiner, city, lateral, observation, siBasis, survey, usBasis } from "../plan/examples.ts";
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
        [`sectional liner | ${stock}, 3 ft`, 1],
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
    // 0.1016 · (1 − 2 · 1.46746/π) = 0.00668 m, 2π · 0.0508 · 0.61668 = 0.19684 m². In the main 0.48644 − 0.00839 = 0.47805 m²:
    // up to 4781 cm² of the main's wall, and 1969 cm² of the lateral's.
    expect(walk(lateralRow("E"), surveyRow("E", 1, 1, { connection_grade: 4 }))).toEqual({
      treatment: "connection liner",
      bid: [["connection liner | 8 in", 100]],
      uses: [
        ["connection liner | 8 in main x 4.5 mm, 4 in x 4.5 mm, felt, polyester", 1],
        ["tube and sheet | 8 in main x 4.5 mm, felt, polyester", 4781],
        ["tube and sheet | 4 in x 4.5 mm, felt, polyester", 1969],
        ["end seal | 4 in", 1],
        ["end seal | 8 in", 2],
        ["bladder use | 4 in", 1],
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
      ],
    });
  });

  it("sectional and connection liner: what each takes by itself, the two above added", () => {
    const section = "4 in x 4.5 mm, felt, polyester";
    expect(
      walk(lateralRow("G"), surveyRow("G", 4, 1, { structural_quick: "4100", connection_grade: 4 })),
    ).toEqual({
      treatment: "sectional and connection liner",
      bid: [
        ["sectional liner | 4 in x 3 ft", 100],
        ["connection liner | 8 in", 100],
      ],
      uses: [
        [`sectional liner | ${section}, 3 ft`, 1],
        [`tube and sheet | ${section}`, 2873],
        ["end seal | 4 in", 2],
        ["bladder use | 4 in", 1],
        ["connection liner | 8 in main x 4.5 mm, 4 in x 4.5 mm, felt, polyester", 1],
        ["tube and sheet | 8 in main x 4.5 mm, felt, polyester", 4781],
        [`tube and sheet | ${section}`, 1969],
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

/** The same of a lateral given as a record, for what only observations or decisions bring about. */
function walkRecord(differs: Parameters<typeof lateral>[0], basis = usBasis) {
  const record = lateral(differs);
  const { chosen } = planLateral(record, basis);
  return {
    treatment: chosen.treatment,
    bid: chosen.bidLines.map((line) => [bidLineKey(line), line.hundredths]),
    uses: takeOffMaterials(chosen, record, basis).map((use) => [takeoffKey(use), use.amount]),
  };
}

describe("quantities walked through by hand: what surveys, branches and pits add", () => {
  it("leave and re-inspect: nothing is paid and nothing bought", () => {
    expect(walk(lateralRow("G"), surveyRow("G", 1))).toEqual({
      treatment: "leave and re-inspect",
      bid: [],
      uses: [],
    });
  });

  it("pipe bursting: 40.00 ft of pipe, and its two pits apart: 3 m² of street, 2 m² of yard", () => {
    // 3 m² / 0.09290304 m²/ft² = 32.2917 ft²; 2 m² = 21.5278 ft². The surface over the lateral, a driveway, is not opened.
    const result = walk(lateralRow("H", { surface: "driveway" }), surveyRow("H", 5, 1, { ovality: 0.12 }));
    expect(result).toEqual({
      treatment: "pipe bursting",
      bid: [
        ["pipe bursting | 4 in", 4000],
        ["surface restoration | street", 3229],
        ["surface restoration | yard", 2153],
      ],
      uses: [
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
        ["new pipe | 4 in", 12_192],
        ["surface restored | street", 30_000],
        ["surface restored | yard", 20_000],
      ],
    });
  });

  it("pits of a program's own, under one surface, are one area; the cost follows", () => {
    const pit = (name: string, area: number) => ({ name, surface: "alley" as const, area });
    const bursting = { ...usBasis.treatments.bursting, pits: [pit("a", 4), pit("b", 1.5)] };
    const basis = { ...usBasis, treatments: { ...usBasis.treatments, bursting } };
    const { chosen } = planLateral(
      lateral({ inspections: [survey({ structuralGrade: 5, ovality: fraction(0.12) })] }),
      basis,
    );
    // 5.5 m² = 59.2015 ft², 59.20 at 18.75 are 1,110.00; 40 ft at 180.00 are 7,200.00.
    expect(chosen.bidLines.map((line) => [bidLineKey(line), line.hundredths])).toEqual([
      ["pipe bursting | 4 in", 4000],
      ["surface restoration | alley", 5920],
    ]);
    expect(chosen.cost.total).toBe(720_000 + 111_000);
  });

  it("joint grouting: 40.00 ft; a pass of cleaning, camera before and after, 1 L of grout a metre", () => {
    const seep = observation({ kind: "infiltration seep", mode: "operation", grade: 3 });
    const inspections = [survey({ structuralGrade: 2, observations: [seep] })];
    expect(walkRecord({ inspections })).toEqual({
      treatment: "joint grouting",
      bid: [["joint grouting | 4 in", 4000]],
      uses: [
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
        ["grout | ", 12_192],
      ],
    });
  });

  it("clean and grout: both paid by length, and a pass of the root cutter more", () => {
    const seen = [
      observation({ kind: "infiltration seep", mode: "operation", grade: 3 }),
      observation({ kind: "root mass", mode: "operation", grade: 3 }),
    ];
    expect(walkRecord({ inspections: [survey({ structuralGrade: 2, observations: seen })] })).toEqual({
      treatment: "clean and grout",
      bid: [
        ["root cutting | 4 in", 4000],
        ["joint grouting | 4 in", 4000],
      ],
      uses: [
        ["camera run | ", 24_384],
        ["cleaning | ", 12_192],
        ["root cutting | ", 12_192],
        ["grout | ", 12_192],
      ],
    });
  });

  it("branches closed by a full-length liner are opened again: each paid, each a use of the cutter; a section closes none", () => {
    const full = walkRecord({
      branches: city(2),
      inspections: [survey({ structuralGrade: 4, structuralQuick: "4332" })],
    });
    expect(full.bid).toEqual([
      ["full-length liner | 4 in", 100],
      ["additional liner length | 4 in", 1000],
      ["reinstatement", 200],
    ]);
    expect(full.uses.at(-1)).toEqual(["reinstatement | ", 2]);
    const section = walkRecord({
      branches: city(2),
      inspections: [survey({ structuralGrade: 4, structuralQuick: "4100" })],
    });
    expect(section.bid.map(([item]) => item)).toEqual(["sectional liner | 4 in x 3 ft"]);
  });

  it("a one-piece liner opens branches too, and both liners of a combination are counted", () => {
    const both = { branches: city(1), inspections: [survey({ structuralGrade: 4, connectionGrade: 4 })] };
    const onePiece = chosenLiner("felt, polyester", "launched from the main");
    const basis = { ...usBasis, liners: { ...usBasis.liners, "one-piece": onePiece } };
    expect(walkRecord(both, basis).bid).toEqual([
      ["one-piece liner | 4 in, main 8 in", 100],
      ["additional one-piece length | 4 in", 1000],
      ["reinstatement", 100],
    ]);
    const apart = walkRecord(both);
    expect(apart.treatment).toBe("full-length and connection liner");
    expect(apart.bid).toEqual([
      ["full-length liner | 4 in", 100],
      ["additional liner length | 4 in", 1000],
      ["reinstatement", 100],
      ["connection liner | 8 in", 100],
    ]);
    // Two seals and a bladder of the one liner, one seal above and two in the main and a bladder of the other.
    expect(apart.uses.filter(([item]) => /seal|bladder/.test(String(item)))).toEqual([
      ["end seal | 4 in", 2],
      ["bladder use | 4 in", 1],
      ["end seal | 4 in", 1],
      ["end seal | 8 in", 2],
      ["bladder use | 4 in", 1],
    ]);
  });

  it("unknown branches are the assumed number, and no liner reopens any where a cross-bore is not cleared", () => {
    const assumptions = {
      ...usBasis.assumptions,
      branches: { ...usBasis.assumptions.branches, value: 3 },
    };
    const inspections = [survey({ structuralGrade: 4, structuralQuick: "4332" })];
    const lines = walkRecord({ inspections }, { ...usBasis, assumptions }).bid;
    expect(lines).toContainEqual(["reinstatement", 300]);
    for (const crossBore of [null, city("not cleared" as const), city("found" as const)]) {
      const { offers } = planLateral(lateral({ inspections, crossBore, branches: city(2) }), usBasis);
      expect(offers.flatMap(({ bidLines }) => bidLines).map(({ item }) => item)).not.toContain(
        "reinstatement",
      );
    }
  });
});

describe("a new cleanout is paid by the depth to the invert", () => {
  const band = (cover: number | null, basis = usBasis) =>
    depthBand(
      {
        coverAtHouse: cover === null ? null : stated(metres(cover), "city"),
        coverAtMain: null,
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

  it("of unknown cover at the house is paid at that of the other end, for which its wall is designed", () => {
    // Lateral 00114 of the sample Quennock Falls: 9.6 ft over the main and an 8 in pipe are 10.27 ft.
    const other = { coverAtHouse: null, coverAtMain: stated(metres(2.92608), "city") } as const;
    expect(depthBand({ ...other, hostDiameter: stated(millimetres(203.2), "city") }, usBasis)).toBe(
      "over 10 ft",
    );
  });

  it("of unknown cover is paid at the assumed cover, and of unknown diameter says so", () => {
    expect(band(null)).toBe(band(usBasis.assumptions.cover.value));
    expect(depthBand({ coverAtHouse: null, coverAtMain: null, hostDiameter: null }, usBasis)).toBe(
      "depth not known",
    );
  });
});

const anyRow = fc.record({
  keep: fc.boolean(),
  structural: fc.integer({ min: 0, max: 5 }),
  om: fc.integer({ min: 0, max: 5 }),
  district: fc.constantFrom("LS-14", "Mill Creek", ""),
  length: fc.double({ min: 2, max: 70, noNaN: true }),
  bends: fc.integer({ min: 0, max: 4 }),
  branches: fc.integer({ min: 0, max: 3 }),
  connection: fc.integer({ min: 0, max: 5 }),
});

describe("a takeoff", () => {
  const takeOffOf = (planned: PlannedProgram) => takeOffByDistrict(planned, planned.basis);
  const planOf = (drawn: readonly (typeof anyRow extends fc.Arbitrary<infer T> ? T : never)[]) =>
    planProgram(
      programTables(
        drawn.map(({ district, length, bends, branches }, i) =>
          lateralRow(`L${i}`, { district, host_length: length, bends, sharpest_bend: 45, branches }),
        ),
        drawn.map(({ structural, om, connection }, i) =>
          surveyRow(`L${i}`, structural, om, { connection_grade: connection }),
        ),
      ),
      usBasis,
      { problems: [], tallies: [] },
    );

  it("buys at least what is used, item by item; districts' uses add up and their rounding is never less", () => {
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 25 }), (drawn) => {
        const planned = planOf(drawn);
        const takeoff = takeOffOf(planned);
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
        expect(takeoff.districts.flatMap(({ resins }) => resins)).toEqual(planned.batches);
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
        expect(takeOffOf(part)).toEqual(takeOffOf(planOf(drawn.filter(({ keep }) => keep))));
      }),
      { numRuns: 40 },
    );
  });
});

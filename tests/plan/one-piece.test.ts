import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bidLineKey } from "../../src/plan/bid-lines.ts";
import { explainLateral } from "../../src/plan/explain.ts";
import type { PlanBasis } from "../../src/plan/plan-basis.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { takeOffMaterials, takeoffKey } from "../../src/plan/takeoff.ts";
import { fraction, metres, millimetres } from "../../src/quantity/si.ts";
import { openingByCurve, sleeveByGenerators } from "../oracle/cylinder-joint.ts";
import { chosenLiner, city, feet, inches, lateral, siBasis, survey, usBasis } from "./examples.ts";

type Differs = Parameters<typeof lateral>[0];

const withOnePiece = (basis: PlanBasis): PlanBasis => ({
  ...basis,
  liners: {
    ...basis.liners,
    "one-piece": chosenLiner("one-piece, felt, polyester", "launched from the main"),
  },
});
const basis = withOnePiece(usBasis);
/** Both the pipe, along its length, and its connection ask for a liner. */
const bothBad = [survey({ structuralGrade: 4, connectionGrade: 4, structuralQuick: "4332" })];
const plan = (differs: Differs = {}, by: PlanBasis = basis) =>
  planLateral(lateral({ inspections: bothBad, ...differs }), by);

function ringsOf(differs: Differs, by: PlanBasis = basis) {
  const { walls } = plan(differs, by);
  if (walls["one-piece"].kind !== "designed") throw new Error(JSON.stringify(walls["one-piece"]));
  return { ...walls["one-piece"], walls };
}
function against(differs: Differs, by: PlanBasis = basis): string {
  const verdict = plan(differs, by).verdicts.all.find(({ treatment }) => treatment === "one-piece liner");
  expect(verdict?.eligible).toBe(false);
  return (verdict?.reasons ?? []).map((reason) => describeReason(reason, by.program)).join("; ");
}

describe("the two walls of a one-piece liner", () => {
  it("are that of the whole host and that of the main at the main's cover, each worked out by hand", () => {
    // 4 in under a yard, 8 ft of cover at the main and 12 ft at the house, water 4 ft down; 8 in main.
    const { lateralPart, mainPart } = ringsOf({
      surface: city("yard"),
      coverAtMain: feet(8),
      coverAtHouse: feet(12),
    });
    // ASTM F1216 X1.3 at the house, no wheel over a yard: R_w = 1 − 0.33·8/12 = 0.78, B′ = 1/(1 + 4·e^(−0.065·12)) = 0.35290,
    // q_t = 62.4·8/144 + 120·12·0.78/144 = 3.4667 + 7.8 = 11.2667 psi,
    // t = 0.72112·4·[(2·11.2667)²/(125000·0.78·0.35290·0.83575·500)]^⅓ = 0.09463 in. At the main's 8 ft it would be 0.07345 in.
    expect(lateralPart.worst.cover).toBeCloseTo(12 * 0.3048, 9);
    expect(lateralPart.worst.design.walls["soil-buckling"]! / 25.4).toBeCloseTo(0.09463, 4);
    expect(lateralPart.specified).toMatchObject({ stocked: 4.5, governedBy: "specified-minimum" });
    // In the main at 8 ft, under a street whatever is over the lateral: head over its invert 4 + 8/12 ft, P = 2.0222 psi;
    // q_t = 1.7333 + 5.5667 + 0.01448·16000/(36·8) = 8.1044 psi, t = 0.15750 in (as of a connection liner, walls.test.ts).
    expect(mainPart.worst.cover).toBeCloseTo(8 * 0.3048, 9);
    expect(mainPart.worst.design.waterPressure / 6.894757).toBeCloseTo(2.0222, 4);
    expect(mainPart.worst.design.walls["soil-buckling"]! / 25.4).toBeCloseTo(0.1575, 4);
    expect(mainPart.specified).toMatchObject({ stocked: 4.5, governedBy: "calculation" });
  });

  it("are those of a full-length liner in the lateral and of a connection liner in the main, where all are of one material", () => {
    const cover = fc.integer({ min: 3, max: 16 });
    fc.assert(
      fc.property(
        fc.record({
          house: cover,
          main: cover,
          water: fc.integer({ min: 0, max: 20 }),
          surface: fc.constantFrom("street", "yard", "driveway"),
          ovality: fc.integer({ min: 0, max: 9 }),
          mainSize: fc.constantFrom(8, 10, 12),
        }),
        ({ house, main, water, surface, ovality, mainSize }) => {
          const [bad] = bothBad;
          const { walls, lateralPart, mainPart } = ringsOf({
            coverAtHouse: feet(house),
            coverAtMain: feet(main),
            waterTableDepth: feet(water),
            surface: city(surface),
            mainDiameter: inches(mainSize),
            inspections: [{ ...bad!, ovality: fraction(ovality / 100) }],
          });
          const { "full-length": full, connection } = walls;
          if (full.kind !== "designed" || connection.kind !== "designed") throw new Error("not designed");
          expect(lateralPart.worst).toEqual(full.worst);
          expect(mainPart.worst).toEqual(connection.mainPart.worst);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("a one-piece liner in 40 ft of 4 in, from an 8 in main", () => {
  const differs = { bends: city(2), sharpestBend: city(45) };
  const planned = plan(differs);
  const { chosen } = planned;

  it("comes before two liners of their own in the house's order, and they are the runner-up", () => {
    expect(planned.choice).toMatchObject({ treatment: "one-piece liner", by: "plan" });
    expect(planned.choice.runnerUp?.treatment).toBe("full-length and connection liner");
    expect(plan(differs, usBasis).choice.treatment).toBe("full-length and connection liner");
  });

  it("is paid each with 30 ft included, by both sizes, and 10.00 ft more", () => {
    expect(chosen.bidLines.map((line) => [bidLineKey(line), line.hundredths])).toEqual([
      ["one-piece liner | 4 in, main 8 in", 100],
      ["additional one-piece length | 4 in", 1000],
    ]);
    // 6,800 + 10 ft at 91.50.
    expect(chosen.cost.total).toBe(680_000 + 91_500);
    // 9 m are included where lengths are metres: 12.192 − 9 = 3.192 m, paid to the hundredth.
    const si = plan({ ...differs, mainDiameter: city(millimetres(200)) }, withOnePiece(siBasis));
    expect(si.chosen.bidLines.map((line) => [bidLineKey(line), line.hundredths])).toEqual([
      ["one-piece liner | 100 mm, main 200 mm", 100],
      ["additional one-piece length | 100 mm", 319],
    ]);
  });

  it("takes a tube with run-in, run-out and bends, both sheets, three seals and one bladder", () => {
    // Tube: 12.192 + 0.6 + 0.6 m, and outside of two bends of 45° in 100 mm 2·π/4·0.05 = 0.07854 m: 13.4705 m.
    // Sheet in the main 2π·0.1016·0.762 − 0.008388 (opening) = 0.478051 m²; in the lateral 2π·0.0508·(12.192 + 0.006684,
    // the mean saddle) = 3.893647 m²: up to 4781 and 38 937 cm². Beyond: π·10 cm·127.854 cm = 4016.7, up to 4017.
    const stock = "4 in x 4.5 mm, one-piece, felt, polyester";
    expect(
      takeOffMaterials(chosen, planned.lateral, basis).map((use) => [takeoffKey(use), use.amount]),
    ).toEqual([
      [`one-piece liner | 8 in main x 4.5 mm, ${stock}`, 1],
      [`one-piece tube | ${stock}`, 13_471],
      ["tube and sheet | 8 in main x 4.5 mm, one-piece, felt, polyester", 4_781],
      [`tube and sheet | ${stock}`, 38_937 + 4_017],
      ["end seal | 4 in", 1],
      ["end seal | 8 in", 2],
      ["bladder use | 4 in", 1],
      // Camera before and after, one cleaning: shared/materials.json.
      ["camera run | ", 24_384],
      ["cleaning | ", 12_192],
    ]);
  });

  it("is another kit to buy where its main asks for a thicker wall, and its sheet in the main is of that wall", () => {
    // In a 10 in main 0.1575·10/8 = 0.197 in = 5.0 mm: 6 mm stocked. Sheet there 2π·0.127·0.762 − opening, k = 0.4:
    // 0.608049 − π·0.0508²·(1 + k²/8 + 3k⁴/64 + 25k⁶/1024) = 0.608049 − 0.008107·1.0213 = 0.599769 m², up to 5998 cm².
    const wider = plan({ ...differs, mainDiameter: inches(10) });
    const uses = takeOffMaterials(wider.chosen, wider.lateral, basis).map((use) => [
      takeoffKey(use),
      use.amount,
    ]);
    expect(uses[0]).toEqual([
      "one-piece liner | 10 in main x 6 mm, 4 in x 4.5 mm, one-piece, felt, polyester",
      1,
    ]);
    expect(uses).toContainEqual(["tube and sheet | 10 in main x 6 mm, one-piece, felt, polyester", 5_998]);
  });

  it("takes resin for both parts and for run-in and run-out", () => {
    // Wall: main π·198.7·4.5·0.762/1000 − 0.008388·4.5 = 2.10275 L; lateral π·97.1·4.5·12.19868/1000 = 16.74536 L; run-in and
    // run-out π·97.1·4.5·1.2/1000 = 1.64726 L; 20.49538 L in all, · 0.87 voids · 1.1 = 19.61408 L.
    expect(chosen.wetOut!.wall).toBeCloseTo(20.49538, 4);
    expect(chosen.wetOut!.millilitres).toBe(19_614);
    expect(chosen.wetOut!.by).toBe("felt voids");
  });

  it("takes no shop chart, which is by length of tube and says nothing of the main", () => {
    const shopChart = {
      rows: [{ diameter: millimetres(100), wall: millimetres(4.5), kilogramsPerMetre: 9 }],
      source: { document: "a shop" },
    };
    expect(plan(differs, { ...basis, shopChart }).chosen.wetOut).toEqual(chosen.wetOut);
  });

  it("is cured for the thicker of its walls", () => {
    // Hot water, shared/cure-methods.json. 4.5 mm: 15 → 60 °C at 120 °C/h 22.5 min, hold 20, to 80 °C 10, hold 45: 97.5 min;
    // cooled to 37.78 °C at 60 °C/h, 42.2 min. In a 10 in main, 0.1575·10/8 = 0.197 in = 5.0 mm: 6 mm stocked; holds 30 and 60.
    expect(chosen.placed!.cure.curing).toBeCloseTo(97.5, 9);
    expect(chosen.placed!.cure.coolDown).toBeCloseTo(42.2222, 4);
    const wider = plan({ ...differs, mainDiameter: inches(10) });
    expect(wider.chosen.liner).toMatchObject({ wall: 4.5, mainWall: 6 });
    expect(wider.chosen.placed!.cure.curing).toBeCloseTo(97.5 + 10 + 15, 9);
  });

  it("is timed from its own steps: one visit to clean, one to line from the main", () => {
    // Preparation: 15 + (20 + 1.5·12.192 → 38) + 10 = 63. Lining, the longest way through, in whole minutes a step:
    // set up 35, wet out 30 + 0.5·12.192 → 36, place 40 + insertion 13.392/0.9144 = 14.6 → 55, cure 97.5 → 98, release
    // 5 + 42.2 → 47, trim 25 + 0.25·12.192 → 28, pack up 15.
    expect(chosen.crewTime.visits.map(({ crew, whole }) => [crew, whole])).toEqual([
      ["preparation", 63],
      ["lining", 35 + 36 + 55 + 98 + 47 + 28 + 15],
    ]);
  });

  it("is launched from the main with nothing pulled through the lateral, and lasts what its table says", () => {
    expect(chosen.placed!.forces.method.key).toBe("launched from the main");
    expect(chosen.placed!.forces.pull).toBeNull();
    // Held out while it cures: water over the deeper invert, the main's, 8 ft + 8 in − 4 ft; the lateral's is 8 ft + 4 in − 4 ft.
    expect(chosen.placed!.forces.inflation.groundwaterHead / 0.3048).toBeCloseTo(4 + 8 / 12, 9);
    expect(chosen.life.years).toBe(50);
    expect(chosen.placed!.flow.bore).toBeCloseTo(101.6 - 9, 9);
  });

  it("is explained whole: both walls, the part in the main, lengths, resin", () => {
    const stages = explainLateral(planned, basis);
    expect(stages.map(({ stage }) => stage)).toEqual(
      expect.arrayContaining([
        "Wall, one-piece liner, in the lateral",
        "Wall, one-piece liner, in the main",
        "Placing forces",
      ]),
    );
    const lines = stages.flatMap((stage) => stage.lines);
    const value = (label: string) => lines.find((line) => line.label === label)?.value;
    expect(value("in the main")).toContain("full circle");
    expect(value("installed length")).toBe("40.0 ft");
    // 13.392 m = 43.94 ft.
    expect(value("length cut")).toBe("43.9 ft");
  });
});

describe("a one-piece liner is refused", () => {
  it("where the program names no system of it, whatever the lateral needs", () => {
    expect(against({}, usBasis)).toContain("no crew is known to bring a one-piece liner");
    expect(plan({}, usBasis).walls["one-piece"].kind).toBe("not asked");
  });

  it("where the program asks for a brim in the main, which no one-piece liner has", () => {
    const { connection } = basis.treatments;
    const brim: PlanBasis = {
      ...basis,
      treatments: { ...basis.treatments, connection: { ...connection, mainPart: "brim" } },
    };
    expect(against({}, brim)).toContain("a brim is asked for in the main, and One-piece main-and-lateral");
  });

  it.each<[string, Differs, string]>([
    ["its main is not known", { mainDiameter: null }, "diameter of the main not known"],
    ["its main is wider than served", { mainDiameter: inches(30) }, "the main (30.0 in) is outside"],
    ["the main is no wider than it", { mainDiameter: inches(4) }, "is not narrower than the main"],
    [
      "it is longer than the system reaches",
      { hostLength: feet(151) },
      "151.0 ft long, the system reaches 150.0 ft",
    ],
    ["its length is not known", { hostLength: null }, "host length not known"],
    ["a bend is too sharp", { bends: city(1), sharpestBend: city(100) }, "a bend of 100"],
    ["it changes size too much", { sizeChange: city(fraction(0.4)) }, "the host changes size by 40.0 %"],
    [
      "no tube is stocked for it",
      { hostDiameter: city(millimetres(227)) },
      "no liner is stocked near 8.9 in",
    ],
    ["its effluent attacks the resin", { effluent: city("acid") }, "acid effluent"],
    ["the host does not bear the cure", { hostMaterial: city("PVC") }, "a host of PVC bears"],
    ["only the building gives access", { access: city("building only") }, "reached from the building only"],
    [
      "the main is to be lined and a look comes first",
      { mainLining: city("to be lined"), crossBore: null },
      "the connection is done after it",
    ],
    ["no cross-bore was looked for", { crossBore: null }, "gas cross-bore status unknown"],
  ])("where %s", (_, differs, words) => {
    expect(against(differs)).toContain(words);
  });

  it("where only one of pipe and connection is bad, and never for a pipe that was left", () => {
    const only = [survey({ connectionGrade: 4 })];
    expect(against({ inspections: only })).toContain("not both the pipe and its connection need a liner");
    expect(plan({ inspections: only }).walls["one-piece"].kind).toBe("not asked");
  });

  it("though a person decides it, where nobody can place it; else a decision places it", () => {
    const decided = {
      structuralGrade: null,
      omGrade: null,
      treatment: { value: "one-piece liner", origin: "decided", because: "the council asks" } as const,
    };
    const only = [survey({ connectionGrade: 4 })];
    expect(plan({ inspections: only, decided }).choice.treatment).toBe("one-piece liner");
    expect(plan({ inspections: only, decided }, usBasis).choice.treatment).toBe("connection liner");
    expect(plan({ inspections: only, decided, mainDiameter: null }).choice.treatment).not.toBe(
      "one-piece liner",
    );
  });
});

it("whatever the joint, as much is taken off as the true curve of the two pipes uses, and wet out as fills it", () => {
  const { connection } = basis.treatments;
  fc.assert(
    fc.property(
      fc.record({
        host: fc.constantFrom(4, 6),
        main: fc.constantFrom(8, 12, 18),
        length: fc.double({ min: 2, max: 45, noNaN: true }),
        angle: fc.constantFrom(45, 60, 90),
        bends: fc.integer({ min: 0, max: 5 }),
      }),
      ({ host, main, length, angle, bends }) => {
        const junctionAngle = angle;
        const by: PlanBasis = {
          ...basis,
          treatments: { ...basis.treatments, connection: { ...connection, junctionAngle } },
        };
        const planned = plan(
          {
            hostDiameter: inches(host),
            mainDiameter: inches(main),
            hostLength: city(metres(length)),
            bends: city(bends),
            sharpestBend: city(45),
          },
          by,
        );
        expect(planned.chosen.treatment).toBe("one-piece liner");
        const { liner, wetOut } = planned.chosen;
        if (liner?.kind !== "one piece" || wetOut === null) throw new Error("no one-piece liner");
        const [r, R] = [(host * 0.0254) / 2, (main * 0.0254) / 2];
        const inMain = 2 * Math.PI * R * 2 * connection.mainEachSide - openingByCurve(r, R, angle);
        const inLateral = sleeveByGenerators(r, R, angle, length);
        const amount = (item: string) =>
          takeOffMaterials(planned.chosen, planned.lateral, by)
            .filter((use) => use.item === item)
            .reduce((sum, use) => sum + use.amount, 0);
        // Whole cm² up; the oracle's curve has 4000 points, good to 1e-5.
        expect(amount("tube and sheet") / 10_000).toBeGreaterThanOrEqual((inMain + inLateral) * (1 - 1e-5));
        expect(amount("one-piece tube") / 1000).toBeGreaterThanOrEqual(length + 1.2 - 1e-9);
        expect(amount("end seal")).toBe(3);
        // The voids of the walls that stay in the ground: sheet times its wall, less what the wall takes of the bore (under t/D).
        const least = inMain * liner.mainWall * (1 - liner.mainWall / (main * 25.4));
        const filled = (least + inLateral * liner.wall * (1 - liner.wall / (host * 25.4))) * 0.87;
        expect(wetOut.mixed.volume).toBeGreaterThanOrEqual(filled * 0.999);
      },
    ),
    { numRuns: 80 },
  );
});

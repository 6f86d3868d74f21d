import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkForces } from "../../src/plan/forces.ts";
import type { PlanBasis } from "../../src/plan/plan-basis.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { fraction, kilograms, metres } from "../../src/quantity/si.ts";
import { housePlacing, placingNamed } from "../../src/reference/placing-methods.ts";
import { marchPull } from "../oracle/pull-along-path.ts";
import { city, feet, lateral, survey, usBasis } from "./examples.ts";

const pulledIn: PlanBasis = {
  ...usBasis,
  liners: {
    ...usBasis.liners,
    "full-length": {
      ...usBasis.liners["full-length"],
      placing: placingNamed(housePlacing, "pulled in and inflated"),
    },
  },
};
const worn = { inspections: [survey({ structuralGrade: 4, structuralQuick: "4332" })] };

/** The planned liner of a lateral, with the wet tube made 2 kg/m over 12 m: 20 kg of resin and 4 kg of fibre. */
function forcesIn(differs: Parameters<typeof lateral>[0], basis: PlanBasis = pulledIn) {
  const given = lateral({ ...worn, ...differs });
  const { liner, wetOut, wall } = planLateral(given, basis).chosen;
  if (liner === null || wetOut === null || wall === null) throw new Error("no liner");
  const tube = { ...wetOut, mixed: { ...wetOut.mixed, mass: kilograms(20) }, fibre: kilograms(4) };
  const cut = { ...liner, cutLength: metres(12) };
  return checkForces(cut, tube, [wall], given, basis.liners["full-length"], basis);
}

describe("the pull on a liner", () => {
  it("of 2 kg/m over 12 m of level straight pipe is 117.7 N", () => {
    // w = 24 × 9.80665/12 = 19.6133 N/m; T = w·12·0.5. No bends and no slope are given: both are said to be assumed.
    const { pull } = forcesIn({});
    expect(pull?.newtonsPerMetre).toBeCloseTo(19.6133, 9);
    expect(pull?.pull.atWinch).toBeCloseTo(117.6798, 4);
    expect([pull?.bends.origin, pull?.slope.origin]).toEqual(["assumed", "assumed"]);
    expect(pull?.verdict).toEqual({ kind: "within" });
  });

  it("is less downhill to a winch at the main, by the weight's part along the slope", () => {
    // 12 × 19.6133 × (0.5·√(1 − 0.02²) − 0.02) = 112.949.
    expect(forcesIn({ slope: city(fraction(0.02)) }).pull?.pull.atWinch).toBeCloseTo(112.949, 3);
  });

  it("through two bends of 45° is the capstan's 258 N and a little for the weight in them", () => {
    // 117.68·e^(0.5·π/2) = 258.09 by the capstan alone; the second road marches along the path.
    const { pull } = forcesIn({ bends: city(2), sharpestBend: city(45) });
    const bend = { kind: "bend" as const, turnDegrees: 45, radius: 0.1524 };
    const marched = marchPull([{ kind: "straight", length: 12, rise: 0 }, bend, bend], {
      weight: 19.6133,
      friction: 0.5,
      ropeFriction: 0.3,
      tail: 0,
    });
    expect(pull?.pull.inTube).toBeGreaterThan(258.09);
    expect(pull?.pull.inTube).toBeLessThan(258.2);
    // The march's midpoint rule is good to about the square of its step.
    expect(pull?.pull.atWinch).toBeCloseTo(marched.atWinch, 3);
  });

  it("takes bends of unknown turn at the named 45°", () => {
    const unknown = forcesIn({ bends: city(2) }).pull;
    expect(unknown?.bendDegrees).toMatchObject({ value: 45, origin: "assumed" });
    expect(unknown?.pull).toEqual(forcesIn({ bends: city(2), sharpestBend: city(45) }).pull?.pull);
  });

  it("over the tube's limit is said, with by how much", () => {
    // 117.68·e^(0.5·8·π/4) = 2723 N after eight bends of 45°, 13,100 N after twelve; the tube is taken to bear 1,000 lbf = 4,448 N.
    expect(forcesIn({ bends: city(8), sharpestBend: city(45) }).pull?.verdict.kind).toBe("within");
    expect(forcesIn({ bends: city(12), sharpestBend: city(45) }).pull?.verdict).toMatchObject({
      kind: "over",
      limit: "tube",
    });
  });

  it("grows with every bend", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 6 }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        (count, turn) => {
          const at = (bends: number) =>
            forcesIn({ bends: city(bends), sharpestBend: city(turn) }).pull!.pull.inTube;
          expect(at(count + 1)).toBeGreaterThanOrEqual(at(count));
        },
      ),
      { numRuns: 25 },
    );
  });

  it("is not there when the liner is inverted", () => {
    expect(forcesIn({}, usBasis).pull).toBeNull();
  });
});

describe("the pressure that holds a liner", () => {
  it("is from 4.30 to 10 psi under 4 ft of water over the crown", () => {
    // Cover 8 ft at the deeper end, water 4 ft down: 4 ft + 4 in = 1.3208 m over the invert, and 0.3 m in branches.
    // 62.4/144 psi/ft × (1.6208/0.3048) ft + 2 psi = 4.3043 psi; the host is taken to bear 10 psi, the bladder 15.
    const { inflation } = forcesIn({});
    const PSI = 6.894757293168361;
    expect(inflation.groundwaterHead).toBeCloseTo(1.3208, 9);
    expect(inflation.window.kind).toBe("window");
    expect(inflation.window.least / PSI).toBeCloseTo(4.3043, 4);
    expect(inflation.window.most / PSI).toBeCloseTo(10, 9);
  });

  it("is none where the building is open to the lateral: its trap seals blow first", () => {
    // 2 in of water = 62.4/144 × 2/12 = 0.0722222 psi × 6.894757 = 0.497955 kPa, under the least of 29.7 kPa.
    const open: PlanBasis = {
      ...pulledIn,
      placing: { ...housePlacing, inflation: { ...housePlacing.inflation, building: "open" } },
    };
    const { inflation } = forcesIn({}, open);
    expect(inflation.trapSeal).toBeCloseTo(0.497955, 6);
    expect(inflation.window).toMatchObject({ kind: "none", limit: "host" });
  });

  it("is none under water deeper than the host's limit bears", () => {
    // 25 ft of cover with water at the surface: over 10.8 psi of water alone.
    const deep = { coverAtMain: feet(25), coverAtHouse: feet(25), waterTableDepth: feet(0) };
    expect(forcesIn(deep).inflation.window.kind).toBe("none");
  });

  it("counts the deeper end, whichever it is", () => {
    const one = forcesIn({ coverAtMain: feet(8), coverAtHouse: feet(5) });
    const other = forcesIn({ coverAtMain: feet(5), coverAtHouse: feet(8) });
    expect(other.inflation.window).toEqual(one.inflation.window);
  });
});

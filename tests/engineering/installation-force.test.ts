import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  inflationWindow,
  judgeInflation,
  judgePull,
  type PullSegment,
  pullTube,
} from "../../src/engineering/installation-force.ts";
import { KILOPASCALS_PER_PSI, METRES_PER_FOOT } from "../../src/quantity/factors.ts";
import { kilopascals, metres, newtons } from "../../src/quantity/si.ts";
import { marchPull } from "../oracle/pull-along-path.ts";

const tube = { newtonsPerMetre: 20, friction: 0.4, ropeFriction: 0.2, tailTension: newtons(0) };
const straight = (length: number, rise: number): PullSegment => ({
  kind: "straight",
  length: metres(length),
  rise,
});
const bend = (turnDegrees: number, radius = 0.15): PullSegment => ({
  kind: "bend",
  turnDegrees,
  radius: metres(radius),
});

describe("the pull on a tube", () => {
  it("on the level is weight times friction", () => {
    // Hand calculation: 20 N/m × 30 m × 0.4 = 240 N.
    expect(pullTube([straight(30, 0)], tube).atWinch).toBeCloseTo(240, 9);
  });

  it("grows in a bend by the capstan, and uphill by the slope", () => {
    // Hand calculation: 240·e^(0.4·π/4) = 328.59 (the bend's own 3 N of weight adds 0.006); 5 m at 1 in 50:
    // 20 × 5 × (0.4 × 0.9998 + 0.02) = 41.99; together 370.58.
    const pull = pullTube([straight(30, 0), bend(45), straight(5, 0.02)], tube);
    expect(pull.atWinch).toBeCloseTo(370.58, 1);
    expect(pull.inTube).toBe(pull.atWinch);
  });

  it("falls back to nothing, never below, where the pipe is steeper than friction holds", () => {
    // Falling 0.5 with friction 0.4 each metre gives back 20 × (0.5 − 0.4 × 0.8660) = 3.07 N: 10 m of level pull, 80 N, is gone
    // after 26 m, and the last level metre starts from 0: 8 N.
    const path = [straight(10, 0), straight(40, -0.5), straight(1, 0)];
    expect(pullTube(path, tube)).toEqual({ atWinch: expect.closeTo(80, 9), inTube: expect.closeTo(80, 9) });
  });

  it("may be greatest at the winch before the tube has passed the bend the rope lies in", () => {
    // 10 m level: 80 N at the head, rope around 90° at 0.2: 80·e^(0.314) = 109.5 N; then it falls on the steep run, and the
    // bend at the end, where the tube's own friction counts, comes too late to matter.
    const pull = pullTube([straight(10, 0), straight(40, -0.5), bend(90)], tube);
    expect(pull.atWinch).toBeCloseTo(80 * Math.exp(0.2 * (Math.PI / 2)), 9);
    expect(pull.inTube).toBeCloseTo(80, 9);
  });

  it("is what a march along the path in small steps finds", () => {
    const piece: fc.Arbitrary<PullSegment> = fc.oneof(
      fc.record({
        kind: fc.constant("straight" as const),
        length: fc.double({ min: 0.2, max: 40, noNaN: true }).map(metres),
        rise: fc.double({ min: -0.7, max: 0.7, noNaN: true }),
      }),
      fc.record({
        kind: fc.constant("bend" as const),
        turnDegrees: fc.double({ min: 5, max: 90, noNaN: true }),
        radius: fc.double({ min: 0.05, max: 2, noNaN: true }).map(metres),
      }),
    );
    const friction = fc.double({ min: 0.05, max: 0.8, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(piece, { minLength: 1, maxLength: 6 }),
        friction,
        friction,
        fc.double({ min: 0, max: 200, noNaN: true }),
        (path, mu, muRope, tail) => {
          const pull = pullTube(path, {
            newtonsPerMetre: 20,
            friction: mu,
            ropeFriction: muRope,
            tailTension: newtons(tail),
          });
          const marched = marchPull(path, { weight: 20, friction: mu, ropeFriction: muRope, tail });
          // The midpoint rule with 4000 steps a piece is good to about 1e-7 of the force.
          expect(Math.abs(pull.atWinch - marched.atWinch)).toBeLessThan(1e-5 * (1 + marched.atWinch));
          expect(Math.abs(pull.inTube - marched.inTube)).toBeLessThan(1e-5 * (1 + marched.inTube));
        },
      ),
      { numRuns: 60 },
    );
  });

  it("peaks inside a bend where the rope grips harder than the tube", () => {
    // No tension at the start, μ 0.2, rope 0.8, w·R 20 N: √(T² + 20²)/T = 4 gives T = 5.164 N after 1.276 rad; the rope still lies
    // around π − 1.276 = 1.865 rad, 5.164·e^(0.8·1.865) = 22.96 N, against 13.41 N once the head is through.
    const pull = pullTube([bend(180, 1)], { ...tube, friction: 0.2, ropeFriction: 0.8 });
    expect(pull.atWinch).toBeCloseTo(22.96, 1);
    expect(pull.inTube).toBeCloseTo(13.41, 2);
    const marched = marchPull([{ kind: "bend", turnDegrees: 180, radius: 1 }], {
      weight: 20,
      friction: 0.2,
      ropeFriction: 0.8,
      tail: 0,
    });
    expect(pull.atWinch).toBeCloseTo(marched.atWinch, 4);
  });

  it("is never less on a longer path on the level or uphill", () => {
    const rise = fc.double({ min: 0, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(fc.array(rise, { minLength: 1, maxLength: 5 }), rise, (rises, more) => {
        const path = rises.flatMap((r) => [straight(3, r), bend(30)]);
        expect(pullTube([...path, straight(3, more)], tube).atWinch).toBeGreaterThan(
          pullTube(path, tube).atWinch,
        );
      }),
    );
  });

  it("is judged against the winch and against the tube", () => {
    const pull = { atWinch: newtons(500), inTube: newtons(400) };
    expect(judgePull(pull, { winch: newtons(500), tube: newtons(400) })).toEqual({ kind: "within" });
    expect(judgePull(pull, { winch: newtons(450), tube: newtons(400) })).toEqual({
      kind: "over",
      limit: "winch",
      by: 50,
    });
    expect(judgePull(pull, { winch: newtons(450), tube: newtons(390) })).toEqual({
      kind: "over",
      limit: "tube",
      by: 10,
    });
  });

  it("refuses a rise above 1, a bend without radius and a tube without weight", () => {
    expect(() => pullTube([straight(1, 1.1)], tube)).toThrow("1.1");
    expect(() => pullTube([bend(45, 0)], tube)).toThrow(RangeError);
    expect(() => pullTube([], { ...tube, newtonsPerMetre: 0 })).toThrow(RangeError);
  });
});

describe("the pressure that holds a liner while it cures", () => {
  const limits = { host: kilopascals(70), bladder: kilopascals(100) };
  const heads = (groundwater: number, branches: number) => ({
    groundwater: metres(groundwater),
    branches: metres(branches),
  });

  it("is 0.433 psi per foot of groundwater at least", () => {
    // City of Nashua NH, section 02650: above the groundwater head. 10 ft at 0.433 psi/ft. 0.1 %: 62.4/144 is 0.4333, cut to 0.433.
    const window = inflationWindow(heads(10 * METRES_PER_FOOT, 0), kilopascals(0), limits);
    expect(Math.abs(window.least / (4.33 * KILOPASCALS_PER_PSI) - 1)).toBeLessThan(0.001);
    expect(window).toMatchObject({ kind: "window", most: 70 });
  });

  it("adds the sewage standing in branches and the margin", () => {
    // Hand calculation: 62.4 lbf/ft³ is 9.802 kN/m³; × (3 + 1) m + 5 = 44.21 kPa.
    expect(inflationWindow(heads(3, 1), kilopascals(5), limits).least).toBeCloseTo(44.21, 2);
  });

  it("does not exist where the host bears less than the groundwater asks", () => {
    const window = inflationWindow(heads(8, 0), kilopascals(0), limits);
    expect(window).toMatchObject({ kind: "none", limit: "host", most: 70 });
    for (const pressure of [60, 75, 80])
      expect(judgeInflation(kilopascals(pressure), window)).not.toBe("within");
    expect(
      inflationWindow(heads(8, 0), kilopascals(0), {
        ...limits,
        host: kilopascals(200),
        bladder: kilopascals(50),
      }),
    ).toMatchObject({ kind: "none", limit: "bladder", most: 50 });
  });

  it("is judged inside its window, ends included", () => {
    const window = inflationWindow(heads(3, 1), kilopascals(5), limits);
    expect(judgeInflation(kilopascals(44), window)).toBe("below inward heads");
    expect(judgeInflation(window.least, window)).toBe("within");
    expect(judgeInflation(kilopascals(70), window)).toBe("within");
    expect(judgeInflation(kilopascals(70.1), window)).toBe("above limit");
  });

  it("refuses a negative head", () => {
    expect(() => inflationWindow(heads(-1, 0), kilopascals(0), limits)).toThrow("-1 m");
  });
});

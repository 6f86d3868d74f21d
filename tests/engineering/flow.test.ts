import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  capacityRatio,
  fixtureUnitCapacity,
  fullPipeFlow,
  fullPipeVelocity,
  greatestFlow,
  isSelfCleansing,
  leastSlope,
  partFullFlow,
  slopeForVelocity,
} from "../../src/engineering/flow.ts";
import { METRES_PER_FOOT } from "../../src/quantity/factors.ts";
import { fraction, litresPerSecond, metresPerSecond, millimetres } from "../../src/quantity/si.ts";
import { deepestFlow, depthByBisection, fullFlowUs, segmentFlow } from "../oracle/circular-segment.ts";

const pipe = { diameter: millimetres(100), roughness: 0.013, slope: fraction(0.02) };

describe("capacity after lining", () => {
  // Trenchless Technology Piping (2010), Table 2.14, liner n .010: the 8 of its 16 values that are at hand, whole percent. 0.55: the
  // print was rounded twice, to a tenth and then to a whole, which takes 116.473 to 117 and 143.497 to 144.
  it.each([
    [0.014, 30, 117],
    [0.014, 40, 122],
    [0.014, 50, 126],
    [0.014, 60, 128],
    [0.016, 30, 133],
    [0.016, 40, 140],
    [0.016, 50, 144],
    [0.016, 60, 146],
  ])("from n %d at DR %d is %d percent of the old", (host, ratio, percent) => {
    const found = 100 * capacityRatio(millimetres(ratio), millimetres(1), host, 0.01);
    expect(Math.abs(found - percent)).toBeLessThan(0.55);
  });

  it("of 4 in with 4.5 mm is 102 % on a smoother liner, but 78 % on equal roughness", () => {
    // Hand calculation: (1 − 9/101.6)^(8/3) = 0.7809; × 1.3 = 1.0151.
    const host = millimetres(101.6);
    expect(capacityRatio(host, millimetres(4.5), 0.013, 0.01)).toBeCloseTo(1.015, 3);
    expect(capacityRatio(host, millimetres(4.5), 0.013, 0.013)).toBeCloseTo(0.781, 3);
  });

  it("is the ratio of the two pipes' full flows", () => {
    const before = fullPipeFlow({ ...pipe, diameter: millimetres(150) });
    const after = fullPipeFlow({ ...pipe, diameter: millimetres(141), roughness: 0.01 });
    expect(capacityRatio(millimetres(150), millimetres(4.5), 0.013, 0.01)).toBeCloseTo(after / before, 12);
  });

  it("refuses a wall that closes the pipe", () => {
    expect(() => capacityRatio(millimetres(100), millimetres(50), 0.013, 0.01)).toThrow("50 mm in 100 mm");
  });
});

describe("a pipe running full", () => {
  it("of 100 mm at 2 % and n .013 has 0.930 m/s and 7.305 L/s", () => {
    // Hand calculation: 0.025^(2/3) = 0.085499, √0.02 = 0.141421, over 0.013: 0.93011; × π/4 × 0.01 × 1000 = 7.3051.
    expect(fullPipeVelocity(pipe)).toBeCloseTo(0.9301, 4);
    expect(fullPipeFlow(pipe)).toBeCloseTo(7.305, 3);
  });

  it("carries what the US form of the equation says", () => {
    const cubicFeet = fullFlowUs(100 / 304.8, 0.013, 0.02);
    expect(fullPipeFlow(pipe)).toBeCloseTo(cubicFeet * METRES_PER_FOOT ** 3 * 1000, 9);
  });

  it("carries most at 0.938 of its depth, 7.6 % more than full", () => {
    expect(deepestFlow()).toBeCloseTo(0.938, 3);
    const most = segmentFlow(deepestFlow() * 0.1, 0.1, 0.013, 0.02).flow * 1000;
    expect(greatestFlow(pipe)).toBeCloseTo(most, 9);
    expect(greatestFlow(pipe) / fullPipeFlow(pipe)).toBeCloseTo(1.0757, 4);
  });

  it("refuses a level pipe", () => {
    expect(() => fullPipeFlow({ ...pipe, slope: fraction(0) })).toThrow("slope 0");
  });
});

describe("a pipe running part full", () => {
  it("at half its flow is half full, as fast as full", () => {
    // Identity of the circle: the same hydraulic radius, half the area.
    const state = partFullFlow(litresPerSecond(fullPipeFlow(pipe) / 2), pipe);
    expect(state).toMatchObject({
      kind: "part full",
      filling: expect.closeTo(0.5, 12),
      depth: expect.closeTo(50, 9),
    });
    if (state.kind === "part full") expect(state.velocity).toBeCloseTo(fullPipeVelocity(pipe), 12);
  });

  it("stands at the depth that bisection finds, with the velocity of that segment", () => {
    fc.assert(
      fc.property(
        // Flow as a share of the greatest; below 1 because there the depth is the root of a flat top.
        fc.double({ min: 1e-6, max: 0.9999, noNaN: true }),
        fc.double({ min: 75, max: 300, noNaN: true }),
        fc.double({ min: 0.009, max: 0.03, noNaN: true }),
        fc.double({ min: 0.002, max: 0.2, noNaN: true }),
        (share, D, n, S) => {
          const any = { diameter: millimetres(D), roughness: n, slope: fraction(S) };
          const flow = litresPerSecond(greatestFlow(any) * share);
          const state = partFullFlow(flow, any);
          const depth = depthByBisection(flow / 1000, D / 1000, n, S);
          expect(state.kind).toBe("part full");
          if (state.kind !== "part full") return;
          expect(state.depth / 1000 / depth).toBeCloseTo(1, 8);
          expect(state.velocity / segmentFlow(depth, D / 1000, n, S).velocity).toBeCloseTo(1, 8);
        },
      ),
    );
  });

  it("takes the lower of the two depths at full flow", () => {
    // Standard hydraulic elements of the circle: full flow first at 0.82 of the depth.
    const state = partFullFlow(fullPipeFlow(pipe), pipe);
    expect(state).toMatchObject({ kind: "part full", filling: expect.closeTo(0.82, 2) });
  });

  it("reaches its greatest flow and refuses more", () => {
    const most = greatestFlow(pipe);
    // The root is double: half of a double's digits are lost in the depth.
    expect(partFullFlow(most, pipe)).toMatchObject({
      kind: "part full",
      filling: expect.closeTo(0.93818, 5),
    });
    expect(partFullFlow(litresPerSecond(most * 1.0001), pipe)).toEqual({
      kind: "beyond gravity flow",
      greatest: most,
    });
  });

  it("refuses no flow", () => {
    expect(() => partFullFlow(litresPerSecond(0), pipe)).toThrow("got 0");
  });
});

describe("slope and capacity rules", () => {
  it("finds the slope that gives a velocity when full", () => {
    const slope = slopeForVelocity(millimetres(100), 0.013, metresPerSecond(0.61));
    // Hand calculation: (0.61 × 0.013/0.085499)² = 0.008603.
    expect(slope).toBeCloseTo(0.0086, 4);
    expect(fullPipeVelocity({ ...pipe, slope })).toBeCloseTo(0.61, 12);
    expect(
      isSelfCleansing(fullPipeVelocity({ ...pipe, slope: fraction(slope * 1.01) }), metresPerSecond(0.61)),
    ).toBe(true);
    expect(
      isSelfCleansing(fullPipeVelocity({ ...pipe, slope: fraction(slope * 0.99) }), metresPerSecond(0.61)),
    ).toBe(false);
  });

  // City of Chicago IL, Table 18-29-704.1: up to 2½ in 1/4, 3 to 6 in 1/8, 8 in and more 1/16 in/ft.
  const rules = [
    { upTo: millimetres(63.5), slope: fraction(1 / 48) },
    { upTo: millimetres(152.4), slope: fraction(1 / 96) },
    { upTo: null, slope: fraction(1 / 192) },
  ];

  it.each([
    [63.5, 1 / 48],
    [76.2, 1 / 96],
    [152.4, 1 / 96],
    [155, 1 / 96],
    [203.2, 1 / 192],
  ])("asks %d mm for its code's least slope", (diameter, slope) => {
    expect(leastSlope(millimetres(diameter), rules, fraction(0.02))).toBe(slope);
  });

  it("has no least slope where the table says nothing", () => {
    expect(leastSlope(millimetres(203.2), rules.slice(0, 2), fraction(0.02))).toBeNull();
  });

  // International Plumbing Code 710.1(1), from memory, unverified, but for 3 in at 1/8 = 36 (forum post quoting the 2003 edition).
  const table = [
    { diameter: millimetres(76.2), slope: fraction(1 / 96), units: 36 },
    { diameter: millimetres(76.2), slope: fraction(1 / 48), units: 42 },
    { diameter: millimetres(101.6), slope: fraction(1 / 96), units: 180 },
    { diameter: millimetres(101.6), slope: fraction(1 / 48), units: 216 },
    { diameter: millimetres(203.2), slope: fraction(1 / 192), units: 1400 },
  ];

  it.each([
    [76.2, 1 / 96, 36],
    [101.6, 1 / 48, 216],
    // Steeper than the table, between its lines, between its sizes, and a metric 100 mm as a nominal 4 in.
    [101.6, 0.1, 216],
    [101.6, 0.015, 180],
    [95, 1 / 48, 42],
    [100, 1 / 96, 180],
    [203.2, 1 / 192, 1400],
  ])("reads %d mm at slope %d down to the next line: %d units", (diameter, slope, units) => {
    expect(fixtureUnitCapacity(millimetres(diameter), fraction(slope), table, fraction(0.02))).toBe(units);
  });

  it("has no capacity for a pipe smaller or flatter than the table", () => {
    expect(fixtureUnitCapacity(millimetres(50), fraction(0.02), table, fraction(0.02))).toBeNull();
    expect(fixtureUnitCapacity(millimetres(101.6), fraction(0.005), table, fraction(0.02))).toBeNull();
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type ConnectionLiner,
  listOutsideOnePieceScope,
  sizeConnectionLiner,
} from "../../src/engineering/connection-liner.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import { openingByCurve, patchByOutline, sleeveByGenerators } from "../oracle/cylinder-joint.ts";

// Common practice, no published source: 15 in (381 mm) each side of the joint, 2 ft (610 mm) up the lateral.
const tee: ConnectionLiner = {
  mainDiameter: millimetres(200),
  lateralDiameter: millimetres(100),
  mainPart: { kind: "full circle", eachSide: metres(0.381) },
  mainThickness: millimetres(3),
  upLateral: metres(0.61),
  lateralThickness: millimetres(3),
  junctionDegrees: 90,
  seals: { mainEdges: true, lateralEnd: true },
};

function sized(liner: ConnectionLiner) {
  const takeoff = sizeConnectionLiner(liner);
  if (takeoff.kind === "refused") throw new Error(takeoff.because);
  return takeoff;
}

describe("a connection liner", () => {
  it("of a full circle at a tee has the sheet that a hand calculation gives", () => {
    // Hand calculation with tabulated E(0.5) = 1.467462, K(0.5) = 1.685750 (modulus 0.5): opening 4 × 0.05² × (1.467462 −
    // 0.75 × 1.685750)/0.25 = 0.0081260 m²; main π × 0.2 × 0.762 − 0.0081260 = 0.4706527 m²; saddle 0.1 × (1 − 2 × 1.467462/π)
    // = 0.0065784 m; lateral π × 0.1 × 0.6165784 = 0.1937038 m².
    const takeoff = sized(tee);
    expect(takeoff.opening).toBeCloseTo(0.008126, 6);
    expect(takeoff.mainSheet).toBeCloseTo(0.470653, 6);
    expect(takeoff.lateralSheet).toBeCloseTo(0.193704, 6);
    // Walls: π × 0.197 × 3 × 0.762 − 0.008126 × 3 + π × 0.097 × 3 × 0.6165784 = 1.414798 − 0.024378 + 0.563678 L.
    expect(takeoff.wall).toBeCloseTo(1.9541, 4);
    expect(takeoff.endSeals).toBe(3);
    expect(takeoff.openingReach).toBeCloseTo(0.05, 12);
  });

  it("opens the main by the curve in which the two pipes meet, and sleeves the lateral up to it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.98, noNaN: true }),
        fc.double({ min: 30, max: 90, noNaN: true }),
        (size, degrees) => {
          const takeoff = sized({
            ...tee,
            lateralDiameter: millimetres(200 * size),
            mainPart: { kind: "full circle", eachSide: metres(1) },
            junctionDegrees: degrees,
          });
          // 4000 points on the curve: its chords lose some 1e-6 of the area near a lateral as wide as the main.
          expect(takeoff.opening / openingByCurve(0.1 * size, 0.1, degrees)).toBeCloseTo(1, 5);
          expect(takeoff.lateralSheet / sleeveByGenerators(0.1 * size, 0.1, degrees, 0.61)).toBeCloseTo(1, 6);
        },
      ),
      { numRuns: 12 },
    );
  });

  it("with a brim has the ring between two outlines and one seal in the main", () => {
    const takeoff = sized({
      ...tee,
      mainPart: { kind: "brim", width: millimetres(40) },
      junctionDegrees: 45,
    });
    const reach = 0.05 / Math.sin(Math.PI / 4);
    const ring = patchByOutline(0.09, reach + 0.04, 0.1) - patchByOutline(0.05, reach, 0.1);
    expect(takeoff.mainSheet).toBeCloseTo(ring, 7);
    expect(takeoff.endSeals).toBe(2);
    expect(takeoff.openingReach).toBeCloseTo(reach, 12);
  });

  it("of a lateral as wide as the main opens it by d²/sin β", () => {
    // The integral is elementary there: 4·r²/sin β.
    const wide = { ...tee, lateralDiameter: millimetres(200) };
    expect(sized(wide).opening).toBeCloseTo(0.04, 12);
  });

  it("of a small lateral opens the main by a flat ellipse", () => {
    // π·r²/sin β at r = 1 mm in R = 1000 mm: curvature adds k²/8, a part in eight million.
    const small = {
      ...tee,
      mainDiameter: millimetres(2000),
      lateralDiameter: millimetres(2),
      lateralThickness: millimetres(0.1),
      junctionDegrees: 45,
    };
    // To the ellipse, then: 1.25e-7 more, and the k⁴ term is below 1e-13.
    expect((sized(small).opening * 1e6) / (Math.PI / Math.SQRT1_2) - 1).toBeCloseTo(1.25e-7, 12);
  });

  it("is found for any width of lateral", () => {
    // The mean that gives the integrals must settle for every modulus, not circle around its last bit.
    for (let width = 10; width <= 200; width += 0.01) {
      const { opening } = sized({ ...tee, lateralDiameter: millimetres(width) });
      const flat = (Math.PI * width ** 2) / 4e6;
      // Between the flat ellipse and 4/π of it, its value when the lateral is as wide as the main.
      expect(opening / flat >= 1 && opening / flat <= 4 / Math.PI + 1e-12).toBe(true);
    }
  });

  it("counts only the seals asked for", () => {
    expect(sized({ ...tee, seals: { mainEdges: false, lateralEnd: true } }).endSeals).toBe(1);
    expect(sized({ ...tee, seals: { mainEdges: true, lateralEnd: false } }).endSeals).toBe(2);
  });

  it.each([
    ["size not above zero", { upLateral: metres(0) }],
    ["size not above zero", { mainPart: { kind: "full circle", eachSide: metres(Number.NaN) } }],
    ["junction angle not from 15 to 90 degrees", { junctionDegrees: 100 }],
    ["junction angle not from 15 to 90 degrees", { junctionDegrees: 14.9 }],
    ["lateral wider than main", { lateralDiameter: millimetres(201) }],
    ["wall too thick for the pipe", { lateralThickness: millimetres(50) }],
    ["main part ends inside the opening", { mainPart: { kind: "full circle", eachSide: metres(0.05) } }],
    ["brim reaches past half of the main", { mainPart: { kind: "brim", width: millimetres(51) } }],
  ] satisfies [string, Partial<ConnectionLiner>][])("is refused: %s", (because, change) => {
    expect(sizeConnectionLiner({ ...tee, ...change })).toEqual({ kind: "refused", because });
  });

  it("is sized at the ends of what is allowed: 15 degrees, a lateral as wide as the main", () => {
    const narrow = {
      ...tee,
      junctionDegrees: 15,
      mainPart: { kind: "full circle", eachSide: metres(1) } as const,
    };
    expect(sizeConnectionLiner(narrow).kind).not.toBe("refused");
    expect(sizeConnectionLiner({ ...tee, lateralDiameter: tee.mainDiameter }).kind).not.toBe("refused");
  });

  it("is noted where it leaves the one-piece standard's scope", () => {
    // ASTM F2561-20, scope: lateral 3–12 in, main 6–24 in, up to 150 ft (45.72 m) of lateral.
    expect(listOutsideOnePieceScope(tee, 0.02)).toEqual([]);
    const far = { mainDiameter: millimetres(100), lateralDiameter: millimetres(70), upLateral: metres(46) };
    expect(listOutsideOnePieceScope(far, 0.02)).toEqual([
      "lateral diameter",
      "main diameter",
      "length up the lateral",
    ]);
    // A metric 75 mm counts as 3 in (76.2 mm).
    expect(listOutsideOnePieceScope({ ...tee, lateralDiameter: millimetres(75) }, 0.02)).toEqual([]);
    expect(listOutsideOnePieceScope({ ...tee, lateralDiameter: millimetres(75) }, 0)).toEqual([
      "lateral diameter",
    ]);
  });
});

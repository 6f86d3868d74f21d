import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { wallArea, wallLitresPerMetre, wallVolume } from "../../src/engineering/wall-volume.ts";
import { LITRES_PER_GALLON, METRES_PER_FOOT, MILLIMETRES_PER_INCH } from "../../src/quantity/factors.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import { ringArea } from "../oracle/ring-and-laminate.ts";

const inches = (n: number) => millimetres(n * MILLIMETRES_PER_INCH);

describe("the wall of a liner", () => {
  // Hand-calculated table, independent of this program: host in, wall mm, area in², gal/ft; half of the last digit allowed.
  it.each([
    [3, 3, 1.069, 0.0555],
    [3, 4.5, 1.571, 0.0816],
    [3, 6, 2.051, 0.1065],
    [4, 3, 1.44, 0.0748],
    [4, 4.5, 2.128, 0.1105],
    [4, 6, 2.793, 0.1451],
    [5, 3, 1.811, 0.0941],
    [5, 4.5, 2.684, 0.1394],
    [6, 3, 2.183, 0.1134],
    [6, 4.5, 3.241, 0.1684],
    [6, 6, 4.277, 0.2222],
    [8, 4.5, 4.354, 0.2262],
    [8, 6, 5.762, 0.2993],
  ])("of %d in and %d mm has %d in² and %d gal/ft", (host, wall, area, gallons) => {
    const squareInches = (wallArea(inches(host), millimetres(wall)) * 1e6) / MILLIMETRES_PER_INCH ** 2;
    expect(squareInches).toBeCloseTo(area, 3);
    const perFoot = wallVolume(inches(host), millimetres(wall), metres(METRES_PER_FOOT));
    expect(perFoot / LITRES_PER_GALLON).toBeCloseTo(gallons, 4);
  });

  it("of 100 mm and 3 mm has 0.9142 L/m", () => {
    // Hand calculation: π × 97 × 3 / 1000 = 0.91420.
    expect(wallLitresPerMetre(millimetres(100), millimetres(3))).toBeCloseTo(0.9142, 4);
  });

  it("is what its thin shells add up to", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50, max: 300, noNaN: true }),
        fc.double({ min: 0.01, max: 0.5, noNaN: true }),
        (D, share) => {
          const area = wallArea(millimetres(D), millimetres(D * share)) * 1e6;
          expect(area / ringArea(D, D * share)).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it("is less than a flat sheet's by t/(D − t), 3 % for 4 in and 3 mm", () => {
    const flat = (Math.PI * 101.6 * 3) / 1e6;
    expect(flat / wallArea(inches(4), millimetres(3)) - 1).toBeCloseTo(3 / 98.6, 12);
  });

  it("refuses a wall of nothing and a wall past the middle", () => {
    expect(() => wallArea(millimetres(100), millimetres(0))).toThrow("0 mm in 100 mm");
    expect(() => wallArea(millimetres(100), millimetres(50.1))).toThrow(RangeError);
    expect(() => wallVolume(millimetres(100), millimetres(3), metres(Number.NaN))).toThrow(RangeError);
  });
});

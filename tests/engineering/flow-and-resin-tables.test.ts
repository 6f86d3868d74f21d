import { describe, expect, it } from "vitest";
import fixtureUnits from "../../shared/fixture-units.json" with { type: "json" };
import roughness from "../../shared/manning-roughness.json" with { type: "json" };
import slopes from "../../shared/minimum-slopes.json" with { type: "json" };
import resins from "../../shared/resins.json" with { type: "json" };

const MILLIMETRES_PER_INCH = 25.4;

describe("the tables of flow and resin", () => {
  it("carry SI values that are the published US values, exactly converted", () => {
    for (const { diameter, inches, slope, inchesPerFoot } of fixtureUnits.values) {
      expect(diameter).toBeCloseTo(inches * MILLIMETRES_PER_INCH, 9);
      const [over, under] = inchesPerFoot.split("/").map(Number);
      // Twelve digits are written.
      expect(slope).toBeCloseTo(over! / under! / 12, 12);
    }
    for (const { rules } of slopes.sets)
      for (const { upTo, upToInches, slope, published } of rules) {
        if (upTo === null) expect(upToInches).toBeNull();
        else expect(upTo).toBeCloseTo(upToInches! * MILLIMETRES_PER_INCH, 9);
        const [, over, under] = /^(\d+)\/(\d+) in\/ft/.exec(published)!;
        expect(slope).toBeCloseTo(Number(over) / Number(under) / 12, 12);
      }
    const epoxy = resins.resins.find(({ key }) => key === "epoxy")!;
    // 1 lb/gal = 0.45359237/3.785411784 kg/L.
    expect(epoxy.density.used).toBeCloseTo(9.4 * (0.45359237 / 3.785411784), 9);
  });

  it("rise: more fixture units for a larger or a steeper drain", () => {
    for (const a of fixtureUnits.values)
      for (const b of fixtureUnits.values)
        if (a.diameter <= b.diameter && a.slope <= b.slope && a !== b) expect(a.units).toBeLessThan(b.units);
  });

  it("mark all fixture units as from memory but the one cell that was seen elsewhere", () => {
    const seen = fixtureUnits.values.filter(({ standing }) => standing === "corroborated");
    expect(seen).toEqual([expect.objectContaining({ inches: 3, inchesPerFoot: "1/8", units: 36 })]);
  });

  it("keep ranges in order", () => {
    for (const { least, most } of roughness.values) expect(least).toBeLessThanOrEqual(most);
    for (const { density } of resins.resins) {
      expect(density.least).toBeLessThan(density.used);
      expect(density.used).toBeLessThan(density.most);
    }
  });
});

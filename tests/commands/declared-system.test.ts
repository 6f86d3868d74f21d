import { describe, expect, it } from "vitest";
import { declaredSystem, type Place } from "../../src/commands/declared-system.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { smallSettings } from "../program/sample-settings.ts";

const inSystem = (system?: string) =>
  declaredSystem({
    ...smallSettings,
    coordinates: system === undefined ? undefined : { system },
  } as Settings);

function placeOf(system: string, x: number, y: number): Place | null {
  const declared = inSystem(system);
  if (!declared.ok) throw new Error(JSON.stringify(declared.fault));
  return declared.toPlace(x, y);
}

describe("a declared coordinate system", () => {
  it("takes longitude and latitude as they are", () => {
    expect(placeOf("EPSG:4326", -92.98, 43.56)).toEqual([-92.98, 43.56]);
  });

  it("gives the published example of a Lambert conformal conic in US survey feet", () => {
    // IOGP Geomatics Guidance Note 7-2, example of Lambert conic conformal (2SP), NAD27 / Texas South Central:
    // E 2963503.91, N 254759.80 US survey feet is 28°30'00.00" N, 96°00'00.00" W. Coordinates have two decimals of a
    // foot, which is 3e-8 of a degree.
    const texas =
      "+proj=lcc +lat_1=28.38333333333333 +lat_2=30.28333333333333 +lat_0=27.83333333333333 +lon_0=-99 " +
      "+x_0=609601.2192024384 +y_0=0 +a=6378206.4 +b=6356583.8 +units=us-ft +no_defs";
    const place = placeOf(texas, 2_963_503.91, 254_759.8);
    expect(place?.[0]).toBeCloseTo(-96, 7);
    expect(place?.[1]).toBeCloseTo(28.5, 7);
  });

  it("lies on the central meridian and the equator where a UTM zone says so", () => {
    // By definition of UTM: zone 15 has its central meridian at 93° W, false easting 500,000 m, northing 0 at the equator.
    const place = placeOf("EPSG:32615", 500_000, 0);
    expect(place?.[0]).toBeCloseTo(-93, 9);
    expect(place?.[1]).toBeCloseTo(0, 9);
  });

  it("has no place for what is none", () => {
    expect(placeOf("EPSG:4326", Number.NaN, 43)).toBeNull();
    expect(placeOf("EPSG:4326", 1_204_231, 388_116)).toBeNull();
    expect(placeOf("EPSG:32615", 1e9, 1e9)).toBeNull();
  });

  it.each([
    [undefined, "the system that the columns x and y are in"],
    ["EPSG:2264", "EPSG:4326, 4269, 3857, a UTM zone"],
    ["+proj=nothing", "a definition that can be read"],
    ["+proj=tmerc +lat_0=40 +nadgrids=old.gsb", "without a file of shifts"],
  ])("is refused with a reason: %s", (system, expected) => {
    const declared = inSystem(system);
    expect(declared.ok ? "taken" : declared.fault.expected).toContain(expected);
  });
});

import { describe, expect, it } from "vitest";
import { EXIT } from "../../src/commands/command-io.ts";
import type { SizeOptionKey, SizeOptions } from "../../src/commands/size-options.ts";
import { at, numberAt, runSize, sizeJson, whole } from "./size-run.ts";

describe("options", () => {
  it.each([
    [
      { cover: "3" },
      '--cover: found "3", expected a number with its unit, such as "4 ft" or "4 m". Write "3 ft"',
    ],
    [{ soilModulus: "500" }, '--soil-modulus: found 500, expected a number with its unit, such as "4 psi"'],
    [{ system: "felt" }, '--system: found felt, expected one of "felt, polyester", "felt, vinyl ester"'],
    [
      { wheel: "H-9" },
      '--wheel: found H-9, expected one of "H-10", "H-15", "H-20", "HS-20", "HS-25", "rail"',
    ],
    [{ design: "x" }, '--design: found x, expected one of "HS-20, water at surface"'],
    [
      { use: "main" },
      '--use: found "main", expected one of "full-length", "section", "connection", "one-piece"',
    ],
    [{ surface: "lawn" }, '--surface: found "lawn", expected one of "street", "alley"'],
    [{ edition: "2016" }, '--edition: found 2016, expected one of "2007b and later", "before 2007b"'],
    [{ cure: "light" }, '--cure: found light, expected one of "hot water", "steam"'],
    [
      { deterioration: "partially" },
      '--deterioration: found partially, expected "fully", or --deterioration-by',
    ],
    [{ safetyFactor: "two" }, "--safety-factor: found two, expected a number"],
    [{ safetyFactor: "0.5" }, "--safety-factor: found 0.5, expected at least 1"],
    [{ bends: "1.5" }, '--bends: found "1.5", expected a whole number from 0 to 50'],
    [{ slope: "200 %" }, '--slope: found "200 %", expected 0.0 % to 100.0 %'],
    [{ mix: "4 : 1" }, '--mix: found "4 : 1", expected a ratio with its basis'],
    [{ use: "connection" }, "--use connection: needs the diameter of the main"],
    [{ use: "one-piece", length: "40 ft" }, "--use one-piece: needs the diameter of the main"],
    [{ use: "one-piece", main: "8 in" }, "--use one-piece: needs the length of the host"],
    [
      { use: "one-piece", main: "8 in", length: "40 ft", system: "felt, epoxy" },
      '--system: found felt, epoxy, expected one of "one-piece, felt, polyester"',
    ],
    [{ startTemperature: "50 °F" }, "--start-temperature: needs --cure beside it"],
    [{ measuredAt: "50 °C" }, "--measured-at: needs --long-term-modulus and --long-term-strength beside it"],
    [{ liveLoad: "5 psi", liveLoadMethod: "spread" }, "--live-load: found beside --live-load-method"],
    [{ liveLoad: "5 psi", surface: "yard" }, "--live-load: a yard carries no wheel"],
    [
      { liveLoadMethod: "stated" },
      "--live-load-method: found stated, expected a method that needs nothing more",
    ],
    [{ soil: "clean coarse" }, "--soil-compaction: found"],
    [{ stockedWalls: "3 mm, 2 mm" }, "--stocked-walls: found"],
    [{ host: "wide" }, '--host: found "wide", expected a number, or a number with its unit'],
  ] as const)("%j is refused by name, with what may stand there", (options, message) => {
    const { code, out, err } = runSize({ host: "4 in", ...options });
    expect([code, out]).toEqual([EXIT.notDone, ""]);
    expect(err).toContain(message);
    expect(err).not.toMatch(/design_changes|criteria/);
  });

  it("say everything that is wrong at once", () => {
    const { err } = runSize({ host: "4 in", cover: "3", bends: "many", edition: "x" });
    expect(err.trim().split("\n")).toHaveLength(3);
  });

  it("read a bare host in the units of the sheet", () => {
    expect(numberAt(sizeJson({ host: "4" }), "inputs", "host_diameter_mm", "value")).toBeCloseTo(101.6, 9);
    expect(numberAt(sizeJson({ host: "100", units: "si" }), "inputs", "host_diameter_mm", "value")).toBe(100);
  });

  it("take an ovality of 0 as typed, not as the floor under it", () => {
    const json = sizeJson({ host: "4 in", ovality: "0 %" });
    expect(at(json, "inputs", "ovality")).toEqual({ value: 0, origin: "decided", because: "--ovality" });
    expect(numberAt(json, "rings", 0, "loads", "ovality_reduction")).toBe(1);
  });

  it("are the source of what they change, in the JSON as on the sheet: there is no program.json", () => {
    const { out } = runSize({ host: "6 in", safetyFactor: "2.5", json: true });
    expect(at(JSON.parse(out), "criteria", "source")).toMatch(/^This command line\. Changes safety_factor/);
    expect(out).not.toContain("program.json");
  });

  /** A value of each option that must change the sheet, with what else it takes; null where one table has one choice. */
  const telling: Readonly<Record<SizeOptionKey, (Partial<SizeOptions> & { value: string }) | null>> = {
    use: { value: "section" },
    host: { value: "6 in" },
    cover: { value: "9 ft" },
    coverHouse: { value: "5 ft" },
    coverMain: { value: "10 ft" },
    water: { value: "5 ft" },
    ovality: { value: "3 %" },
    surface: { value: "yard" },
    length: { value: "50 ft" },
    material: { value: "PVC" },
    hostCondition: { value: "sound" },
    bends: { value: "3" },
    sharpestBend: { value: "60" },
    sizeChange: { value: "30 %" },
    slope: { value: "3 %" },
    fixtureUnits: { value: "30" },
    effluent: { value: "caustic" },
    effluentTemperature: { value: "80 °F" },
    main: { value: "10 in", use: "connection" },
    design: { value: "H-20, thicker minimum" },
    deterioration: { value: "partially", deteriorationBy: "R. Ames, engineer" },
    deteriorationBy: { value: "the specification" },
    edition: { value: "before 2007b" },
    strengthBasis: { value: "short term" },
    safetyFactor: { value: "1.8" },
    enhancement: { value: "6" },
    poisson: { value: "0.25" },
    soil: { value: "clean coarse", soilCompaction: "slight" },
    soilCompaction: { value: "high", soil: "clean coarse" },
    soilModulus: { value: "700 psi" },
    soilWeight: { value: "130 pcf" },
    minimumWall: { value: "5 mm" },
    liveLoadMethod: { value: "spread" },
    wheel: { value: "HS-25" },
    impact: { value: "constant 1.5" },
    depthTable: null,
    spreadSoil: { value: "select-granular", liveLoadMethod: "spread" },
    liveLoadReduction: { value: "0.9" },
    liveLoad: { value: "2 psi" },
    liveLoadBy: { value: "R. Ames, engineer", liveLoad: "2 psi" },
    system: { value: "felt, vinyl ester", cure: "steam" },
    resin: { value: "vinyl ester", cure: "steam" },
    modulus: { value: "400000 psi" },
    strength: { value: "6000 psi" },
    modulusRetention: { value: "40 %" },
    strengthRetention: { value: "40 %" },
    longTermModulus: {
      value: "700 MPa",
      longTermStrength: "12 MPa",
      measuredAt: "50 °C",
      effluentTemperature: "45 °C",
    },
    longTermStrength: {
      value: "9 MPa",
      longTermModulus: "600 MPa",
      measuredAt: "50 °C",
      effluentTemperature: "45 °C",
    },
    measuredAt: {
      value: "50 °C",
      longTermModulus: "600 MPa",
      longTermStrength: "12 MPa",
      effluentTemperature: "45 °C",
    },
    stockedWalls: { value: "4 mm, 5 mm" },
    voids: { value: "85 %" },
    fibreFraction: {
      value: "60 %",
      system: "glass, epoxy",
      modulusRetention: "50 %",
      strengthRetention: "50 %",
    },
    excess: { value: "5 %" },
    mainPart: { value: "brim", use: "connection", main: "8 in", placing: "launched from the main" },
    mainEachSide: { value: "20 in", use: "connection", main: "8 in", placing: "launched from the main" },
    brimWidth: {
      value: "1.5 in",
      use: "connection",
      main: "8 in",
      mainPart: "brim",
      placing: "launched from the main",
    },
    lengthUpLateral: { value: "3 ft", use: "connection", main: "8 in", placing: "launched from the main" },
    junction: {
      value: "tee",
      use: "connection",
      main: "8 in",
      junctionAngle: "90",
      placing: "launched from the main",
    },
    junctionAngle: {
      value: "60",
      use: "connection",
      main: "8 in",
      junction: "wye",
      placing: "launched from the main",
    },
    cure: { value: "steam" },
    startTemperature: { value: "50 °F", cure: "ambient" },
    placing: { value: "inverted" },
    friction: { value: "0.4" },
    ropeFriction: { value: "0.7" },
    winchLimit: { value: "10 lbf" },
    tubeLimit: { value: "10 lbf" },
    hostPressure: { value: "8 psi" },
    bladder: { value: "9 psi" },
    building: { value: "open" },
    forecast: { value: "90 °F" },
    mix: { value: "2 : 1 by volume" },
    potLife: { value: "60 min", potLifeAt: "77 °F" },
    potLifeAt: { value: "60 °F", potLife: "30 min" },
    resinPerLength: { value: "0.8 lb/ft" },
    hostN: { value: "0.02" },
    designFlow: { value: "30 gpm" },
    selfCleansing: { value: "3 ft/s" },
    minimumSlopes: { value: "1/4 for all" },
    units: { value: "si" },
  };
  const known = Object.entries(telling).filter(([, sample]) => sample !== null) as [
    SizeOptionKey,
    Partial<SizeOptions> & { value: string },
  ][];

  it.each(known)("--%s is never ignored", (key, { value, ...beside }) => {
    const base: SizeOptions = { ...whole, ...beside };
    if (key === "designFlow") delete (base as { fixtureUnits?: string }).fixtureUnits;
    const before = runSize({
      ...whole,
      ...Object.fromEntries(Object.entries(base).filter(([of]) => of !== key)),
    });
    const after = runSize({ ...base, [key]: value });
    expect(after.err).toBe("");
    expect(after.out).not.toBe(before.out);
  });
});

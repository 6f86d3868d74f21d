import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Groundwater, groundwaterHeads } from "../../src/engineering/groundwater.ts";
import { designWall } from "../../src/engineering/liner-wall.ts";
import type { ImpactTable, LiveLoadMethod } from "../../src/engineering/surface-load.ts";
import { findWorstCover, type SlopingLateral, type WorstCover } from "../../src/engineering/worst-cover.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import {
  boussinesq,
  depthTable,
  feet,
  handbookCriteria,
  handbookMaterial,
  modulusPsi,
  noLiveLoad,
  pcf,
  percent,
  spread,
  stated,
  wheel,
} from "./us-inputs.ts";

const lateral: SlopingLateral = {
  deterioration: "fully",
  hostDiameter: millimetres(150),
  ovality: percent(2),
  coverAtHouse: feet(2),
  coverAtMain: feet(8),
  groundwater: { kind: "none" },
  soilUnitWeight: pcf(120),
  soilModulus: modulusPsi(200),
  liveLoad: boussinesq(),
  material: handbookMaterial,
  criteria: { ...handbookCriteria, strengthBasis: "long term" },
};

const byDepth: LiveLoadMethod = { kind: "depth table", table: depthTable };
const tableAt = (depth: number): Groundwater => ({ kind: "table", depthBelowSurface: metres(depth) });

function worst(input: SlopingLateral): WorstCover {
  const result = findWorstCover(input);
  if (result.kind === "refused") throw new Error(`refused: ${JSON.stringify(result)}`);
  return result;
}

function wallAt(input: SlopingLateral, cover: number): number {
  const { coverAtHouse, coverAtMain, groundwater, ...rest } = input;
  const heads = groundwaterHeads(groundwater, metres(cover), input.hostDiameter);
  const result = designWall({
    ...rest,
    cover: metres(cover),
    headOverCrown: heads.overCrown,
    headOverInvert: heads.overInvert,
  });
  if (result.kind === "refused") throw new Error(`refused at ${cover}: ${JSON.stringify(result)}`);
  return result.wall;
}

/** The thickest wall by trying thousands of covers, and both sides of every whole foot, where the tables step. */
function bruteForce(input: SlopingLateral, points = 1000): number {
  const low = Math.min(input.coverAtHouse, input.coverAtMain);
  const high = Math.max(input.coverAtHouse, input.coverAtMain);
  let thickest = 0;
  for (let i = 0; i <= points; i++) {
    thickest = Math.max(thickest, wallAt(input, Math.min(high, low + ((high - low) * i) / points)));
  }
  for (let foot = 0; foot <= 40; foot++) {
    for (const cover of [foot * 0.3048 - 1e-6, foot * 0.3048, foot * 0.3048 + 1e-6]) {
      if (cover >= low && cover <= high) thickest = Math.max(thickest, wallAt(input, cover));
    }
  }
  return thickest;
}

describe("where a sloping lateral is worst", () => {
  it("is the deep end without traffic, found by one design", () => {
    const result = worst({ ...lateral, liveLoad: noLiveLoad });
    expect(result.cover).toBe(lateral.coverAtMain);
    expect(result.at).toBe(1);
    expect(result.evaluations).toBe(1);
  });

  it("is the shallow end under a wheel when the deep end is not deep enough to outweigh it", () => {
    const result = worst({ ...lateral, coverAtHouse: feet(1.5), coverAtMain: feet(5) });
    expect(result.cover).toBe(feet(1.5));
    expect(result.at).toBe(0);
  });

  it("is inside where the depth table drops to nothing: at 8 ft of a run from 7 to 8.5 ft", () => {
    // The table (from memory) ends at 100 psf under 8 ft; q_t there is 1060 psf, against 1015 at 7 ft and 1020 at 8.5.
    const result = worst({ ...lateral, liveLoad: byDepth, coverAtHouse: feet(7), coverAtMain: feet(8.5) });
    expect(result.cover).toBeCloseTo(feet(8), 5);
    expect(result.at).toBeCloseTo(2 / 3, 5);
    expect(result.design.wall).toBeGreaterThan(wallAt(lateral, feet(7)));
    expect(result.design.wall).toBeGreaterThan(wallAt({ ...lateral, liveLoad: noLiveLoad }, feet(8.5)));
  });

  it("is inside, a micrometre above a step, where an impact factor falls in deep ground", () => {
    // Invented table: impact 3 above 3.6 m, 1 below it. Soil governs there, so the load grows up to the step and drops.
    const invented: ImpactTable = {
      name: "invented",
      steps: [
        { from: metres(0), factor: 3 },
        { from: metres(3.6), factor: 1 },
      ],
    };
    const method: LiveLoadMethod = {
      kind: "boussinesq",
      wheel: wheel("H-20"),
      impact: invented,
      loadedLength: feet(3),
    };
    const result = worst({ ...lateral, liveLoad: method, coverAtHouse: metres(3), coverAtMain: metres(3.8) });
    expect(result.cover).toBeLessThan(3.6);
    expect(result.cover).toBeGreaterThan(3.6 - 1.1e-6);
    // Heard at the step's shallow side, not crept up to: two stretches of seven loads, two designs.
    expect(result.evaluations).toBeLessThanOrEqual(2 * 7 + 2);
  });

  it("is inside a smooth stretch under a large stated load, and the golden section finds the top", () => {
    // Dry, w 18.85 kN/m³, load c: d/dH of 2·ln(c + w·H) + ln(1 + 4·e^(−aH)) is zero at the top, a = 0.065 per foot.
    const load = 215;
    const w = pcf(120);
    const a = 0.065 / 0.3048;
    const rising = (H: number) =>
      (2 * w) / (load + w * H) - (a * 4 * Math.exp(-a * H)) / (1 + 4 * Math.exp(-a * H));
    let [low, high] = [0.1, 2];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (rising(middle) > 0) low = middle;
      else high = middle;
    }
    const input = { ...lateral, liveLoad: stated(load), coverAtHouse: metres(0.1), coverAtMain: metres(2) };
    const result = worst(input);
    expect(low).toBeGreaterThan(0.3);
    expect(low).toBeLessThan(1.5);
    // The top is flat: a difference of 1e-12 in the load is 1e-5 m or so in the place.
    expect(result.cover).toBeCloseTo(low, 3);
    expect(result.design.wall).toBeGreaterThan(wallAt(input, 0.1));
    expect(result.design.wall).toBeGreaterThan(wallAt(input, 2));
    // Two designs, the shallow end, five samples more and the golden section's 26.
    expect(result.evaluations).toBe(2 + 1 + 5 + 26);
  });

  it("depends on the run, not on its direction", () => {
    const there = worst({ ...lateral, liveLoad: byDepth, coverAtHouse: feet(7), coverAtMain: feet(8.5) });
    const back = worst({ ...lateral, liveLoad: byDepth, coverAtHouse: feet(8.5), coverAtMain: feet(7) });
    expect(back.design.wall).toBe(there.design.wall);
    expect(back.cover).toBe(there.cover);
    expect(back.at).toBeCloseTo(1 - there.at, 12);
  });

  it("is anywhere on a level run, given as the house end, by one design", () => {
    const level = worst({ ...lateral, coverAtHouse: feet(4), coverAtMain: feet(4) });
    expect([level.at, level.evaluations]).toEqual([0, 1]);
  });

  it("is the deep end of a pipe that still carries its soil, whatever the traffic", () => {
    const result = worst({ ...lateral, deterioration: "partially", groundwater: tableAt(1) });
    expect([result.cover, result.evaluations]).toEqual([lateral.coverAtMain, 1]);
  });

  it("is searched where water stands on the surface, though there is no traffic", () => {
    // 30 m of standing water: the load hardly changes with cover, soil support does, so the shallow end is worst.
    const flooded = {
      ...lateral,
      liveLoad: noLiveLoad,
      groundwater: tableAt(-30),
      soilModulus: modulusPsi(200),
    };
    const result = worst(flooded);
    expect(result.design.wall).toBeGreaterThanOrEqual(bruteForce(flooded) * (1 - 1e-9));
    expect(result.cover).toBe(flooded.coverAtHouse);
  });
});

describe("the search", () => {
  const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const method = fc.constantFrom<LiveLoadMethod>(
    noLiveLoad,
    stated(15),
    stated(150),
    stated(215),
    byDepth,
    boussinesq(),
    boussinesq("highway, 1.5 falling to 1.0"),
    boussinesq("pipe handbook, 1.3 falling to 1.0"),
    { kind: "spread", wheel: wheel("HS-25"), spread: spread("other") },
    { kind: "spread", wheel: wheel("H-20"), spread: spread("select-granular") },
  );
  const water = fc.oneof(
    fc.constant<Groundwater>({ kind: "none" }),
    number(-2, 6).map((depth) => tableAt(depth)),
  );
  const run = fc
    .record({
      liveLoad: method,
      groundwater: water,
      house: number(0.31, 6),
      main: number(0.31, 9),
      older: fc.boolean(),
    })
    .map(
      ({ liveLoad, groundwater, house, main, older }): SlopingLateral => ({
        ...lateral,
        liveLoad,
        groundwater,
        coverAtHouse: metres(house),
        coverAtMain: metres(main),
        criteria: { ...lateral.criteria, edition: older ? "before 2007b" : "2007b and later" },
      }),
    );

  it("finds at least the wall that thousands of trial covers find, and no more than one of them needs", () => {
    fc.assert(
      fc.property(run, (input) => {
        const result = worst(input);
        const thickest = bruteForce(input);
        // Below a step the search stops a micrometre short, as the trial covers do: the rest is rounding.
        expect(result.design.wall / thickest).toBeGreaterThan(1 - 1e-9);
        expect(result.design.wall).toBeCloseTo(wallAt(input, result.cover), 12);
        expect(result.cover).toBeGreaterThanOrEqual(Math.min(input.coverAtHouse, input.coverAtMain));
        expect(result.cover).toBeLessThanOrEqual(Math.max(input.coverAtHouse, input.coverAtMain));
      }),
      { numRuns: 200 },
    );
  });

  it("is not misled where the load bends at the water table beside a flat top", () => {
    const close = fc.record({
      load: number(200, 224),
      depth: number(0.2, 1.6),
      house: number(0.1, 1),
      main: number(0.4, 2),
    });
    fc.assert(
      fc.property(close, ({ load, depth, house, main }) => {
        const input = {
          ...lateral,
          liveLoad: stated(load),
          groundwater: tableAt(depth),
          coverAtHouse: metres(house),
          coverAtMain: metres(main),
        };
        expect(worst(input).design.wall / bruteForce(input, 400)).toBeGreaterThan(1 - 1e-9);
      }),
    );
  });

  it("names the place by a part of the run that leads back to the cover", () => {
    fc.assert(
      fc.property(run, (input) => {
        const { at, cover } = worst(input);
        expect(input.coverAtHouse + at * (input.coverAtMain - input.coverAtHouse)).toBeCloseTo(cover, 9);
      }),
    );
  });

  it("stays cheap: a dozen loads for an ordinary lateral, tens for a table with many steps", () => {
    // 2 to 8 ft, one wheel, no steps: two designs at most, six samples, a look inwards.
    expect(worst(lateral).evaluations).toBeLessThanOrEqual(9);
    fc.assert(
      fc.property(run, (input) => {
        // Stretches: at most 8 rows of the depth table, plus one; each 7 or, refined, 33.
        expect(worst(input).evaluations).toBeLessThanOrEqual(2 + 9 * 33);
      }),
    );
  });
});

describe("a sloping lateral is refused", () => {
  it("when one end has no cover", () => {
    const result = findWorstCover({ ...lateral, coverAtHouse: metres(0) });
    expect(result).toEqual({ kind: "refused", because: "no-cover", cover: 0 });
  });

  it("when an end is not a number, whatever the host", () => {
    for (const deterioration of ["partially", "fully"] as const) {
      const result = findWorstCover({ ...lateral, deterioration, coverAtMain: metres(Number.NaN) });
      expect(result).toMatchObject({ kind: "refused", because: "no-cover" });
    }
  });

  it("when the live-load table says nothing about the shallow end", () => {
    const result = findWorstCover({ ...lateral, liveLoad: byDepth, coverAtHouse: feet(0.5) });
    expect(result).toMatchObject({ kind: "refused", because: "live-load-undefined", cover: feet(0.5) });
  });

  it("when the wall design refuses the pipe itself", () => {
    const result = findWorstCover({ ...lateral, ovality: percent(12) });
    expect(result).toMatchObject({ kind: "refused", because: "ovality-outside" });
  });
});

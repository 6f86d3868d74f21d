import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SizeOptions } from "../../src/commands/size-options.ts";
import { sizeJson } from "./size-run.ts";

describe("unit systems", () => {
  const amount = (least: number, most: number) =>
    fc.double({ min: least, max: most, noNaN: true }).map((n) => Number(n.toFixed(6)));
  const pipe = fc.record({
    host: amount(3, 8.9),
    coverHouse: amount(1.2, 8),
    coverMain: amount(4, 14),
    water: amount(0, 12),
    ovality: amount(0, 10),
    soilModulus: amount(200, 3000),
    soilWeight: amount(90, 140),
    modulus: amount(200_000, 600_000),
    strength: amount(3000, 9000),
    minimumWall: amount(2, 5),
    length: amount(5, 140),
    slope: amount(0.5, 8),
    winchLimit: amount(200, 4000),
    forecast: amount(40, 90),
    designFlow: amount(2, 12),
    liveLoadMethod: fc.constantFrom("boussinesq", "spread", "stated"),
    liveLoad: amount(0, 5),
    use: fc.constantFrom("full-length", "section", "connection", "one-piece"),
  });
  type Pipe = typeof pipe extends fc.Arbitrary<infer T> ? T : never;

  /** In the units of one system; the other's are these by exact factors. */
  const written = (p: Pipe, us: boolean): SizeOptions => {
    const text = (value: number, usUnit: string, siUnit: string, factor: number) =>
      us ? `${value} ${usUnit}` : `${(value * factor).toFixed(15)} ${siUnit}`;
    const feet = (value: number) => text(value, "ft", "m", 0.3048);
    const psi = 6.894757293168361e-3;
    return {
      // Asked for: else what is said is in the units of what was typed.
      units: "us",
      host: text(p.host, "in", "mm", 25.4),
      coverHouse: feet(p.coverHouse),
      coverMain: feet(p.coverMain),
      water: feet(p.water),
      ovality: `${p.ovality} %`,
      soilModulus: text(p.soilModulus, "psi", "MPa", psi),
      soilWeight: text(p.soilWeight, "pcf", "kN/m3", 0.157087463846246),
      modulus: text(p.modulus, "psi", "MPa", psi),
      strength: text(p.strength, "psi", "MPa", psi),
      minimumWall: text(p.minimumWall / 25.4, "in", "mm", 25.4),
      length: feet(p.length),
      slope: `${p.slope} %`,
      winchLimit: text(p.winchLimit, "lbf", "N", 4.4482216152605),
      forecast: us ? `${p.forecast} °F` : `${(((p.forecast - 32) * 5) / 9).toFixed(15)} °C`,
      designFlow: text(p.designFlow, "gpm", "L/s", 3.785411784 / 60),
      material: "concrete",
      system: p.use === "one-piece" ? "one-piece, felt, polyester" : "felt, epoxy",
      use: p.use,
      main: text(18, "in", "mm", 25.4),
      placing:
        p.use === "connection" || p.use === "one-piece" ? "launched from the main" : "pulled in and inflated",
      // One way of saying the load at a time: the other would be refused as ignored.
      ...(p.liveLoadMethod === "stated"
        ? { liveLoad: text(p.liveLoad, "psi", "kPa", psi * 1000) }
        : { liveLoadMethod: p.liveLoadMethod }),
    };
  };

  const leaves = (value: unknown, path = ""): [string, unknown][] =>
    typeof value === "object" && value !== null
      ? Object.entries(value).flatMap(([key, inner]) =>
          key === "worked" ? [] : leaves(inner, `${path}.${key}`),
        )
      : [[path, value]];

  it("give the same unrounded values for the same pipe, to a part in a billion", () => {
    let numbers = 0;
    let stocked = 0;
    fc.assert(
      fc.property(pipe, (p) => {
        // No two sizes or covers stand on a step of a table, where a last bit would decide.
        const [us, si] = [true, false].map((isUs) => leaves(sizeJson(written(p, isUs)))) as [
          [string, unknown][],
          [string, unknown][],
        ];
        expect(si.map(([path]) => path)).toEqual(us.map(([path]) => path));
        us.forEach(([path, value], i) => {
          const other = si[i]![1];
          if (typeof value !== "number") expect(other, path).toBe(value);
          else {
            numbers++;
            expect(Math.abs((other as number) - value), path).toBeLessThanOrEqual(
              1e-9 * Math.abs(value) + 1e-12,
            );
          }
        });
        if (us.some(([path, value]) => path.endsWith("stocked_mm") && value !== null)) stocked++;
      }),
      { numRuns: 60, seed: 4 },
    );
    expect(numbers).toBeGreaterThan(3000);
    expect(stocked).toBeGreaterThan(20);
  });
});

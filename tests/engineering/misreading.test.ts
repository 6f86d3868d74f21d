import fc from "fast-check";
import { describe, expect, it } from "vitest";
import modes from "../../shared/failure-modes.json" with { type: "json" };
import { poorBehindSeen, trulyPoor } from "../../src/engineering/misreading.ts";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { fraction } from "../../src/quantity/si.ts";

// doi 10.1080/15732479.2017.1356858: 80 % of poor pipes found, 20 % missed, 15 % called poor falsely.
const reading = { poorFound: fraction(0.8), falsePoor: fraction(0.15), poorFrom: 4 };

describe("a misread survey", () => {
  it("stands in the shipped table as published, found and missed adding up", () => {
    expect(modes.reading).toMatchObject({ poorFound: 0.8, missed: 0.2, falsePoor: 0.15 });
    expect(modes.reading.poorFound + modes.reading.missed).toBe(1);
  });

  it("of 1000 pipes, 200 poor: of 280 seen poor 160 are, of 720 others 40 are", () => {
    // Hand calculation: seen poor 0.8 × 200 + 0.15 × 800 = 160 + 120; seen not poor 0.2 × 200 + 0.85 × 800 = 40 + 680.
    expect(trulyPoor(true, fraction(0.2), reading)).toBeCloseTo(160 / 280, 12);
    expect(trulyPoor(false, fraction(0.2), reading)).toBeCloseTo(40 / 720, 12);
    expect(poorBehindSeen(fraction(0.28), reading)).toBeCloseTo(0.2, 12);
  });

  it("is what counting simulated surveys gives", () => {
    const stream = new RandomStream(11);
    let seenPoor = 0;
    let both = 0;
    for (let i = 0; i < 100_000; i++) {
      const poor = stream.chance(0.3);
      if (!stream.chance(poor ? 0.8 : 0.15)) continue;
      seenPoor++;
      if (poor) both++;
    }
    // Standard error √(0.7 × 0.3/34 500) = 0.0025; three of them.
    expect(Math.abs(both / seenPoor - trulyPoor(true, fraction(0.3), reading))).toBeLessThan(0.0075);
  });

  it("leaves sure cohorts as they are and keeps shares within 0 and 1", () => {
    expect(trulyPoor(true, fraction(0), reading)).toBe(0);
    expect(trulyPoor(false, fraction(1), reading)).toBe(1);
    const sure = { ...reading, poorFound: fraction(1), falsePoor: fraction(0) };
    expect(trulyPoor(true, fraction(0), sure)).toBe(0);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        const seen = trulyPoor(true, fraction(share), reading);
        const unseen = trulyPoor(false, fraction(share), reading);
        expect(seen).toBeGreaterThanOrEqual(share - 1e-15);
        expect(unseen).toBeLessThanOrEqual(share + 1e-15);
        const behind = poorBehindSeen(fraction(share), reading);
        expect(behind).toBeGreaterThanOrEqual(0);
        expect(behind).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("refuses a survey that says nothing", () => {
    expect(() => trulyPoor(true, fraction(0.5), { ...reading, poorFound: fraction(0.15) })).toThrow(
      "0.15, 0.15",
    );
    expect(() => poorBehindSeen(fraction(1.2), reading)).toThrow("1.2");
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { minutes } from "../../src/quantity/si.ts";
import { packVisits } from "../../src/season/day-packing.ts";
import { fewestBins } from "../oracle/fewest-bins.ts";

const visitsOf = (wholes: readonly number[], handsOn = (whole: number) => whole) =>
  wholes.map((whole, row) => ({ row, whole: minutes(whole), handsOn: minutes(handsOn(whole)) }));
const crew = (differs: { sets?: number; travel?: number } = {}) => ({
  shift: minutes(480),
  sets: differs.sets ?? 1,
  travel: minutes(differs.travel ?? 0),
});

describe("packing visits into a crew's days", () => {
  it("fills each shift exactly with triplets (Falkenauer, 1996): as many days as were built", () => {
    const stream = new RandomStream(7);
    const whole = (from: number, to: number) => Math.floor(stream.between(from, to + 1));
    const wholes = Array.from({ length: 25 }, () => {
      const first = whole(182, 240);
      const second = whole(120, Math.floor((480 - first) / 2));
      return [first, second, 480 - first - second];
    })
      .flat()
      .map((size) => [stream.next(), size] as const)
      .sort(([a], [b]) => a - b)
      .map(([, size]) => size);
    const { crewDays, lowerBound, exact, visitMinutes } = packVisits(visitsOf(wholes), crew());
    expect([crewDays, lowerBound, exact]).toEqual([25, 25, true]);
    expect(visitMinutes).toBe(25 * 480);
  });

  it("is what every way tried gives, on few visits, with the travel between them", () => {
    const some = fc.array(fc.integer({ min: 30, max: 480 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(some, fc.nat(30), (wholes, travel) => {
        const { days, crewDays } = packVisits(visitsOf(wholes), crew({ travel }));
        expect(crewDays).toBe(
          fewestBins(
            wholes.map((whole) => whole + travel),
            480 + travel,
          ),
        );
        expect(days.flatMap(({ rows }) => rows).sort((a, b) => a - b)).toEqual(wholes.map((_, i) => i));
        for (const { rows } of days)
          expect(
            rows.reduce((sum, row) => sum + wholes[row]!, 0) + travel * (rows.length - 1),
          ).toBeLessThanOrEqual(480);
      }),
      { numRuns: 200 },
    );
  });

  it("gives a visit longer than a shift whole days of its own", () => {
    const { days, crewDays, longVisits } = packVisits(visitsOf([700, 100, 961]), crew());
    // ⌈700/480⌉ = 2, ⌈961/480⌉ = 3, and a day for the short one.
    expect(crewDays).toBe(6);
    expect(longVisits).toEqual([0, 2]);
    expect(days.map(({ rows, days: takes }) => [rows, takes])).toEqual([
      [[0], 2],
      [[2], 3],
      [[1], 1],
    ]);
  });

  it("lets a second inflation set put more visits into a day", () => {
    // Four visits of 240 min, 100 of them hands-on. One set: two a day. Two sets: pace max(100, 120) = 120, tail 120:
    // 3 × 120 + 120 = 480, three a day.
    const four = visitsOf([240, 240, 240, 240, 240, 240], () => 100);
    expect(packVisits(four, crew()).crewDays).toBe(3);
    expect(packVisits(four, crew({ sets: 2 })).crewDays).toBe(2);
  });
});

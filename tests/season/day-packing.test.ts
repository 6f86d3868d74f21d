import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { minutes } from "../../src/quantity/si.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { leastTravel, type Place, packCrew, packVisits } from "../../src/season/day-packing.ts";
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

describe("the way of a crew through a district", () => {
  const betweenVisits = {
    ...houseSeasonDays.betweenVisits,
    averageMinutes: 12,
    parkMinutes: 3,
    detour: 1.3,
    kilometresPerHour: 30,
  };
  const four = visitsOf([100, 100, 100, 100]);
  const rectangle: readonly Place[] = [
    [0, 0],
    [3, 4],
    [3, 0],
    [0, 4],
  ];
  const packed = (places: readonly Place[], coordinateMetres: number | null) =>
    packCrew("lining", four, places, { shift: minutes(480), sets: 1, betweenVisits, coordinateMetres });

  it("takes the mean leg of its tour at the speed in town, with parking, in whole minutes up", () => {
    // Round a rectangle of 3 by 4 km are 14 km: 3.5 km a leg, with 1.3 detours at 30 km/h 9.1 min, and 3 to park: 13.
    const { travel, byCoordinates, days } = packed(rectangle, 1000);
    expect([travel, byCoordinates]).toEqual([13, true]);
    // 4 × 100 + 3 × 13 are within 480. Neighbours follow each other: no two across the rectangle.
    expect(days).toHaveLength(1);
    const { rows } = days[0]!;
    expect(Math.abs(rows.indexOf(0) - rows.indexOf(1))).toBe(2);
    // In feet: 3.5 ft are nothing to speak of.
    expect(packed(rectangle, 0.3048).travel).toBe(4);
  });

  it("takes the average where the unit of the coordinates, or those of one lateral, are not known", () => {
    expect(packed(rectangle, null).travel).toBe(12);
    const unplaced: readonly Place[] = [...rectangle.slice(0, 3), [Number.NaN, 4]];
    expect(packed(unplaced, 1000)).toMatchObject({ travel: 12, byCoordinates: false });
    expect(packed(unplaced, 1000).days.flatMap(({ rows }) => rows)).toEqual([0, 1, 2, 3]);
  });

  it("is not looked for again where it is known of about the same visits", () => {
    const given = { shift: minutes(480), sets: 1, betweenVisits, coordinateMetres: 1000 };
    const known = { travel: minutes(20), byCoordinates: true };
    expect(packCrew("lining", four, rectangle, { ...given, known })).toMatchObject(known);
  });

  it("never takes less than parking, or than the average where that is all there is", () => {
    expect(leastTravel({ betweenVisits, coordinateMetres: 1000 })).toBe(3);
    expect(leastTravel({ betweenVisits, coordinateMetres: null })).toBe(12);
    // A lateral without coordinates brings the average into any district.
    const short = { ...betweenVisits, averageMinutes: 2 };
    expect(leastTravel({ betweenVisits: short, coordinateMetres: 1000 })).toBe(2);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { paceOf, tailOf, type VisitTime } from "../../src/engineering/crew-cycle.ts";
import { minutes } from "../../src/quantity/si.ts";
import { type SimulatedVisit, simulateCrew } from "../oracle/crew-simulation.ts";

const visits = fc.record({
  before: fc.integer({ min: 1, max: 120 }),
  wait: fc.nat(240),
  after: fc.integer({ min: 1, max: 90 }),
});
const timeOf = ({ before, wait, after }: SimulatedVisit): VisitTime => ({
  whole: minutes(before + wait + after),
  handsOn: minutes(before + after),
});
const sets = fc.integer({ min: 1, max: 4 });

describe("the pace of a crew with several inflation sets", () => {
  it("is the whole visit with one set, half of a long one with two, hands-on at the fastest", () => {
    const visit = { whole: minutes(200), handsOn: minutes(80) };
    expect([1, 2, 3, 9].map((k) => paceOf(visit, k))).toEqual([200, 100, 80, 80]);
    expect([1, 2, 3].map((k) => tailOf(visit, k))).toEqual([0, 100, 120]);
  });

  /** The simulated crew may open a visit just before a cure ends, which then waits for it: one hands-on piece at the most. */
  const promisedEnd = (times: readonly VisitTime[], k: number): number =>
    times.reduce((sum, time) => sum + paceOf(time, k), 0) + Math.max(...times.map((time) => tailOf(time, k)));

  it("is what a simulated crew settles to with equal visits: never faster, and as fast but for one hands-on", () => {
    fc.assert(
      fc.property(visits, sets, fc.integer({ min: 1, max: 30 }), (visit, k, n) => {
        const times = new Array(n).fill(timeOf(visit)) as VisitTime[];
        const { whole, handsOn } = timeOf(visit);
        const simulated = simulateCrew(new Array(n).fill(visit), k);
        expect(simulated).toBeGreaterThanOrEqual(
          Math.max(n * handsOn, Math.ceil(n / k) === n / k ? (n * whole) / k : 0),
        );
        expect(simulated).toBeLessThanOrEqual(promisedEnd(times, k) + handsOn);
      }),
      { numRuns: 1000 },
    );
  });

  const days = fc.tuple(fc.array(visits, { minLength: 1, maxLength: 10 }), sets);
  /** How many of its longest hands-on times the simulated crew ends a day after the promise. */
  const lateBy = ([day, k]: readonly [readonly SimulatedVisit[], number]): number => {
    const times = day.map(timeOf);
    const late = simulateCrew(day, k) - promisedEnd(times, k);
    return late / Math.max(...times.map(({ handsOn }) => handsOn));
  };

  it("with one set promises a day of unequal visits to the minute", () => {
    fc.assert(
      fc.property(days, ([day]) => {
        expect(lateBy([day, 1])).toBeLessThanOrEqual(0);
      }),
    );
  });

  // The simulated crew closes what is ready first, which is not always best: of a million days 8 ended later than by one hands-on time,
  // the latest by 1.29. Two is no theorem, but far from all that was seen.
  it("promises a day of unequal visits that a simulated crew ends but for the longest hands-on, and hardly ever later", () => {
    const late = fc.sample(days, { numRuns: 20_000, seed: 1 }).filter((day) => lateBy(day) > 1);
    expect(late.length).toBeLessThanOrEqual(2);
    fc.assert(
      fc.property(days, (day) => {
        expect(lateBy(day)).toBeLessThanOrEqual(2);
      }),
      { numRuns: 2000 },
    );
  });

  it("is refused without a whole set", () => {
    expect(() => paceOf({ whole: minutes(10), handsOn: minutes(5) }, 0)).toThrow("0 sets");
  });
});

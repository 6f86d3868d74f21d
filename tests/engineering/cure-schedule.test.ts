import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareCure, isCoolEnough, scheduleCure } from "../../src/engineering/cure-schedule.ts";
import { celsius, minutes } from "../../src/quantity/si.ts";
import { watchCure } from "../oracle/cure-clock.ts";

const fahrenheit = (f: number) => celsius(((f - 32) * 5) / 9);
const hours = (h: number) => minutes(60 * h);

// City of South Bend IN, public record 383937 p. 55: a water-cured tube of 24–33 mm, no lateral's wall. The start is not printed; 60 °F here.
const thickTube = [
  { kind: "heat", to: fahrenheit(155), pace: { kind: "lasting", time: hours(2) } },
  { kind: "hold", time: hours(4) },
  { kind: "heat", to: fahrenheit(175), pace: { kind: "lasting", time: hours(1) } },
  { kind: "hold", time: hours(8) },
  { kind: "cool", to: fahrenheit(100), pace: { kind: "no faster than", degreesPerHour: (20 * 5) / 9 } },
] as const;

describe("a cure schedule", () => {
  it("of the published thick tube takes 18.75 h", () => {
    // Hand calculation: 2 + 4 + 1 + 8 + (175 − 100)/20.
    const schedule = scheduleCure(fahrenheit(60), thickTube);
    expect(schedule.total / 60).toBeCloseTo(18.75, 9);
    expect(schedule.legs.map(({ time }) => Math.round(time))).toEqual([120, 240, 60, 480, 225]);
    expect(isCoolEnough(schedule, fahrenheit(100))).toBe(true);
    expect(isCoolEnough(schedule, fahrenheit(99))).toBe(false);
  });

  it("of that tube is 25 times a thin lateral liner's under steam: not the same thing", () => {
    // 45 min: common practice, no published source. Hand calculation: 1125/45.
    const quoted = { label: "common practice, no published source", total: minutes(45) };
    expect(compareCure(scheduleCure(fahrenheit(60), thickTube), quoted)).toBeCloseTo(25, 9);
  });

  it("takes as long as a clock watched through it", () => {
    const leg = fc.record({
      to: fc.double({ min: 10, max: 95, noNaN: true }),
      rate: fc.double({ min: 5, max: 60, noNaN: true }),
      hold: fc.integer({ min: 0, max: 120 }),
    });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 4 }), (legs) => {
        let now = 20;
        const steps = legs.flatMap(({ to, rate, hold }) => {
          const kind = to >= now ? ("heat" as const) : ("cool" as const);
          now = to;
          return [
            { kind, to: celsius(to), pace: { kind: "no faster than" as const, degreesPerHour: rate } },
            { kind: "hold" as const, time: minutes(hold) },
          ];
        });
        const watched = watchCure(
          20,
          legs.flatMap(({ to, rate, hold }) => [
            { to, leastMinutes: 0, degreesPerHour: rate },
            { to, leastMinutes: hold, degreesPerHour: Number.POSITIVE_INFINITY },
          ]),
        );
        // Each leg of the clock may run over by one tick of 0.01 min.
        expect(Math.abs(scheduleCure(celsius(20), steps).total - watched)).toBeLessThan(
          0.0101 * legs.length + 1e-6,
        );
      }),
      { numRuns: 30 },
    );
  });

  it("never heats downward, cools upward or waits a negative time", () => {
    const pace = { kind: "lasting", time: minutes(10) } as const;
    expect(() => scheduleCure(celsius(60), [{ kind: "heat", to: celsius(50), pace }])).toThrow(
      "60 °C to 50 °C",
    );
    expect(() => scheduleCure(celsius(60), [{ kind: "cool", to: celsius(70), pace }])).toThrow(RangeError);
    expect(() => scheduleCure(celsius(60), [{ kind: "hold", time: minutes(-1) }])).toThrow("-1");
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateOf, dayFromIso, dayOf, isoDate, yearOf } from "../../src/quantity/calendar.ts";

describe("the calendar", () => {
  it("counts days from 1 January 1970", () => {
    expect(dayOf(1970, 1, 1)).toBe(0);
    expect(dayOf(2000, 2, 29)).toBe(11_016);
    expect(dayFromIso("2026-03-01")).toBe(20_513);
  });

  it("knows no day that does not exist", () => {
    expect(dayOf(2025, 2, 29)).toBeNull();
    expect(dayOf(1900, 2, 29)).toBeNull();
    expect(dayOf(2025, 4, 31)).toBeNull();
    expect(dayOf(2025, 13, 1)).toBeNull();
    expect(dayFromIso("2026-3-1")).toBeNull();
  });

  it("agrees with the machine's own calendar, both ways", () => {
    fc.assert(
      fc.property(fc.integer({ min: -200_000, max: 200_000 }), (value) => {
        const machine = new Date(value * 86_400_000);
        const found = dayOf(machine.getUTCFullYear(), machine.getUTCMonth() + 1, machine.getUTCDate());
        expect(found).toBe(value);
        expect(dateOf(found!)).toEqual({
          year: machine.getUTCFullYear(),
          month: machine.getUTCMonth() + 1,
          dayOfMonth: machine.getUTCDate(),
        });
        expect(yearOf(found!)).toBe(machine.getUTCFullYear());
        if (machine.getUTCFullYear() >= 1000)
          expect(isoDate(found!)).toBe(machine.toISOString().slice(0, 10));
      }),
    );
  });
});

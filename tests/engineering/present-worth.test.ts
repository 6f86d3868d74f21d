import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  annualOfFuture,
  annualOfPresent,
  capitalisedCost,
  equivalentAnnualCost,
  escalate,
  escalateByIndex,
  presentOfAnnual,
  presentOfFuture,
  presentOfStream,
} from "../../src/engineering/present-worth.ts";
import { dayOf } from "../../src/quantity/calendar.ts";
import { fraction } from "../../src/quantity/si.ts";
import { clearingPayment, discountEach, loanAfter, savingsAfter } from "../oracle/ledger.ts";

describe("present worth", () => {
  it("of 10 000 a year for 100 years at 10 % is 99 992.74, and 99 990 by a printed table", () => {
    // Engineering economics lecture notes, example 1. Their table's factor is 9.9990, five figures of 9.99927: 1e-4 relative.
    const exact = 10_000 * presentOfAnnual(fraction(0.1), 100);
    expect(exact).toBeCloseTo(99_992.74, 2);
    expect(Math.abs(99_990 / exact - 1)).toBeLessThan(1e-4);
    expect(capitalisedCost(10_000, fraction(0.1))).toBeCloseTo(100_000, 9);
  });

  it("with A/P .0854 and A/F .0404 is at 4.5 %, over 17 years", () => {
    // Course question: the difference of the two factors is the rate. 17 years follows: ln(.0854/.0404)/ln 1.045 = 17.0.
    expect(annualOfPresent(fraction(0.045), 17)).toBeCloseTo(0.0854, 4);
    expect(annualOfFuture(fraction(0.045), 17)).toBeCloseTo(0.0404, 4);
  });

  // City of Haverhill MA, annual infiltration and inflow report 2011: $24.5 M over 20 years at 2 %, "over $1.4 million per year".
  // The cents, and the other rates, are worked out independently from those inputs.
  it.each([
    [24.5e6, 0.02, 1_498_339.59],
    [24.5e6, 0.04, 1_802_752.88],
    [24.5e6, 0.05, 1_965_943.39],
    [104.2e6, 0.02, 6_372_530.03],
  ])("of a program of %d at %d costs %d a year over 20 years", (program, rate, yearly) => {
    expect(program * annualOfPresent(fraction(rate), 20)).toBeCloseTo(yearly, 2);
  });

  it("of Haverhill's treatment saving is less than its program by far", () => {
    const rate = fraction(0.02);
    expect(95_569 * presentOfAnnual(rate, 20)).toBeCloseTo(1_562_690.13, 2);
    expect((24.5e6 * annualOfPresent(rate, 20)) / 95_569).toBeCloseTo(15.68, 2);
  });

  const rates = fc.double({ min: 0.001, max: 0.3, noNaN: true }).map(fraction);
  const years = fc.integer({ min: 1, max: 60 });

  it("is what a ledger kept year by year gives", () => {
    fc.assert(
      fc.property(rates, years, (i, n) => {
        expect(annualOfPresent(i, n) / clearingPayment(1, i, n)).toBeCloseTo(1, 9);
        expect(annualOfFuture(i, n) * savingsAfter(1, i, n)).toBeCloseTo(1, 9);
        const ones = Array.from({ length: n }, () => 1);
        expect(presentOfAnnual(i, n)).toBeCloseTo(discountEach(ones, i), 9);
        expect(annualOfPresent(i, n) - annualOfFuture(i, n)).toBeCloseTo(i, 9);
      }),
    );
  });

  it("of uneven amounts is each amount discounted on its own", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -1000, max: 1000 }), { maxLength: 40 }), rates, (amounts, i) => {
        expect(presentOfStream(amounts, i)).toBeCloseTo(discountEach(amounts, i), 6);
      }),
    );
  });

  it("at no interest is a plain sum", () => {
    const none = fraction(0);
    expect(presentOfAnnual(none, 20)).toBe(20);
    expect(presentOfFuture(none, 20)).toBe(1);
    expect(annualOfPresent(none, 20)).toBe(0.05);
    // 1e-9 is next to none: the plain form loses six digits here, and must not.
    expect(presentOfAnnual(fraction(1e-9), 20)).toBeCloseTo(20 - 210e-9, 12);
  });

  it("as a yearly cost lets the salvage value come back", () => {
    // 1 000 bought, 200 back after 5 years at 8 %: the ledger must end owing exactly 200.
    const yearly = equivalentAnnualCost(1000, 200, fraction(0.08), 5);
    expect(loanAfter(1000, 0.08, yearly, 5)).toBeCloseTo(200, 9);
  });

  it("refuses a rate of −100 % and a perpetuity without interest", () => {
    expect(() => presentOfFuture(fraction(-1), 3)).toThrow("-1");
    expect(() => presentOfStream([1, 1], fraction(-1))).toThrow("-1");
    expect(() => escalate(1, fraction(-1), 2)).toThrow("-1");
    expect(() => capitalisedCost(1, fraction(0))).toThrow(RangeError);
    expect(() => annualOfPresent(fraction(0.05), 0)).toThrow(RangeError);
  });
});

describe("escalation", () => {
  it("goes by fractional years: $1,250 of March 2018 is $1,398 in June 2021 at 3.5 %", () => {
    // University of California Merced, ENGR 155 exam 2022, answer A, in whole dollars; 3.0 years would give 1 385.90.
    const moved = escalate(1250, fraction(0.035), 3.25);
    expect(moved).toBeCloseTo(1397.87, 2);
    expect(Math.round(moved)).toBe(1398);
    expect(escalate(1250, fraction(0.035), 3)).toBeCloseTo(1385.9, 2);
  });

  it("goes by an index: $150/ft of 2019 is $140.04/ft in January 2017", () => {
    // Twenty-city construction cost index as printed by Morgan Hill CA (2017 plan, 8.2.2) and Eugene OR (2020 plan, Table 5-3).
    const index = "construction cost index, 20 cities";
    const then = { index, on: dayOf(2019, 1, 1)!, value: 11_281 };
    const before = { index, on: dayOf(2017, 1, 1)!, value: 10_532 };
    expect(escalateByIndex(150, then, before)).toBeCloseTo(140.04, 2);
    expect(() => escalateByIndex(150, then, { ...before, index: "building cost index" })).toThrow("building");
    expect(() => escalateByIndex(150, { ...then, value: 0 }, before)).toThrow(RangeError);
  });
});

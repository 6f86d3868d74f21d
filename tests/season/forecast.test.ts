import fc from "fast-check";
import { describe, expect, it } from "vitest";
import deterioration from "../../shared/deterioration.json" with { type: "json" };
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { backlogOf, forecastGrades, type NetworkWear } from "../../src/season/forecast.ts";
import { chainPower } from "../oracle/chain-walk.ts";

const { chains, newStays, yearsPerStep, uselessAfterYears } = deterioration;
const wear: NetworkWear = {
  chain: chains["one grade at a time"].rows,
  newStays: newStays.value,
  yearsPerStep: yearsPerStep.value,
  uselessAfterYears: uselessAfterYears.value,
};
const sum = (numbers: readonly number[]) => numbers.reduce((total, n) => total + n, 0);

describe("a forecast of a network left alone", () => {
  it("of 1000 laterals in grade 1 has after 10 and 50 years what the published chain gives", () => {
    // Breda, chain "Single", p(0) = (1,0,0,0,0): values worked out independently, six decimals.
    const { years } = forecastGrades([0, 1000, 0, 0, 0, 0], [], 50, wear);
    const expected = {
      10: [631.006, 322.317, 43.985, 2.633, 0.059],
      50: [100.039, 375.039, 344.901, 151.599, 28.422],
    };
    for (const [year, numbers] of Object.entries(expected)) {
      const { expected: found } = years[Number(year)]!;
      expect(found[0]).toBe(0);
      for (const [i, n] of numbers.entries()) expect(found[i + 1]).toBeCloseTo(n, 2);
    }
  });

  it("is the matrix power with a class of new pipes before it", () => {
    const full = [[0.955, 0.045, 0, 0, 0, 0], ...wear.chain.map((row) => [0, ...row])];
    const today = [120, 300, 250, 90, 40, 10];
    const power = chainPower(full, 20);
    const found = forecastGrades(today, [], 20, wear).years[20]!;
    for (let grade = 0; grade < 6; grade++) {
      const shares = power.map((row) => row[grade]!);
      expect(found.expected[grade]).toBeCloseTo(sum(today.map((n, from) => n * shares[from]!)), 9);
      const variance = sum(today.map((n, from) => n * shares[from]! * (1 - shares[from]!)));
      expect(found.spread[grade]).toBeCloseTo(Math.sqrt(variance), 9);
    }
  });

  it("spreads as walking every lateral by chance does", () => {
    const stream = new RandomStream(2);
    const runs = 2000;
    const inGrade5: number[] = [];
    for (let run = 0; run < runs; run++) {
      let n = 0;
      for (let lateral = 0; lateral < 50; lateral++) {
        let grade = 4;
        for (let year = 0; year < 20 && grade < 5; year++) if (stream.chance(0.012)) grade = 5;
        if (grade === 5) n++;
      }
      inGrade5.push(n);
    }
    const mean = sum(inGrade5) / runs;
    const deviation = Math.sqrt(sum(inGrade5.map((n) => (n - mean) ** 2)) / runs);
    const found = forecastGrades([0, 0, 0, 0, 50, 0], [], 20, wear).years[20]!;
    // Standard errors: mean 2.9/√2000 = 0.065, deviation about 0.046; four of each.
    expect(Math.abs(found.expected[5]! - mean)).toBeLessThan(0.26);
    expect(Math.abs(found.spread[5]! - deviation)).toBeLessThan(0.19);
  });

  it("starts with today's numbers exactly and no spread", () => {
    const today = [1, 2, 3, 4, 5, 6];
    expect(forecastGrades(today, [], 3, wear).years[0]).toEqual({
      year: 0,
      expected: today,
      spread: [0, 0, 0, 0, 0, 0],
    });
  });

  it("takes steps longer than a year, linear between", () => {
    const slow = { ...wear, yearsPerStep: 2 };
    const { years } = forecastGrades([0, 0, 0, 100, 0, 0], [], 4, slow);
    const yearly = forecastGrades([0, 0, 0, 100, 0, 0], [], 4, wear).years;
    expect(years[4]!.expected[4]).toBeCloseTo(yearly[2]!.expected[4]!, 9);
    expect(years[3]!.expected[4]).toBeCloseTo((yearly[1]!.expected[4]! + yearly[2]!.expected[4]!) / 2, 9);
  });

  it("warns of a chain that is no use for planning", () => {
    expect(forecastGrades([1, 0, 0, 0, 0, 0], [], 1, wear).verdict.kind).toBe("usable");
    const slow = { ...wear, chain: chains["any grade at once"].rows };
    // "About 21 400" years to grade 5.
    const { verdict } = forecastGrades([1, 0, 0, 0, 0, 0], [], 1, slow);
    expect(verdict).toMatchObject({ kind: "too slow to plan with", limit: 300 });
    expect(Math.abs(verdict.yearsToWorst - 21_400)).toBeLessThan(50);
  });
});

describe("a forecast under a plan", () => {
  const today = [0, 100, 80, 60, 40, 20];

  it("starts renewed laterals again as new ones", () => {
    const all = forecastGrades(today, [{ year: 0, byGrade: today, to: 0 }], 10, wear);
    const fresh = forecastGrades([300, 0, 0, 0, 0, 0], [], 10, wear);
    for (const [year, { expected }] of all.years.entries())
      for (let grade = 0; grade < 6; grade++)
        expect(expected[grade]).toBeCloseTo(fresh.years[year]!.expected[grade]!, 9);
  });

  it("renews at the end of a year what was chosen by today's grade", () => {
    const renewed = [0, 0, 0, 0, 0, 20];
    const { years } = forecastGrades(today, [{ year: 3, byGrade: renewed, to: 0 }], 5, wear);
    const alone = forecastGrades(today, [], 5, wear).years;
    expect(years[2]).toEqual(expect.objectContaining({ year: 2 }));
    expect(years[2]!.expected[5]).toBeCloseTo(alone[2]!.expected[5]!, 9);
    // All 20 were in grade 5 and stay there until they are renewed.
    expect(alone[3]!.expected[5]! - years[3]!.expected[5]!).toBeCloseTo(20, 9);
    expect(years[3]!.expected[0]).toBeCloseTo(20, 9);
    // A year later 0.955 of them are still without a defect.
    expect(years[4]!.expected[0]).toBeCloseTo(19.1, 9);
  });

  it("brings a mended lateral back to the grade it is mended to", () => {
    // 10 of the 40 in grade 4 are mended to grade 2 at the end of year 1: at once 10 more in grade 2, a year later 0.972 of them
    // (the published chain's chance of staying in grade 2), the other 0.28 in grade 3.
    const { years } = forecastGrades(today, [{ year: 1, byGrade: [0, 0, 0, 0, 10, 0], to: 2 }], 2, wear);
    const alone = forecastGrades([0, 100, 80, 60, 30, 20], [], 2, wear).years;
    expect(years[1]!.expected[2]! - alone[1]!.expected[2]!).toBeCloseTo(10, 9);
    expect(years[2]!.expected[2]! - alone[2]!.expected[2]!).toBeCloseTo(9.72, 9);
    expect(years[2]!.expected[3]! - alone[2]!.expected[3]!).toBeCloseTo(0.28, 9);
    expect(() => forecastGrades(today, [{ year: 1, byGrade: today, to: 6 }], 2, wear)).toThrow("got 6");
  });

  it("loses no lateral and never has more of the worst than without it", () => {
    const counts = fc.array(fc.nat(500), { minLength: 6, maxLength: 6 });
    const parts = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 });
    fc.assert(
      fc.property(counts, parts, fc.nat(20), (now, shares, year) => {
        const byGrade = now.map((n, grade) => Math.floor(n * shares[grade]!));
        const planned = forecastGrades(now, [{ year, byGrade, to: 0 }], 20, wear).years;
        const alone = forecastGrades(now, [], 20, wear).years;
        for (const at of planned) {
          expect(sum(at.expected)).toBeCloseTo(sum(now), 6);
          for (let grade = 1; grade < 6; grade++)
            expect(backlogOf(at, grade)).toBeLessThanOrEqual(backlogOf(alone[at.year]!, grade) + 1e-6);
        }
      }),
      { numRuns: 50 },
    );
  });

  it("cannot renew more than there are", () => {
    expect(() =>
      forecastGrades(
        today,
        [
          { year: 1, byGrade: [0, 0, 0, 0, 0, 15], to: 0 },
          { year: 2, byGrade: [0, 0, 0, 0, 0, 15], to: 0 },
        ],
        5,
        wear,
      ),
    ).toThrow("grade 5 than there are: 30 of 20");
    expect(() => forecastGrades([1, 2], [], 5, wear)).toThrow("1, 2");
  });
});

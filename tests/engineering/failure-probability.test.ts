import fc from "fast-check";
import { describe, expect, it } from "vitest";
import deterioration from "../../shared/deterioration.json" with { type: "json" };
import modes from "../../shared/failure-modes.json" with { type: "json" };
import {
  anyMode,
  type SeenGrade,
  sharesOfUnseen,
  structuralChance,
  tabulateStructural,
  unseenChance,
  yearlyChance,
} from "../../src/engineering/failure-probability.ts";
import { fraction } from "../../src/quantity/si.ts";
import { chainPower } from "../oracle/chain-walk.ts";

const wear = { chain: deterioration.chains["one grade at a time"].rows, yearsPerStep: 1, newStays: 0.955 };
const { poorFound, falsePoor, poorFrom } = modes.reading;
const reading = { poorFound: fraction(poorFound), falsePoor: fraction(falsePoor), poorFrom };
const table = tabulateStructural(modes.structural.byGrade, wear);
const seen = (grade: number, yearsSince: number, poorShare = 0.2): SeenGrade => ({
  grade,
  yearsSince,
  poorShare: fraction(poorShare),
});
const chance = (grade: number, yearsSince: number, poorShare = 0.2) =>
  structuralChance(seen(grade, yearsSince, poorShare), table, reading);

const grades = fc.integer({ min: 0, max: 5 });
const years = fc.double({ min: 0, max: 80, noNaN: true });
const shares = fc.double({ min: 0, max: 1, noNaN: true });

describe("the chance that a lateral breaks within a year", () => {
  it("has the published words beside each grade", () => {
    // City of Santa Ana CA, Sewer Rate Study, November 2014, p. 240.
    expect(modes.wording.byGrade).toEqual([
      "no defects observed",
      "failure unlikely in the foreseeable future",
      "unlikely to fail for at least 20 years",
      "may fail in 10 to 20 years",
      "will probably fail in 5 to 10 years",
      "has failed or will likely fail within five years",
    ]);
  });

  it("is 19.4 % in grade 5 where two in three fail within five years, an assumption", () => {
    // By decimal arithmetic of 20 digits: 1 − 0.34^(1/5) = 0.194073; grade 4: 1 − 0.34^(1/10) = 0.102266; grade 3: 1 − 0.5^(1/20) = 0.034064.
    expect(chance(5, 0).best).toBeCloseTo(0.194073, 6);
    expect(chance(4, 0).best).toBeCloseTo(0.102266, 6);
    expect(chance(3, 0).best).toBeCloseTo(0.034064, 6);
  });

  it("at a steady hazard comes back to the chance within the stated years", () => {
    for (const stated of modes.structural.byGrade) {
      const { least, best, most } = yearlyChance(stated);
      expect(1 - (1 - best) ** stated.withinYears).toBeCloseTo(stated.chance.best, 12);
      expect(1 - (1 - least) ** stated.withinYears).toBeCloseTo(stated.chance.least, 12);
      expect(1 - (1 - most) ** stated.withinYears).toBeCloseTo(stated.chance.most, 12);
    }
  });

  it("moves with the network's wear after the survey, as matrix powers say", () => {
    const yearly = modes.structural.byGrade.map((stated) => yearlyChance(stated).best);
    // A pipe without a defect leaves for grade 1 at 0.045 a year (shared/deterioration.json, newStays), as in the forecast.
    const power = chainPower([[0.955, 0.045, 0, 0, 0, 0], ...wear.chain.map((row) => [0, ...row])], 12);
    for (const grade of [0, 1, 2, 3, 4, 5]) {
      const expected = power[grade]!.reduce((sum, share, i) => sum + share * yearly[i]!, 0);
      expect(chance(grade, 12).best).toBeCloseTo(expected, 12);
    }
    // Between two years, halfway.
    expect(chance(3, 12.5).best).toBeCloseTo((chance(3, 12).best + chance(3, 13).best) / 2, 12);
  });

  it("lets a pipe without a defect go to grade 1 first, not past it", () => {
    // A year after: 0.955 still without, 0.045 in grade 1. By hand: 0.955·(1 − 0.95^(1/100)) + 0.045·(1 − 0.9^(1/50)) = 5.84450e-4.
    expect(chance(0, 1).best).toBeCloseTo(0.00058445, 8);
  });

  it("counts steps of the chain by their years", () => {
    const slow = tabulateStructural(modes.structural.byGrade, { ...wear, yearsPerStep: 2 });
    expect(structuralChance(seen(2, 24), slow, reading).best).toBeCloseTo(chance(2, 12).best, 12);
    expect(structuralChance(seen(2, 25), slow, reading).best).toBeCloseTo(
      (chance(2, 12).best + chance(2, 13).best) / 2,
      12,
    );
  });

  it("lies in 0 … 1 within its bounds, never lower in a worse grade, never lower long after the survey", () => {
    fc.assert(
      fc.property(grades, years, years, shares, (grade, at, more, share) => {
        const { least, best, most } = chance(grade, at, share);
        expect(least).toBeGreaterThanOrEqual(0);
        expect(least).toBeLessThanOrEqual(best);
        expect(best).toBeLessThanOrEqual(most);
        expect(most).toBeLessThanOrEqual(1);
        const later = chance(grade, at + more, share);
        if (grade < 5) {
          const worse = chance(grade + 1, at, share);
          for (const bound of ["least", "best", "most"] as const)
            expect(worse[bound]).toBeGreaterThanOrEqual(chance(grade, at, share)[bound] - 1e-15);
        }
        for (const bound of ["least", "best", "most"] as const)
          expect(later[bound]).toBeGreaterThanOrEqual(chance(grade, at, share)[bound] - 1e-12);
      }),
    );
  });

  it("is widened by misreading: upwards when called good, downwards when called poor", () => {
    const plain = yearlyChance(modes.structural.byGrade[3]!);
    const four = yearlyChance(modes.structural.byGrade[4]!);
    const called3 = chance(3, 0);
    // Of 720 not called poor 40 are: see the misreading test.
    expect(called3.most).toBeCloseTo((680 * plain.most + 40 * four.most) / 720, 12);
    expect(called3.least).toBe(plain.least);
    const called4 = chance(4, 0);
    expect(called4.least).toBeCloseTo((160 * four.least + 120 * plain.least) / 280, 12);
    expect(called4.most).toBe(four.most);
  });

  it("refuses a table in which a worse grade fails less often, and grades off the scale", () => {
    const swapped = modes.structural.byGrade.with(5, modes.structural.byGrade[2]!);
    expect(() => tabulateStructural(swapped, wear)).toThrow("grade 5 does");
    expect(() => chance(6, 0)).toThrow("got 6");
    expect(() => chance(3, -1)).toThrow("-1");
    expect(() => yearlyChance({ withinYears: 5, chance: { least: 0.5, best: 0.4, most: 0.9 } })).toThrow(
      "0.5, 0.4",
    );
  });
});

describe("a lateral nobody has looked into", () => {
  it("is spread over the grades as the city found them, poor and not poor apart", () => {
    // Found 10, 20, 30, 40 not poor and 5, 15 poor; a cohort 40 % poor.
    const spread = sharesOfUnseen(fraction(0.4), [10, 20, 30, 40, 5, 15], 4);
    const expected = [0.06, 0.12, 0.18, 0.24, 0.1, 0.3];
    for (const [grade, share] of expected.entries()) expect(spread![grade]).toBeCloseTo(share, 12);
    const found = unseenChance(spread!, table);
    const mean = expected.reduce((sum, share, grade) => sum + share * chance(grade, 0).best, 0);
    expect(found.best).toBeCloseTo(mean, 12);
  });

  it("cannot be spread over grades that were never found", () => {
    expect(sharesOfUnseen(fraction(0.4), [10, 20, 30, 40, 0, 0], 4)).toBeNull();
    expect(sharesOfUnseen(fraction(0), [1, 0, 0, 0, 0, 0], 4)).toEqual([1, 0, 0, 0, 0, 0]);
  });

  it("is likelier to fail the poorer its cohort", () => {
    fc.assert(
      fc.property(shares, shares, (a, b) => {
        const at = (share: number) =>
          unseenChance(sharesOfUnseen(fraction(share), [5, 9, 30, 40, 12, 4], 4)!, table).best;
        expect(at(Math.max(a, b))).toBeGreaterThanOrEqual(at(Math.min(a, b)) - 1e-15);
      }),
    );
  });
});

describe("modes taken together", () => {
  const sure = (p: number) => ({ least: p, best: p, most: p });

  it("are 1 − Π(1 − p), for display", () => {
    // Hand calculation: 1 − 0.9 × 0.8 × 0.5 = 0.64.
    const any = anyMode({ structural: sure(0.1), blockage: sure(0.2), infiltration: sure(0.5) });
    expect(any.best).toBeCloseTo(0.64, 12);
    expect(anyMode({ structural: sure(1), blockage: sure(0), infiltration: sure(0) }).best).toBe(1);
  });

  it("are at least as likely as each and at most as likely as their sum", () => {
    fc.assert(
      fc.property(shares, shares, shares, (a, b, c) => {
        const { best } = anyMode({ structural: sure(a), blockage: sure(b), infiltration: sure(c) });
        expect(best).toBeGreaterThanOrEqual(Math.max(a, b, c) - 1e-12);
        expect(best).toBeLessThanOrEqual(Math.min(1, a + b + c) + 1e-12);
      }),
    );
  });

  it("leak more often in worse grades, in the shipped table", () => {
    const leaks = modes.infiltration.leaksByGrade;
    expect(leaks).toHaveLength(6);
    for (let grade = 1; grade < 6; grade++)
      for (const bound of ["least", "best", "most"] as const)
        expect(leaks[grade]![bound]).toBeGreaterThanOrEqual(leaks[grade - 1]![bound]);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  presentOfFirstFailure,
  presentOfSteadyFailure,
  survivingAt,
} from "../../src/engineering/expected-loss.ts";
import { readCondition } from "../../src/plan/condition.ts";
import { judgeFailure } from "../../src/plan/failure.ts";
import type { Lateral } from "../../src/plan/lateral.ts";
import { fraction } from "../../src/quantity/si.ts";
import { fitRecord } from "../../src/season/fits.ts";
import { city, lateral, noBlockages, on, survey, usBasis } from "./examples.ts";

const fail = (differs: Partial<Lateral> = {}, basis = usBasis) => {
  const of = lateral(differs);
  return judgeFailure(of, readCondition(of, basis.program.asOf, 10, 30), basis);
};
const today = on("2026-03-01");

describe("judgeFailure", () => {
  it("takes the chance of grade 4 seen today from the table's words", () => {
    // 0.66 within 10 years at a steady hazard: 1 − 0.34^(1/10) = 0.102266.
    const { chances } = fail({ inspections: [survey({ on: today, structuralGrade: 4 })] });
    expect(chances.structural.value.best).toBeCloseTo(0.102266, 6);
    expect(chances.structural.origin).toBe("estimated");
    expect(chances.infiltration.value.best).toBe(0.6);
  });

  it("updates only the blockage by backups, by the conjugate rule", () => {
    const two = fail({ backups: city(2) }).chances;
    const none = fail({ backups: city(0) }).chances;
    // O&M 1: 0.01 a year worth 10 years; two backups in five: a = 0.1 + 2 = 2.1, r = 15; 1 − (15/16)^2.1 = 0.12675.
    expect(two.blockage.value.best).toBeCloseTo(0.12675, 4);
    // a = 0.1: 1 − (15/16)^0.1 = 0.006433.
    expect(none.blockage.value.best).toBeCloseTo(0.006433, 5);
    expect(two.structural).toEqual(none.structural);
    expect(two.infiltration).toEqual(none.infiltration);
  });

  it("works out a count of backups beyond the table as within it", () => {
    // O&M 1, eleven backups: a = 11.1, r = 15: 1 − (15/16)^11.1 = 0.5115.
    expect(fail({ backups: city(11) }).chances.blockage.value.best).toBeCloseTo(0.5115, 3);
  });

  it("marks a lateral nobody looked into assumed where the city has too few surveys, and says so", () => {
    const { chances, cohort } = fail({ inspections: [], backups: null });
    expect(chances.structural).toMatchObject({ origin: "assumed" });
    expect(chances.blockage.origin).toBe("assumed");
    expect(cohort.restsOn).toEqual({ kind: "assumed life", age: 68, ageKnown: true });
    // 1 − exp(−(68/84.5)^2.5): ln 0.80473 × 2.5 = −0.54312; e^ = 0.58093; 1 − e^−0.58093 = 0.44062.
    expect(cohort.poorShare.best).toBeCloseTo(0.44062, 4);
  });

  it("costs a structural failure under a street as the table adds it up, and multiplies", () => {
    const { money, chances } = fail({ inspections: [survey({ on: today, structuralGrade: 4 })] });
    if (money === null) throw new Error("no money");
    const cost = money.parts.structural.reduce((sum, { amount, times }) => sum + amount * times, 0);
    // 12,000 + 0.4 × 8,000 + 0.1 × 2,500 = 15,450 dollars.
    expect(cost).toBeCloseTo(1_545_000, 6);
    const blocked = 40_000 + 0.5 * 800_000 + 0.1 * 250_000;
    const water = money.parts.infiltration[0]!.amount * chances.infiltration.value.best;
    expect(money.annualLoss.best).toBeCloseTo(
      chances.structural.value.best * 1_545_000 + chances.blockage.value.best * blocked + water,
      6,
    );
  });

  it("gives no money in another currency than the table's", () => {
    expect(fail({}, { ...usBasis, failureCosts: null }).money).toBeNull();
  });

  it("takes 0.4043 gal/min into one 4 in lateral of 40 ft at twice the city's mean chance of leaking", () => {
    // Haverhill MA 2011: 3,693 gpd/in-mile × 4 in × 40/5280 mile = 111.91 gpd; grade 4 leaks 0.6, the census' grade 3 leaks 0.3: × 2
    // = 223.82 gpd = 0.155430 gpm = 0.0098060 L/s (1 gal = 3.785412 L).
    const { infiltration } = fail({ inspections: [survey({ structuralGrade: 4 })] });
    expect(infiltration?.value.highSeason).toBeCloseTo((223.818 * 3.785412) / 86_400, 6);
    // The published mean of the year is 2,832 (153 days make 2,831.1).
    expect((infiltration?.value.year ?? 0) / (infiltration?.value.highSeason ?? 1)).toBeCloseTo(
      2832 / 3693,
      3,
    );
  });

  it("stays within 0 and 1 in order of its bounds, and a worse grade never lowers a chance or the loss", () => {
    const grade = fc.integer({ min: 0, max: 5 });
    fc.assert(
      fc.property(
        grade,
        grade,
        grade,
        grade,
        fc.option(fc.nat(15)),
        fc.boolean(),
        fc.integer({ min: 1900, max: 2020 }),
        (s1, s2, o1, o2, backups, complete, year) => {
          const at = (structuralGrade: number, omGrade: number) =>
            fail({
              inspections: [survey({ structuralGrade, omGrade, complete })],
              backups: backups === null ? null : city(backups),
              installYear: city(year),
            });
          const better = at(Math.min(s1, s2), Math.min(o1, o2));
          const worse = at(Math.max(s1, s2), Math.max(o1, o2));
          for (const mode of ["structural", "blockage", "infiltration"] as const) {
            const [a, b] = [better.chances[mode].value, worse.chances[mode].value];
            for (const bound of ["least", "best", "most"] as const) {
              expect(b[bound]).toBeGreaterThanOrEqual(a[bound] - 1e-12);
              expect(a[bound]).toBeGreaterThanOrEqual(0);
              expect(b[bound]).toBeLessThanOrEqual(1);
            }
            expect(a.least).toBeLessThanOrEqual(a.best);
            expect(a.best).toBeLessThanOrEqual(a.most);
          }
          expect(worse.money!.annualLoss.best).toBeGreaterThanOrEqual(better.money!.annualLoss.best - 1e-9);
          expect(worse.money!.presentLoss.best).toBeGreaterThanOrEqual(better.money!.presentLoss.best - 1e-9);
        },
      ),
      { numRuns: 100 },
    );
  });

  it("never rates a lateral seen in part below one of its cohort that nobody saw", () => {
    for (const structuralGrade of [0, 1, 2, 3, 4, 5]) {
      const part = fail({ inspections: [survey({ structuralGrade, complete: false })] });
      expect(part.chances.structural.value.best).toBeGreaterThanOrEqual(part.cohort.structural.best);
    }
  });
});

describe("the fits of a city", () => {
  const seen = Array.from({ length: 200 }, (_, i) => {
    const age = 10 + (i % 20) * 5;
    // Bad in the share a Weibull life of scale 80 and shape 2 gives, spread evenly over the ten of each age.
    const bad = Math.floor(i / 20) < Math.round(10 * -Math.expm1(-((age / 80) ** 2)));
    return { material: "clay", installYear: 2026 - age, age, bad, laterals: 1 };
  });
  const record = { asOfYear: 2026, seen, blockages: noBlockages, groups: [] };

  it("estimate an uninspected lateral from its cohort's life, with an interval, where there is enough", () => {
    const basis = { ...usBasis, fits: fitRecord(record, usBasis) };
    const { chances, cohort } = fail({ inspections: [], installYear: city(1946) }, basis);
    expect(chances.structural.origin).toBe("estimated");
    expect(chances.structural.because).toContain("life fitted to");
    // 1 − e^−1 = 0.632 at 80 years. Counts are rounded to tenths and eras split the ages, so the fit is near, not on it.
    expect(Math.abs(cohort.poorShare.best - 0.632)).toBeLessThan(0.12);
    expect(cohort.poorShare.least).toBeLessThan(0.632);
    expect(cohort.poorShare.most).toBeGreaterThan(0.632);
  });

  it("take the city's own blockages for the prior, at one factor for all grades", () => {
    // 100 laterals at 0.02 a year for five years expect 10 blockages; 20 were counted: twice the table.
    const blockages = {
      materials: ["clay"],
      material: new Uint8Array(100),
      events: new Float64Array(100).fill(1, 0, 20),
      expected: new Float64Array(100).fill(0.02 * 5),
    };
    const { blocked } = fitRecord({ ...record, blockages }, usBasis);
    expect(blocked["clay"]?.fromCity).toBe(true);
    expect(blocked["clay"]?.priors.map(({ mean }) => mean)).toEqual(
      [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.03].map((rate) => expect.closeTo(2 * rate, 9)),
    );
  });
});

describe("presentOfSteadyFailure", () => {
  it("sums what the year-by-year sum adds up", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 100 }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (p, years, rate) => {
          const chance = fraction(p);
          const sum = presentOfFirstFailure(100, survivingAt(chance, years), fraction(rate));
          expect(presentOfSteadyFailure(100, chance, years, 1 / (1 + rate))).toBeCloseTo(sum, 6);
        },
      ),
    );
  });
});

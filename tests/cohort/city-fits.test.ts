import { describe, expect, it } from "vitest";
import { type LateralGroup, ungradedIn } from "../../src/cohort/city-fits.ts";
import { fraction } from "../../src/quantity/si.ts";
import { fitRecord } from "../../src/season/fits.ts";
import { noBlockages, usBasis } from "../plan/examples.ts";

const { failureModes, deterioration } = usBasis;
const sure = (p: number) => ({ least: fraction(p), best: fraction(p), most: fraction(p) });
/** A pipe of grade g leaks with a chance of g tenths, so that sums can be done by hand. */
const basis = {
  ...usBasis,
  failureModes: {
    ...failureModes,
    infiltration: { ...failureModes.infiltration, leaksByGrade: [0, 0.1, 0.2, 0.3, 0.4, 0.5].map(sure) },
  },
};
const group = (grade: number | null, laterals: number, more: Partial<LateralGroup> = {}): LateralGroup => ({
  grade,
  whole: grade !== null,
  material: "clay",
  age: null,
  laterals,
  diameterLength: 0,
  ...more,
});
const fitted = (...groups: LateralGroup[]) =>
  fitRecord({ asOfYear: 2026, seen: [], blockages: noBlockages, groups }, basis);

describe("a lateral of unknown year that nobody graded", () => {
  it("is poor as often as those surveyed, within the adjusted interval", () => {
    const { ungradedOfNoAge } = fitted(group(2, 36), group(4, 4));
    // 4 of 40. Agresti and Coull: (4 + 2)/(40 + 4) = 0.136364 ± 1.959964·√(0.136364 · 0.863636/44) = 0.101400.
    expect(ungradedOfNoAge.restsOn).toEqual({ kind: "all inspected", inspected: 40, bad: 4 });
    expect(ungradedOfNoAge.poorShare.least).toBeCloseTo(0.034964, 5);
    expect(ungradedOfNoAge.poorShare.best).toBeCloseTo(0.1, 12);
    expect(ungradedOfNoAge.poorShare.most).toBeCloseTo(0.237763, 5);
    // The poor are as those found poor, the others as the others; a leak of 0.2 and 0.4.
    expect(ungradedOfNoAge.shares.map((share) => Number(share.toFixed(9)))).toEqual([0, 0, 0.9, 0, 0.1, 0]);
    expect(ungradedOfNoAge.leaks.best).toBeCloseTo(0.9 * 0.2 + 0.1 * 0.4, 12);
  });

  it("may be poor where none or all were, and no less than never, no more than always", () => {
    // 0 of 30: 2/34 = 0.058824 ± 1.959964·√(0.058824 · 0.941176/34) = 0.079090.
    const none = fitted(group(1, 30)).ungradedOfNoAge.poorShare;
    expect([none.least, none.best]).toEqual([0, 0]);
    expect(none.most).toBeCloseTo(0.137914, 5);
    const all = fitted(group(5, 30)).ungradedOfNoAge.poorShare;
    expect(all.least).toBeCloseTo(1 - 0.137914, 5);
    expect([all.best, all.most]).toEqual([1, 1]);
  });

  it("has the assumed life at the assumed age where hardly any were surveyed, and parts count for nothing", () => {
    const { unknownAge, scale, shape, within } = deterioration.assumedLife;
    const { restsOn, poorShare } = fitted(group(2, 29), group(4, 9, { whole: false })).ungradedOfNoAge;
    expect(restsOn).toEqual({ kind: "assumed life", age: unknownAge, ageKnown: false });
    const dead = (longer: number) => 1 - Math.exp(-((unknownAge / (scale * longer)) ** shape));
    expect(poorShare.best).toBeCloseTo(dead(1), 12);
    expect(poorShare.least).toBeCloseTo(dead(within), 12);
    expect(poorShare.most).toBeCloseTo(dead(1 / within), 12);
    expect(poorShare.least).toBeLessThan(poorShare.best);
  });
});

describe("the census of a city", () => {
  it("has each grade's laterals, and spreads those nobody graded over what they may be", () => {
    const { today, notGraded, found } = fitted(
      group(2, 36),
      group(4, 4),
      group(null, 10),
      group(3, 2, { whole: false }),
    );
    // 36 + 9, 4 + 1: a tenth of the ten may be poor. Found are those surveyed whole.
    expect(today.map((each) => Number(each.toFixed(9)))).toEqual([0, 0, 45, 2, 5, 0]);
    expect(notGraded).toBe(10);
    expect(found).toEqual([0, 0, 36, 0, 4, 0]);
  });

  it("leaks in the mean by diameter and length", () => {
    const whole = [group(2, 36, { diameterLength: 1_000 }), group(4, 4, { diameterLength: 3_000 })] as const;
    // (0.2 · 1,000 + 0.4 · 3,000)/4,000.
    expect(fitted(...whole).leakMean).toBeCloseTo(0.35, 12);
    // Of one nobody graded 0.9 · 0.2 + 0.1 · 0.4 = 0.22; a part of a survey that says less than that is not believed.
    const unseen = group(null, 5, { diameterLength: 4_000 });
    expect(fitted(...whole, unseen).leakMean).toBeCloseTo((1_400 + 0.22 * 4_000) / 8_000, 12);
    const part = group(1, 5, { whole: false, diameterLength: 4_000 });
    expect(fitted(...whole, part).leakMean).toBeCloseTo((1_400 + 0.22 * 4_000) / 8_000, 12);
    const worse = group(3, 5, { whole: false, diameterLength: 4_000 });
    expect(fitted(...whole, worse).leakMean).toBeCloseTo((1_400 + 0.3 * 4_000) / 8_000, 12);
    expect(fitted(group(0, 40, { diameterLength: 1_000 })).leakMean).toBeNull();
    expect(fitted(group(2, 36), group(4, 4)).leakMean).toBeNull();
  });
});

it("a lateral is looked up by its whole years, one older than the table as the oldest, one not yet laid as new", () => {
  const fits = fitted(group(2, 36), group(4, 4));
  const at = (age: number | null) => ungradedIn(fits, "clay", age);
  expect(at(60.9)).toBe(at(60));
  expect(at(60).restsOn).toEqual({ kind: "assumed life", age: 60, ageKnown: true });
  expect(at(900)).toBe(at(200));
  expect(at(-3)).toBe(at(0));
  expect(at(null)).toBe(fits.ungradedOfNoAge);
  expect(() => ungradedIn(fits, "no such material", 3)).toThrow("no such material");
});

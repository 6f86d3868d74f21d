import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { badShareAt, type FittedLife, fitLife, type SeenAtAge } from "../../src/cohort/current-status.ts";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { likeliestLife, lnLikelihood, logVariances } from "../oracle/current-status-likelihood.ts";

/** Laterals inspected once, at an even age from 1 to 100, each bad from its own Weibull age on. */
function inspectCity(count: number, scale: number, shape: number, seed: number): readonly SeenAtAge[] {
  const stream = new RandomStream(seed);
  return Array.from({ length: count }, () => {
    const age = stream.between(1, 100);
    const turnsBad = scale * (-Math.log(stream.next())) ** (1 / shape);
    return { age, bad: turnsBad <= age, laterals: 1 };
  });
}

function fitted(seen: readonly SeenAtAge[]): FittedLife {
  const fit = fitLife(seen);
  if (fit.kind !== "fitted") throw new Error(`expected a fit, got: ${fit.because}`);
  return fit;
}

const at = (age: number, bad: number, good: number): readonly SeenAtAge[] =>
  Array.from({ length: bad + good }, (_, i) => ({ age, bad: i < bad, laterals: 1 }));

/** Of few ages, so that many are of one. */
const oneLateral = fc.record({
  age: fc.integer({ min: 0, max: 12 }),
  bad: fc.boolean(),
  laterals: fc.constant(1),
});

describe("a life fitted to surveys made once", () => {
  it("is the same to the last bit from laterals counted and from each by itself, in any order", () => {
    fc.assert(
      fc.property(fc.array(oneLateral, { minLength: 40, maxLength: 120 }), (list) => {
        const counts = list.reduce(
          (sum, { age, bad }) => sum.set(`${age} ${bad}`, (sum.get(`${age} ${bad}`) ?? 0) + 1),
          new Map<string, number>(),
        );
        const counted = [...counts].map(([key, laterals]) => {
          const [age, bad] = key.split(" ");
          return { age: Number(age), bad: bad === "true", laterals };
        });
        expect(fitLife(counted)).toEqual(fitLife(list.toReversed()));
      }),
    );
  });

  it("through two ages goes through both shares exactly", () => {
    // Two ages and two numbers to fit: the likeliest curve meets 4 of 20 at 30 years and 15 of 20 at 60. In decimals:
    // h₁ = −ln 0.8 = 0.223144, h₂ = −ln 0.25 = 1.386294; b = ln(h₂/h₁)/ln 2 = 2.635190; η = 30/h₁^(1/b) = 53.00539.
    const fit = fitted([...at(30, 4, 16), ...at(60, 15, 5)]);
    expect(fit.life.shape).toBeCloseTo(Math.log(-Math.log(0.25) / -Math.log(0.8)) / Math.LN2, 8);
    expect(fit.life.shape).toBeCloseTo(2.63519, 5);
    expect(fit.life.scale).toBeCloseTo(53.00539, 5);
    expect(badShareAt(30, fit).best).toBeCloseTo(0.2, 8);
    expect(badShareAt(60, fit).best).toBeCloseTo(0.75, 8);
  });

  it("is where the likelihood is highest, as searching without derivatives finds", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const seen = inspectCity(150, 70, 2 + seed / 2, seed);
      const fit = fitted(seen);
      const searched = likeliestLife(seen);
      expect(fit.logLikelihood).toBeGreaterThanOrEqual(searched.value - 1e-9);
      expect(fit.logLikelihood).toBeCloseTo(lnLikelihood(seen, fit.life.scale, fit.life.shape), 8);
      // The top is flat: a likelihood equal to 1e-12 fixes the place to about a millionth.
      expect(fit.life.scale / searched.scale).toBeCloseTo(1, 5);
      expect(fit.life.shape / searched.shape).toBeCloseTo(1, 5);
    }
  });

  it("has the interval that the curvature of the likelihood gives", () => {
    const seen = inspectCity(400, 75, 3, 9);
    const fit = fitted(seen);
    const { scale, shape } = logVariances(seen, fit.life.scale, fit.life.shape);
    // Second differences of step 0.001 are right to about five digits.
    expect(Math.log(fit.scale.most / fit.life.scale) / (1.959964 * Math.sqrt(scale))).toBeCloseTo(1, 4);
    expect((fit.life.shape - fit.shape.least) / (1.959964 * fit.life.shape * Math.sqrt(shape))).toBeCloseTo(
      1,
      4,
    );
  });

  it("finds again the life that a simulated city was made with", () => {
    const fit = fitted(inspectCity(20_000, 80, 2.5, 17));
    // Standard errors of about 0.6 % and 1.6 % by the curvature (checked above): five of each.
    expect(Math.abs(fit.life.scale / 80 - 1)).toBeLessThan(0.03);
    expect(Math.abs(fit.life.shape / 2.5 - 1)).toBeLessThan(0.08);
  });

  it("holds the truth in its interval nineteen times in twenty", () => {
    const cities = 400;
    const held = { scale: 0, shape: 0, share: 0 };
    for (let seed = 0; seed < cities; seed++) {
      const fit = fitted(inspectCity(300, 80, 2.5, 1000 + seed));
      if (fit.scale.least <= 80 && 80 <= fit.scale.most) held.scale++;
      if (fit.shape.least <= 2.5 && 2.5 <= fit.shape.most) held.shape++;
      const share = badShareAt(60, fit);
      // 1 − S(60) = 1 − 0.614381, see the survival test.
      if (share.least <= 0.385619 && 0.385619 <= share.most) held.share++;
    }
    // 380 of 400 expected, standard deviation 4.4; four of them, and asymptotic intervals may cover a bit less.
    for (const count of Object.values(held)) expect(count).toBeGreaterThanOrEqual(361);
    for (const count of Object.values(held)) expect(count).toBeLessThanOrEqual(398);
  });

  it("expects as many bad ones in all as were found, nearly, and shows both by quarters of the ages", () => {
    const seen = inspectCity(1000, 70, 2, 3);
    const fit = fitted(seen);
    expect(fit.byAge).toHaveLength(4);
    expect(fit.byAge.reduce((sum, group) => sum + group.inspected, 0)).toBe(1000);
    expect(fit.byAge.reduce((sum, group) => sum + group.bad, 0)).toBe(fit.bad);
    for (const { inspected, bad, expected } of fit.byAge) {
      // Binomial spread of at most √(n/4) = 7.9; four of them.
      expect(Math.abs(bad - expected)).toBeLessThan(4 * Math.sqrt(inspected / 4));
    }
    // One age: one group, nothing cut in two.
    const groups = fitted([...at(30, 4, 16), ...at(60, 15, 5)]).byAge;
    expect(groups.map(({ inspected, bad }) => [inspected, bad])).toEqual([
      [20, 4],
      [20, 15],
    ]);
    expect(groups[0]!.expected).toBeCloseTo(4, 6);
  });

  it("gives shares in order, between 0 and 1, that never fall with age", () => {
    const fit = fitted(inspectCity(60, 60, 2, 8));
    const ages = fc.double({ min: 0, max: 300, noNaN: true });
    fc.assert(
      fc.property(ages, ages, (a, b) => {
        const young = badShareAt(Math.min(a, b), fit);
        const old = badShareAt(Math.max(a, b), fit);
        expect(old.best).toBeGreaterThanOrEqual(young.best);
        for (const { least, best, most } of [young, old]) {
          expect(least).toBeGreaterThanOrEqual(0);
          expect(least).toBeLessThanOrEqual(best);
          expect(best).toBeLessThanOrEqual(most);
          expect(most).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  it("shows by its interval when age explains next to nothing", () => {
    // 10 of 20 and 11 of 20: a difference of one, with a standard error of three.
    const fit = fitted([...at(30, 10, 10), ...at(60, 11, 9)]);
    expect(fit.shape.least).toBeLessThan(0);
    expect(fit.scale).toMatchObject({ least: 0.1, most: 10_000 });
    // The share at an age in the middle is known all the same: √(0.25/40) = 0.08 of standard error.
    const { least, best, most } = badShareAt(45, fit);
    expect(best).toBeCloseTo(0.525, 1);
    expect(most - least).toBeLessThan(0.4);
  });

  it("is plain data that a worker or a snapshot can take", () => {
    const fit = fitted(inspectCity(200, 70, 2, 5));
    expect(structuredClone(fit)).toEqual(fit);
    expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
  });
});

describe("too little to fit a life", () => {
  it.each([
    ["too few inspected", [...at(30, 5, 10), ...at(60, 8, 6)]],
    ["too few bad", [...at(30, 1, 30), ...at(60, 3, 30)]],
    ["too few not bad", [...at(30, 30, 2), ...at(60, 30, 2)]],
    ["ages part bad from good", [...at(30, 0, 20), ...at(60, 20, 0)]],
    ["older are not worse", [...at(30, 20, 0), ...at(60, 0, 20)]],
    ["older are not worse", [...at(30, 12, 8), ...at(60, 8, 12)]],
    ["older are not worse", at(40, 20, 20)],
  ])("is said: %s", (because, seen) => {
    const bad = seen.filter((pipe) => pipe.bad).length;
    expect(fitLife(seen)).toEqual({ kind: "not fitted", because, inspected: seen.length, bad });
  });

  it("is not said at the rule's own numbers: 30 inspected, 5 bad", () => {
    expect(fitLife([...at(30, 1, 14), ...at(60, 4, 11)]).kind).toBe("fitted");
    expect(fitLife([...at(30, 1, 14), ...at(60, 3, 12)]).kind).toBe("not fitted");
    // And 5 that are not bad.
    expect(fitLife([...at(30, 11, 4), ...at(60, 14, 1)]).kind).toBe("fitted");
    expect(fitLife([...at(30, 12, 3), ...at(60, 14, 1)])).toMatchObject({ because: "too few not bad" });
  });

  it("never comes out as a number that is none, whatever the survey", () => {
    const seen = fc.array(oneLateral, { minLength: 30, maxLength: 60 });
    fc.assert(
      fc.property(seen, (list) => {
        const fit = fitLife(list);
        if (fit.kind === "not fitted") return;
        for (const { least, best, most } of [fit.scale, fit.shape]) {
          expect(best).toBeGreaterThan(0);
          expect(Number.isFinite(least)).toBe(true);
          expect(least).toBeLessThanOrEqual(best);
          expect(most).toBeGreaterThanOrEqual(best);
          expect(Number.isFinite(most)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("refuses an age that cannot be", () => {
    expect(() => fitLife([...at(30, 4, 16), ...at(-1, 15, 5)])).toThrow("-1");
  });
});

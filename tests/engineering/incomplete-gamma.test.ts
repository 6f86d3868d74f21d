import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gammaQuantile, gammaTails, lnGamma } from "../../src/engineering/incomplete-gamma.ts";
import { gammaBelowByPoisson } from "../oracle/poisson-tail.ts";

/** Agreement to twelve digits, which is what the functions promise below shapes of a thousand. */
const agree = (found: number, expected: number, digits = 12): void =>
  expect(Math.abs(found / expected - 1)).toBeLessThan(10 ** -digits);

describe("the logarithm of the gamma function", () => {
  it("is that of factorials, and of √π at one half", () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n++) {
      factorial *= n;
      agree(Math.exp(lnGamma(n + 1)), factorial);
    }
    agree(Math.exp(lnGamma(0.5)), Math.sqrt(Math.PI));
  });

  it("rises by ln a from a to a + 1", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (a) => {
        expect(lnGamma(a + 1) - lnGamma(a)).toBeCloseTo(Math.log(a), 10);
      }),
    );
  });

  it("refuses what has none", () => {
    expect(() => lnGamma(0)).toThrow("got 0");
    expect(() => gammaTails(-1, 1)).toThrow("got -1, 1");
    expect(() => gammaQuantile(1.5, 1, 1)).toThrow("got 1.5");
  });
});

describe("the tails of the gamma distribution", () => {
  // SciPy 1.17.1, special.gammainc and gammaincc.
  it.each([
    [0.05, 1e-6, 0.514827954525178, 0.48517204547482196],
    [0.3, 0.02, 0.3429975158569879, 0.6570024841430121],
    [1.4, 0.9, 0.42320279782226494, 0.576797202177735],
    [6, 5.675, 0.5008144985275594, 0.49918550147244056],
    [33, 25, 0.07145603124005859, 0.9285439687599415],
    [250, 300, 0.9986225281224718, 0.001377471877528201],
    [10000, 10100, 0.8413487504471796, 0.15865124955282037],
  ])("of shape %d at %d", (shape, x, below, above) => {
    const found = gammaTails(shape, x);
    // A shape of ten thousand loses digits in x^a.
    const digits = shape > 1000 ? 10 : 12;
    agree(found.below, below, digits);
    agree(found.above, above, digits);
  });

  it("of a published example: shape 6, rate 113.5 has half below 0.05 and nine tenths below 0.081", () => {
    // Printed by the author of LearnBayes (31 December 2007) from R's pgamma: 0.5008145 and 0.8955648.
    expect(gammaTails(6, 0.05 * 113.5).below).toBeCloseTo(0.5008145, 7);
    expect(gammaTails(6, 0.081 * 113.5).below).toBeCloseTo(0.8955648, 7);
  });

  it("for a whole shape count Poisson events", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: 0, max: 80, noNaN: true }),
        (shape, x) => {
          expect(gammaTails(shape, x).below).toBeCloseTo(gammaBelowByPoisson(shape, x), 12);
        },
      ),
    );
  });

  it("end at 0 and 1", () => {
    expect(gammaTails(2, 0)).toEqual({ below: 0, above: 1 });
    expect(gammaTails(2, Infinity)).toEqual({ below: 1, above: 0 });
  });
});

describe("a quantile of the gamma distribution", () => {
  // SciPy 1.17.1, special.gammaincinv.
  it.each([
    [0.025, 0.05, 5.31566188991436e-33],
    [0.05, 0.3, 3.211034699722965e-5],
    [0.5, 1.4, 1.0843715114653385],
    [0.975, 6, 11.66833207932267],
    [0.05, 7, 3.28531569189467],
    [0.95, 33, 42.98245372061548],
    [0.999, 250, 301.7230028975888],
    [0.025, 10000, 9804.952467260184],
  ])("at %d of shape %d", (p, shape, x) => {
    agree(gammaQuantile(p, shape, 1), x, shape > 1000 ? 11 : 12);
  });

  it("is half the chi-square table", () => {
    // NIST/SEMATECH e-Handbook, 1.3.6.7.4, three decimals: χ² with k degrees of freedom is gamma of shape k/2, rate 1/2.
    expect(gammaQuantile(0.95, 0.5, 0.5)).toBeCloseTo(3.841, 3);
    expect(gammaQuantile(0.95, 5, 0.5)).toBeCloseTo(18.307, 3);
    expect(gammaQuantile(0.05, 5, 0.5)).toBeCloseTo(3.94, 3);
    expect(gammaQuantile(0.99, 2.5, 0.5)).toBeCloseTo(15.086, 3);
    expect(gammaQuantile(0.975, 50, 0.5)).toBeCloseTo(129.561, 3);
  });

  it("has the probability below it that was asked for", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.02, max: 500, noNaN: true }),
        fc.double({ min: 1e-4, max: 1 - 1e-4, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (shape, p, rate) => {
          const x = gammaQuantile(p, shape, rate);
          // Below 1e-300 the value is no double and comes out as 0 or with few bits.
          if (x * rate > 1e-300) expect(gammaTails(shape, x * rate).below).toBeCloseTo(p, 11);
        },
      ),
    );
  });
});

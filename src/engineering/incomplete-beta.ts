import { lnGamma } from "./incomplete-gamma.ts";

/*
 * The beta distribution, as far as a beta-PERT draw needs it.
 *
 * Sources: NIST Digital Library of Mathematical Functions, §8.17.22 (continued fraction of the regularised incomplete beta function)
 * and §8.17.4 (I_x(a, b) = 1 − I_{1−x}(b, a)).
 * Holds for: shapes above 0 up to about 10³.
 */

/** I_x(a, b): the chance that a beta variable of shapes a and b lies below x. */
export function betaBelow(x: number, a: number, b: number): number {
  if (!(x >= 0 && x <= 1 && a > 0 && b > 0))
    throw new RangeError(`betaBelow needs x in 0 … 1 and shapes above 0, got ${x}, ${a}, ${b}`);
  if (x === 0 || x === 1) return x;
  // The fraction converges fast on this side of the mean.
  if (x > (a + 1) / (a + b + 2)) return 1 - betaBelow(1 - x, b, a);
  return (Math.exp(a * Math.log(x) + b * Math.log1p(-x) - lnBeta(a, b)) / a) * continuedFraction(x, a, b);
}

/** The x below which a beta variable lies with probability p: Newton steps kept inside a bracket. */
export function betaQuantile(p: number, a: number, b: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`betaQuantile needs p in 0 … 1, got ${p}`);
  if (p === 0 || p === 1) return p;
  const ln = lnBeta(a, b);
  let low = 0;
  let high = 1;
  let x = a / (a + b);
  for (let n = 0; n < 200; n++) {
    const missed = betaBelow(x, a, b) - p;
    if (missed === 0) break;
    if (missed > 0) high = x;
    else low = x;
    const density = Math.exp((a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x) - ln);
    const newton = x - missed / density;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - x) <= 1e-14) break;
    x = next;
  }
  return x;
}

const lnBeta = (a: number, b: number): number => lnGamma(a) + lnGamma(b) - lnGamma(a + b);

const MOST_TERMS = 10_000;
/** Lentz' method divides by what may be 0. */
const TINY = 1e-300;

/** 1/(1 + d₁/(1 + d₂/(1 + …))) of §8.17.22, by Lentz' method. */
function continuedFraction(x: number, a: number, b: number): number {
  const orTiny = (value: number): number => (Math.abs(value) < TINY ? TINY : value);
  let c = 1;
  let d = 1 / orTiny(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / orTiny(1 + even * d);
    c = orTiny(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / orTiny(1 + odd * d);
    c = orTiny(1 + odd / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) return h;
  }
  throw new RangeError(`betaBelow: the continued fraction does not end for x ${x}, shapes ${a}, ${b}`);
}

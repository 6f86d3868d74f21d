/*
 * The gamma distribution, as far as a credible interval needs it.
 *
 * Sources: Lanczos' approximation of ln Γ (SIAM J. Numer. Anal. B 1, 1964; nine coefficients for g = 7 after Godfrey, from memory,
 * checked against factorials); NIST Digital Library of Mathematical Functions, §8.11.4 (series) and §8.9.2 (continued fraction).
 * Holds for: shapes above 0 up to about 10⁵, to twelve digits or better below 10³ (measured against an independent library).
 */

const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const;

/** ln Γ(a), a above 0. */
export function lnGamma(a: number): number {
  if (!(a > 0 && a < Infinity)) throw new RangeError(`lnGamma needs a finite number above 0, got ${a}`);
  // Γ(a) = Γ(a + 1)/a keeps the approximation where it is good.
  if (a < 0.5) return lnGamma(a + 1) - Math.log(a);
  const x = a - 1;
  let sum: number = LANCZOS[0];
  for (let k = 1; k < LANCZOS.length; k++) sum += LANCZOS[k]! / (x + k);
  const t = x + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (x + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Both tails of the gamma distribution of a shape and scale 1: P = γ(a, x)/Γ(a) below x, Q = 1 − P above. Each is exact when small. */
export function gammaTails(a: number, x: number): { readonly below: number; readonly above: number } {
  if (!(a > 0 && a < Infinity && x >= 0))
    throw new RangeError(`gammaTails needs a shape above 0 and x of 0 or more, got ${a}, ${x}`);
  if (x === 0) return { below: 0, above: 1 };
  if (x === Infinity) return { below: 1, above: 0 };
  const lnFront = a * Math.log(x) - x;
  if (x < a + 1) {
    const below = Math.exp(lnFront - lnGamma(a + 1)) * sumSeries(a, x);
    return { below, above: 1 - below };
  }
  const above = Math.exp(lnFront - lnGamma(a)) * continuedFraction(a, x);
  return { below: 1 - above, above };
}

/**
 * The value below which a gamma variable of a shape and rate (1/scale) lies with probability p: Newton steps on ln x, kept inside a
 * bracket.
 */
export function gammaQuantile(p: number, shape: number, rate: number): number {
  if (!(p >= 0 && p <= 1 && shape > 0 && rate > 0))
    throw new RangeError(
      `gammaQuantile needs p in 0 … 1, shape and rate above 0, got ${p}, ${shape}, ${rate}`,
    );
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  // So near zero that the series is its first term: P = x^a/Γ(a + 1).
  const lnSmall = (Math.log(p) + lnGamma(shape + 1)) / shape;
  if (lnSmall < -32) return Math.exp(lnSmall) / rate;

  const miss = (lnX: number): number => {
    const { below, above } = gammaTails(shape, Math.exp(lnX));
    return p <= 0.5 ? below - p : 1 - p - above;
  };
  let low = Math.min(lnSmall, Math.log(shape));
  while (miss(low) > 0) low -= 1;
  let high = Math.max(low, Math.log(shape)) + 1;
  while (miss(high) < 0) high += 1;
  let lnX = (low + high) / 2;
  for (let n = 0; n < 200; n++) {
    const missed = miss(lnX);
    if (missed === 0) break;
    if (missed > 0) high = lnX;
    else low = lnX;
    // Density of ln x.
    const slope = Math.exp(shape * lnX - Math.exp(lnX) - lnGamma(shape));
    const newton = lnX - missed / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - lnX) <= 1e-15 * Math.max(1, Math.abs(lnX))) break;
    lnX = next;
  }
  return Math.exp(lnX) / rate;
}

const MOST_TERMS = 100_000;

/** Σ xⁿ/((a + 1)…(a + n)), n from 0. */
function sumSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let n = 1; n < MOST_TERMS; n++) {
    term *= x / (a + n);
    sum += term;
    if (term < sum * 1e-17) return sum;
  }
  throw new RangeError(`gammaTails: the series does not end for shape ${a}, x ${x}`);
}

/** Γ(a, x)·eˣ·x^−a by its continued fraction, Lentz' method. */
function continuedFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = Infinity;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const an = -n * (n - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    const factor = c * d;
    h *= factor;
    if (Math.abs(factor - 1) < 1e-16) return h;
  }
  throw new RangeError(`gammaTails: the continued fraction does not end for shape ${a}, x ${x}`);
}

/** P(a, x) for a whole shape: 1 − Σ_{k<a} e^−x·x^k/k!, the chance of a or more events. */
export function gammaBelowByPoisson(shape: number, x: number): number {
  let term = Math.exp(-x);
  let sum = 0;
  for (let k = 0; k < shape; k++) {
    sum += term;
    term *= x / (k + 1);
  }
  return 1 - sum;
}

/** Posterior mean and chance of no event in the next year by Bayes' rule on a grid of rates, gamma prior times Poisson likelihood. */
export function posteriorByGrid(mean: number, strength: number, events: number, years: number) {
  let weight = 0;
  let rate = 0;
  let none = 0;
  const step = 1e-4;
  for (let at = step / 2; at < 20 * mean + 10; at += step) {
    const density = Math.exp(
      (mean * strength - 1) * Math.log(at) - strength * at + events * Math.log(at) - at * years,
    );
    weight += density;
    rate += density * at;
    none += density * Math.exp(-at);
  }
  return { mean: rate / weight, none: none / weight };
}

/** Weibull survival between two ages by integrating the hazard b/η·(t/η)^(b−1) with Simpson's rule. Shape 1 or more. */
export function survivalBetween(from: number, to: number, scale: number, shape: number): number {
  const n = 2000;
  const h = (to - from) / n;
  const hazard = (t: number) => (shape / scale) * (t / scale) ** (shape - 1);
  let sum = hazard(from) + hazard(to);
  for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * hazard(from + i * h);
  return Math.exp((-sum * h) / 3);
}

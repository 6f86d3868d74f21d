/** Kendall's tau-b from its definition: every pair looked at. */
export function tauByPairs(x: readonly number[], y: readonly number[]): number | null {
  let agree = 0;
  let untiedX = 0;
  let untiedY = 0;
  for (let i = 0; i < x.length; i++)
    for (let j = 0; j < i; j++) {
      const dx = Math.sign(x[i]! - x[j]!);
      const dy = Math.sign(y[i]! - y[j]!);
      agree += dx * dy;
      untiedX += Math.abs(dx);
      untiedY += Math.abs(dy);
    }
  return untiedX === 0 || untiedY === 0 ? null : agree / Math.sqrt(untiedX * untiedY);
}

/** Spearman's rho: ranks by counting the smaller and equal, then the covariance of the ranks over their spreads. */
export function rhoByCounting(x: readonly number[], y: readonly number[]): number | null {
  const rank = (values: readonly number[]) =>
    values.map((v) => values.filter((w) => w < v).length + (values.filter((w) => w === v).length + 1) / 2);
  const a = rank(x);
  const b = rank(y);
  const mean = (v: readonly number[]) => v.reduce((s, u) => s + u, 0) / v.length;
  const covariance = (u: readonly number[], v: readonly number[]) =>
    mean(u.map((p, i) => p * v[i]!)) - mean(u) * mean(v);
  const spread = covariance(a, a) * covariance(b, b);
  return spread <= 1e-12 ? null : covariance(a, b) / Math.sqrt(spread);
}

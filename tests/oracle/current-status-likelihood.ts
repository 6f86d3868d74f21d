/** ln L of a Weibull life by its definition: P(bad at t) = 1 − exp(−(t/η)^b), each lateral multiplied in. */
export function lnLikelihood(
  seen: readonly { readonly age: number; readonly bad: boolean }[],
  scale: number,
  shape: number,
): number {
  return seen.reduce((sum, { age, bad }) => {
    const good = Math.exp(-((age / scale) ** shape));
    return sum + Math.log(bad ? 1 - good : good);
  }, 0);
}

/** Maximum by looking: a grid over ln η and ln b, drawn closer around the best point until it no longer moves. No derivative. */
export function likeliestLife(seen: readonly { readonly age: number; readonly bad: boolean }[]) {
  let best = { scale: 80, shape: 2, value: -Infinity };
  let width = 3;
  while (width > 1e-9) {
    const { scale, shape } = best;
    for (let i = -6; i <= 6; i++)
      for (let j = -6; j <= 6; j++) {
        const s = scale * Math.exp((i / 6) * width);
        const k = shape * Math.exp((j / 6) * width);
        const value = lnLikelihood(seen, s, k);
        if (value > best.value) best = { scale: s, shape: k, value };
      }
    width *= 0.7;
  }
  return best;
}

/** Variances of (ln η, ln b): minus the second differences of ln L, inverted. */
export function logVariances(
  seen: readonly { readonly age: number; readonly bad: boolean }[],
  scale: number,
  shape: number,
) {
  const d = 1e-3;
  const at = (i: number, j: number) => lnLikelihood(seen, scale * Math.exp(i * d), shape * Math.exp(j * d));
  const ss = -(at(1, 0) - 2 * at(0, 0) + at(-1, 0)) / d ** 2;
  const kk = -(at(0, 1) - 2 * at(0, 0) + at(0, -1)) / d ** 2;
  const sk = -(at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * d ** 2);
  const determinant = ss * kk - sk * sk;
  return { scale: kk / determinant, shape: ss / determinant };
}

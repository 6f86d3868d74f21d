const multiply = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]) =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, p, k) => sum + p * b[k]![j]!, 0)));

/** Pⁿ by squaring. */
export function chainPower(chain: readonly (readonly number[])[], n: number): readonly (readonly number[])[] {
  if (n === 0) return chain.map((_, i) => chain.map((__, j) => (i === j ? 1 : 0)));
  const half = chainPower(chain, Math.floor(n / 2));
  const square = multiply(half, half);
  return n % 2 === 1 ? multiply(square, chain) : square;
}

/** Mean steps to the last state from state i, as Σ P(not there after n steps), walked until nothing is left outside. */
export function stepsBySumming(chain: readonly (readonly number[])[], i: number): number {
  let now: readonly number[] = chain.map((_, j) => (i === j ? 1 : 0));
  let steps = 0;
  for (;;) {
    const outside = now.slice(0, -1).reduce((sum, p) => sum + p, 0);
    if (outside < 1e-14) return steps;
    steps += outside;
    now = now.map((_, j) => now.reduce((sum, p, k) => sum + p * chain[k]![j]!, 0));
  }
}

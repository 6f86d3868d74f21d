/** What is bought to cover a use: whole containers, and what is over. */
export interface Bought {
  readonly containers: number;
  /** In the containers over the use and the waste. */
  readonly left: number;
}

/**
 * ⌈use · (1 + waste)⌉: what is used and what is wasted on the way, in whole units.
 *
 * @param waste fraction of the use that is bought on top
 */
export function withWaste(use: number, waste: number): number {
  const exact = use * (1 + waste);
  // 100·1.1 is 110.00000000000001 in doubles; no quantity here is exact to a billionth.
  return Math.ceil(exact - 1e-9 * Math.max(1, exact));
}

/**
 * ⌈use · (1 + waste) / container⌉ whole containers, in whole units (pieces, grams, millilitres).
 *
 * @param waste fraction of the use that is bought on top
 */
export function buyWhole(use: number, waste: number, container: number): Bought {
  if (!(Number.isSafeInteger(use) && use >= 0 && waste >= 0 && container > 0))
    throw new RangeError(
      `buyWhole needs a whole use of 0 or more, a waste of 0 or more and a container above 0, got ${use}, ${waste}, ${container}`,
    );
  const quotient = (use * (1 + waste)) / container;
  const nearest = Math.round(quotient);
  // As in withWaste: 100·1.1/10 is 11.000000000000002.
  const containers =
    Math.abs(quotient - nearest) <= 1e-9 * Math.max(1, nearest) ? nearest : Math.ceil(quotient);
  return { containers, left: Math.max(0, containers * container - withWaste(use, waste)) };
}

/** ⌈uses / lives⌉: something that bears so many uses, such as a bladder. */
export function countByLives(uses: number, lives: number): number {
  if (!(Number.isSafeInteger(uses) && uses >= 0 && Number.isSafeInteger(lives) && lives > 0))
    throw new RangeError(`countByLives needs whole uses and at least one life, got ${uses} and ${lives}`);
  return Math.ceil(uses / lives);
}

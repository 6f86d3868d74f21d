/** More groups than this are 512 plans and more for one answer: put inputs together instead. */
const MOST_GROUPS = 8;

/** Evaluates the plan with some groups of inputs new and the others as they were: bit i of the mask is group i, set for new. */
export type ValueWith = (mask: number) => number;

/** What moved a value, and how much of the move each group of changed inputs caused. */
export interface Attribution {
  readonly before: number;
  readonly after: number;
  /** after − before. */
  readonly move: number;
  /** Shares of the move as whole numerators over `denominator` (n!); they sum to move·denominator exactly. */
  readonly numerators: readonly number[];
  readonly denominator: number;
  /** Numerators over denominator, for showing. */
  readonly shares: readonly number[];
}

/**
 * Fair shares of a move over the groups of inputs that changed: the mean, over all orders in which the groups could have changed, of
 * what each adds when its turn comes.
 *
 *   φ_i = Σ_S |S|!·(n − 1 − |S|)!/n! · [v(S + i) − v(S)] ,   S the sets without i
 *
 * Source: Shapley, A value for n-person games (1953), from memory; a test adds up all orders by hand. The only shares that sum to the
 * move, treat groups that act alike alike, and give nothing to a group that changes nothing.
 * Holds for: whole values (a rank, or a score in whole quanta as ranks compare it), so that every sum here is exact; 2ⁿ evaluations.
 */
export function attributeMove(groups: number, valueWith: ValueWith): Attribution {
  const [result] = attributeMoves(groups, (mask) => [valueWith(mask)]);
  return result!;
}

/**
 * The same for many values at once, such as the ranks of all laterals: each evaluation gives one value a lateral, in the same order.
 */
export function attributeMoves(
  groups: number,
  valuesWith: (mask: number) => ArrayLike<number>,
): readonly Attribution[] {
  if (!(Number.isInteger(groups) && groups >= 0 && groups <= MOST_GROUPS))
    throw new RangeError(`attribution takes 0 to ${MOST_GROUPS} groups of inputs, got ${groups}`);
  const worlds = Array.from({ length: 1 << groups }, (_, mask) => valuesWith(mask));
  const before = worlds[0]!;
  const after = worlds.at(-1)!;
  const denominator = factorial(groups);
  // Each value counts as the end of a step of the groups in, and as the start of a step of the groups out: by how many are in.
  const asEnd = Array.from(
    { length: groups + 1 },
    (_, size) => factorial(size - 1) * factorial(groups - size),
  );
  const asStart = Array.from(
    { length: groups + 1 },
    (_, size) => factorial(size) * factorial(groups - 1 - size),
  );
  return Array.from({ length: before.length }, (_, at) => {
    const numerators = new Array<number>(groups).fill(0);
    for (const [mask, values] of worlds.entries()) {
      if (values.length !== before.length || !Number.isSafeInteger(values[at]! * denominator))
        throw new RangeError(
          `attribution needs whole values, as many each time, got ${values[at]} with mask ${mask}`,
        );
      const size = countBits(mask);
      for (let i = 0; i < groups; i++) {
        if ((mask >> i) & 1) numerators[i]! += asEnd[size]! * values[at]!;
        else numerators[i]! -= asStart[size]! * values[at]!;
      }
    }
    return {
      before: before[at]!,
      after: after[at]!,
      move: after[at]! - before[at]!,
      numerators,
      denominator,
      shares: numerators.map((n) => n / denominator),
    };
  });
}

/**
 * The shares as whole numbers that still sum to the move: rounded down, and what is left over given to the largest remainders, earlier
 * groups first among equals. For lists that must add up as printed.
 */
export function wholeShares({ numerators, denominator, move }: Attribution): readonly number[] {
  const whole = numerators.map((n) => Math.floor(n / denominator));
  const left = move - whole.reduce((sum, n) => sum + n, 0);
  const remainder = (i: number): number => numerators[i]! - whole[i]! * denominator;
  const first = numerators.map((_, i) => i).sort((a, b) => remainder(b) - remainder(a) || a - b);
  for (const i of first.slice(0, left)) whole[i]! += 1;
  return whole;
}

const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1));

function countBits(mask: number): number {
  let bits = 0;
  for (let rest = mask; rest !== 0; rest >>= 1) bits += rest & 1;
  return bits;
}

/**
 * A way of counting what visits take of whole days, such that the visits of a day never count more than `mostOf`: a dual feasible
 * function of their parts of a day. Each bounds the days of any visits from below by Σ count ÷ most.
 */
export type Filling =
  /** Their parts of a day themselves. */
  | { readonly kind: "parts" }
  /** The greatest whole number below (k + 1) parts: two visits of more than half a day never share one. */
  | { readonly kind: "steps"; readonly k: number }
  /** Pieces of one size: how many fit beside a long visit, and how many a short one is. */
  | { readonly kind: "pieces"; readonly size: number };

/** What a whole day counts. */
export function mostOf(filling: Filling): number {
  switch (filling.kind) {
    case "parts":
      return 1;
    case "steps":
      return filling.k;
    case "pieces":
      return piecesIn(filling);
    default:
      return filling satisfies never;
  }
}

/** A last digit is given away: a bound must not be rounded up. */
const DIGIT = 1e-9;

const piecesIn = ({ size }: { readonly size: number }): number => Math.floor(1 / size - DIGIT);

/**
 * What one visit counts.
 *
 *   parts   x
 *   steps   ⌈(k + 1)·x⌉ − 1                          of k: whole numbers below (k + 1)·x, whose sum stays below k + 1
 *   pieces  ⌊x / s⌋ for x ≤ ½, K − ⌊(1 − x) / s⌋ above  of K = ⌊1 / s⌋: beside the one visit above ½ there is room for ⌊(1 − x) / s⌋
 *           pieces, and shorter ones have no more pieces than room
 *
 * Source: steps as by S. P. Fekete and J. Schepers (Mathematical Programming 91, 2001), pieces as by J. Carlier, F. Clautiaux and
 * A. Moukrim (Computers & Operations Research 34, 2007): both from memory, unverified, and reasoned out above; tests/season/selection/
 * fillings.test.ts tries them on days that fit.
 *
 * @param share of a day, at most 1; above it whole days of one visit
 */
export function countOf(filling: Filling, share: number): number {
  if (share === 0) return 0;
  if (share > 1) return share * mostOf(filling);
  switch (filling.kind) {
    case "parts":
      return share;
    case "steps":
      return Math.max(0, Math.ceil((filling.k + 1) * share - DIGIT) - 1);
    case "pieces": {
      const { size } = filling;
      return share > 0.5 + DIGIT
        ? piecesIn(filling) - Math.min(piecesIn(filling), Math.floor((1 - share) / size + DIGIT))
        : Math.floor(share / size - DIGIT);
    }
    default:
      return filling satisfies never;
  }
}

/** Fewest days that a filling leaves for these shares, not rounded up. */
export const daysBy = (filling: Filling, shares: readonly number[]): number =>
  shares.reduce((sum, share) => sum + countOf(filling, share), 0) / mostOf(filling);

/** Those every visit is counted by from the start. */
export const usualFillings: readonly Filling[] = [
  { kind: "parts" },
  { kind: "steps", k: 1 },
  { kind: "steps", k: 2 },
  { kind: "steps", k: 3 },
];

/** Whole days that these fillings leave for these shares. */
export const leastDays = (fillings: readonly Filling[], shares: readonly number[]): number =>
  fillings.reduce((most, filling) => Math.max(most, Math.ceil(daysBy(filling, shares) - 1e-6)), 0);

/** A size is cut into at most so many pieces. */
const CUT_INTO = 4;
/** Of many different sizes so many are tried, spread over them. */
const TRIED = 200;

/** The filling in pieces that proves most days for these shares. */
export function strongestPieces(
  shares: readonly number[],
): { readonly filling: Filling; readonly days: number } | null {
  const ends = new Set<number>();
  for (const share of shares) if (share < 1) ends.add(share > 0.5 ? 1 - share + 2 * DIGIT : share);
  const sizes = [...ends].sort((a, b) => a - b);
  const step = Math.max(1, sizes.length / TRIED);
  let best: { readonly filling: Filling; readonly days: number } | null = null;
  for (let at = 0; at < sizes.length; at += step)
    for (let parts = 1; parts <= CUT_INTO; parts++) {
      // A hair below the size itself, so that it counts whole pieces.
      const size = (sizes[Math.floor(at)]! / parts) * (1 - 1e-7);
      if (!(size > 1e-3)) continue;
      const filling = { kind: "pieces", size } as const;
      const days = daysBy(filling, shares);
      if (best === null || days > best.days + DIGIT) best = { filling, days };
    }
  return best;
}

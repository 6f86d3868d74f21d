/** A best value with the bounds it is thought to lie in. Bounds of an assumption are an assumption too. */
export interface Band {
  readonly least: number;
  readonly best: number;
  readonly most: number;
}

/** The same arithmetic on the best value and both bounds: right where the result rises with the value. */
export const mapBand = ({ least, best, most }: Band, of: (value: number) => number): Band => ({
  least: of(least),
  best: of(best),
  most: of(most),
});

/** @throws RangeError unless from ≤ least ≤ best ≤ most ≤ to. */
export function verifyBand(band: Band, what: string, from: number, to: number): void {
  const { least, best, most } = band;
  if (!(from <= least && least <= best && best <= most && most <= to))
    throw new RangeError(
      `${what} needs ${from} ≤ least ≤ best ≤ most ≤ ${to}, got ${least}, ${best}, ${most}`,
    );
}

/** The worse of two bands, bound by bound: where two sources speak and neither may lower what the other found. */
export const worseBand = (a: Band, b: Band): Band => ({
  least: Math.max(a.least, b.least),
  best: Math.max(a.best, b.best),
  most: Math.max(a.most, b.most),
});

import { renewalWorth } from "../engineering/renewal-worth.ts";
import { type Cents, cents, fraction } from "../quantity/si.ts";
import type { DesignLife } from "../reference/design-life.ts";
import type { WorkKind } from "../reference/works.ts";

/** What one offer lasts and comes to over the horizon. */
export interface Life {
  /** Null where none of its works has a life of its own. */
  readonly years: number | null;
  /** Whole cents of today; null without a price. */
  readonly presentWorth: Cents | null;
}

/** A work with its priced lines. `preparation` is done for another work and lasts as long as that. */
export interface PricedWork {
  readonly work: WorkKind;
  readonly preparation: boolean;
  /** Null without a price. */
  readonly cost: Cents | null;
}

/**
 * Design life of an offer, the shortest of its own works, and the present worth of keeping it up over the horizon: each work is renewed at the end
 * of its own life, a preparatory one with the longest-lived work it prepares, a new cleanout by itself. What has no life is done once. Risk of
 * failure is not in it.
 */
export function judgeLife(works: readonly PricedWork[], table: DesignLife): Life {
  const lives = works
    .filter(({ preparation }) => !preparation)
    .flatMap(({ work }) => table.years[work] ?? []);
  const years = lives.length === 0 ? null : Math.min(...lives);
  const rate = fraction(table.discountRate);
  let worth = 0;
  for (const { work, preparation, cost } of works) {
    if (cost === null) return { years, presentWorth: null };
    const lasts =
      preparation && work !== "new cleanout" && lives.length > 0 ? Math.max(...lives) : table.years[work];
    worth += lasts === null ? cost : renewalWorth(cost, lasts, table.horizonYears, rate);
  }
  return { years, presentWorth: cents(Math.round(worth)) };
}

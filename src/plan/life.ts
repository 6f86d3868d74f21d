import { renewalWorth } from "../engineering/renewal-worth.ts";
import { onceFor } from "../quantity/once-for.ts";
import { type Cents, cents, fraction } from "../quantity/si.ts";
import type { DesignLife } from "../reference/design-life.ts";
import { type WorkKind, workKinds } from "../reference/works.ts";

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
  let shortest: number | null = null;
  let longest: WorkKind | null = null;
  for (const { work, preparation } of works) {
    const life = table.years[work];
    if (preparation || life === null) continue;
    if (shortest === null || life < shortest) shortest = life;
    if (longest === null || life > table.years[longest]!) longest = work;
  }
  const renewals = renewalsBy(table);
  let worth = 0;
  for (const { work, preparation, cost } of works) {
    if (cost === null) return { years: shortest, presentWorth: null };
    const renewedWith = preparation && work !== "new cleanout" ? (longest ?? work) : work;
    worth += cost * renewals[renewedWith];
  }
  return { years: shortest, presentWorth: cents(Math.round(worth)) };
}

type Renewals = Readonly<Record<WorkKind, number>>;

/**
 * Present worth of a work and its renewals, over its cost: the table's, whatever the lateral. Worked out anew for each work of each offer they
 * took a sixtieth of the plan's time.
 */
const renewalsBy = onceFor(({ years, horizonYears, discountRate }: DesignLife): Renewals => {
  const worthOf = (life: number | null) =>
    life === null ? 1 : renewalWorth(1, life, horizonYears, fraction(discountRate));
  return Object.fromEntries(workKinds.map((work) => [work, worthOf(years[work])])) as Renewals;
});

import type { TreatmentKind } from "../columns/plan-columns.ts";
import { renewalWorth } from "../engineering/renewal-worth.ts";
import { type Cents, cents, fraction } from "../quantity/si.ts";
import type { DesignLife } from "../reference/design-life.ts";
import type { Cost } from "./cost.ts";

/** What one offer lasts and comes to over the horizon. */
export interface Life {
  /** Null where the treatment has no life of its own. */
  readonly years: number | null;
  /** Whole cents of today; null without a life or a price. */
  readonly presentWorth: Cents | null;
}

/** Design life of a treatment, and the present worth of keeping it up over the horizon. Risk of failure is not in it. */
export function judgeLife(treatment: TreatmentKind, cost: Cost, table: DesignLife): Life {
  const years = table.years[treatment];
  if (years === null || cost.total === null) return { years, presentWorth: null };
  const worth = renewalWorth(cost.total, years, table.horizonYears, fraction(table.discountRate));
  return { years, presentWorth: cents(Math.round(worth)) };
}

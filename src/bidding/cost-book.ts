import type { UnitSystem } from "../quantity/measure.ts";
import type { BidItemKey } from "../reference/bid-items.ts";

/**
 * What work costs one contractor, or the city's engineer: rates, crews, production, materials, and what comes on top.
 * Money in units of the book's currency, as people write it; it becomes whole cents when a price is made.
 */
export interface CostBook {
  readonly source: string;
  readonly currency: string;
  /** What one unit of an item that is measured is: a foot and a square foot, or a metre and a square metre. */
  readonly units: UnitSystem;
  /** A person's cost for an hour, with all that is paid on top of wages. */
  readonly roles: Readonly<Record<string, number>>;
  /** For an hour, with fuel and upkeep. */
  readonly equipment: Readonly<Record<string, number>>;
  readonly crews: Readonly<Record<string, Crew>>;
  readonly materials: Readonly<Record<string, Material>>;
  readonly items: Readonly<Partial<Record<BidItemKey, ItemCosts>>>;
  readonly onTop: OnTop;
}

export interface Crew {
  /** How many of each role. */
  readonly people: Readonly<Record<string, number>>;
  readonly equipment: Readonly<Record<string, number>>;
}

export interface Material {
  readonly unit: string;
  readonly price: number;
  /** Bought and not built in, as a part of what is built in. */
  readonly waste: number;
}

/** What one unit of an item takes. */
export interface UnitCosts {
  readonly crew?: string | undefined;
  /** Minutes of the crew for a unit; `plan`: from the crew time of the program's plan. */
  readonly minutes?: number | "plan" | undefined;
  /** Quantity built in for a unit, by material. */
  readonly materials?: Readonly<Record<string, number>> | undefined;
  readonly subcontract?: number | undefined;
  /** Cost of the item that does not change with its quantity, spread over the quantity of all its sizes. */
  readonly perJob?: number | undefined;
}

export interface ItemCosts extends UnitCosts {
  /** What is otherwise for a size or a surface. Where there are sizes, one that is not among them has no price. */
  readonly sizes?: Readonly<Record<string, UnitCosts>> | undefined;
}

/** Parts of one, each on the sum before it; bonds and insurance on the price itself. */
export interface OnTop {
  readonly contingency: number;
  readonly overhead: number;
  readonly profit: number;
  readonly bonds: number;
  readonly insurance: number;
}

import type { UnitSystem } from "../quantity/measure.ts";
import type { Cents, Day } from "../quantity/si.ts";
import type { Assumptions } from "./assumptions.ts";
import type { BidItems } from "./bid-items.ts";
import type { DesignCriteria, SurfaceWheels } from "./design-criteria.ts";
import type { LinerSystem } from "./liner-systems.ts";
import type { LiveLoads } from "./live-loads.ts";
import type { Resin } from "./resins.ts";
import type { RiskTables } from "./risk-tables.ts";
import type { TreatmentRules } from "./treatment-rules.ts";
import type { WorkSteps } from "./work-steps.ts";

/** What a program says of itself on every output. */
export interface ProgramHead {
  readonly name: string;
  /** The day the plan is made for; the program has no other clock. */
  readonly asOf: Day;
  readonly units: UnitSystem;
  /** ISO 4217 code. */
  readonly currency: string;
}

/**
 * Everything the calculation assumes, gathered from the reference tables and the program's settings: plain data
 * that can be cloned to a worker thread.
 */
export interface Basis {
  readonly program: ProgramHead;
  readonly assumptions: Assumptions;
  readonly risk: RiskTables;
  readonly treatments: TreatmentRules;
  readonly criteria: DesignCriteria;
  readonly surfaceWheels: SurfaceWheels;
  readonly liveLoads: LiveLoads;
  readonly system: LinerSystem;
  readonly resin: Resin;
  readonly steps: WorkSteps;
  readonly bidItems: BidItems;
  /** Unit prices by bid line key, `item` or `item | variant`; an item without one has no cost. */
  readonly prices: Readonly<Record<string, Cents>>;
  /** Who the prices are from, for every place a cost is shown. */
  readonly priceSource: string;
}

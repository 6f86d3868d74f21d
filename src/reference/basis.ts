import type { UnitSystem } from "../quantity/measure.ts";
import type { DateStyle } from "../quantity/show-date.ts";
import type { Cents, Day } from "../quantity/si.ts";
import type { Assumptions } from "./assumptions.ts";
import type { BidItems } from "./bid-items.ts";
import type { Cure } from "./cure-methods.ts";
import type { DesignCriteria, SurfaceWheels } from "./design-criteria.ts";
import type { DesignLife } from "./design-life.ts";
import type { Deterioration } from "./deterioration.ts";
import type { DrainFlow } from "./drain-flow.ts";
import type { EffluentTable } from "./effluents.ts";
import type { FailureCostTable } from "./failure-costs.ts";
import type { FailureModes } from "./failure-modes.ts";
import type { HostTable } from "./hosts.ts";
import type { LinerSystem, PlannedUse, UsualUse } from "./liner-systems.ts";
import type { LiveLoads } from "./live-loads.ts";
import type { MaterialRules } from "./materials.ts";
import type { Placing, PlacingTable } from "./placing-methods.ts";
import type { RankSpreads } from "./rank-spreads.ts";
import type { RecipeText } from "./recipe.ts";
import type { PotLifeMargin, Resin } from "./resins.ts";
import type { RiskTables } from "./risk-tables.ts";
import type { RuleTable } from "./rule-table.ts";
import type { BudgetPays, MainsLined, SeasonCalendar, SeasonDays } from "./season-days.ts";
import type { Sewersheds } from "./sewersheds.ts";
import type { StandardScopes } from "./standard-scopes.ts";
import type { TreatmentEffects } from "./treatment-effects.ts";
import type { TreatmentRules } from "./treatment-rules.ts";
import type { Uncertainty } from "./uncertainty.ts";
import type { ShopChart, WetOutRules } from "./wet-out-rules.ts";
import type { WorkSteps } from "./work-steps.ts";

export const papers = ["letter", "A4"] as const;

/** How what is printed looks; no result hangs on it. */
export interface PrintStyle {
  readonly paper: (typeof papers)[number];
  readonly dates: DateStyle;
}

/** What a program says of itself on every output. */
export interface ProgramHead {
  readonly name: string;
  /** The day the plan is made for; the program has no other clock. */
  readonly asOf: Day;
  readonly units: UnitSystem;
  /** ISO 4217 code. */
  readonly currency: string;
  readonly print: PrintStyle;
}

/** The system chosen for one use, with its resin, and how a crew cures and places it. */
export interface ChosenLiner {
  readonly system: LinerSystem;
  readonly resin: Resin;
  readonly cure: Cure;
  readonly placing: Placing;
}

/** The liner of each use; no one-piece liner unless the program names a system of it. */
export type ChosenLiners = Readonly<Record<UsualUse, ChosenLiner>> & {
  readonly "one-piece": ChosenLiner | null;
};

/** @throws RangeError for a use without a system: the verdicts refuse it first */
export function chosenFor(liners: ChosenLiners, use: PlannedUse): ChosenLiner {
  const chosen = liners[use];
  if (chosen === null) throw new RangeError(`chosenFor: the program names no ${use} liner system`);
  return chosen;
}

/** Every liner there is a system for. */
export const listChosen = (liners: ChosenLiners): readonly ChosenLiner[] =>
  Object.values(liners).filter((chosen) => chosen !== null);

/**
 * Everything the calculation assumes, gathered from the reference tables and the program's settings: plain data
 * that can be cloned to a worker thread.
 */
export interface Basis {
  readonly program: ProgramHead;
  readonly assumptions: Assumptions;
  readonly risk: RiskTables;
  /** Scores, columns and filters of the program's own; see plan/recipe.ts for their compiled form. */
  readonly recipe: RecipeText;
  readonly failureModes: FailureModes;
  /** Null where the program's currency is not the table's: then no loss is worked out in money. */
  readonly failureCosts: FailureCostTable | null;
  readonly deterioration: Deterioration;
  readonly rankSpreads: RankSpreads;
  readonly uncertainty: Uncertainty;
  /** People and measured flows by district; none where the program gives none. */
  readonly sewersheds: Sewersheds;
  readonly treatments: TreatmentRules;
  readonly effects: TreatmentEffects;
  /** Which treatments are offered, as text; see plan/rules.ts for their compiled form. */
  readonly rules: RuleTable;
  readonly criteria: DesignCriteria;
  readonly surfaceWheels: SurfaceWheels;
  readonly liveLoads: LiveLoads;
  readonly liners: ChosenLiners;
  readonly effluents: EffluentTable;
  readonly scopes: StandardScopes;
  readonly placing: PlacingTable;
  readonly hosts: HostTable;
  readonly drainFlow: DrainFlow;
  readonly wetOut: WetOutRules;
  readonly potLifeMargin: PotLifeMargin;
  /** The shop's own chart of resin; null where the program gives none. */
  readonly shopChart: ShopChart | null;
  readonly materials: MaterialRules;
  readonly steps: WorkSteps;
  readonly life: DesignLife;
  /** Days a season loses and spends beside the work. */
  readonly seasonDays: SeasonDays;
  /** When crews work; null where the program does not say. */
  readonly calendar: SeasonCalendar | null;
  /** When the mains that are to be lined are lined. */
  readonly mainsLined: MainsLined;
  /** What of a cost the season's budget counts. */
  readonly budgetPays: BudgetPays;
  readonly bidItems: BidItems;
  /** Unit prices by bid line key, `item` or `item | variant`; an item without one has no cost. */
  readonly prices: Readonly<Record<string, Cents>>;
  /** Who the prices are from, for every place a cost is shown. */
  readonly priceSource: string;
}

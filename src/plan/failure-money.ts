import type { Band } from "../engineering/band.ts";
import {
  type CostPart,
  costOfFailure,
  costOfTreatment,
  expectedAnnualLoss,
  presentOfDoingNothing,
  sumParts,
} from "../engineering/expected-loss.ts";
import type { FailureMode } from "../engineering/failure-probability.ts";
import { treatmentPerYear, type YearlyFlow } from "../engineering/infiltration.ts";
import { onceFor } from "../quantity/once-for.ts";
import { fraction } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { costsOf, type FailureCostTable } from "../reference/failure-costs.ts";
import type { Lateral } from "./lateral.ts";
import { orAssumed, type Stated } from "./stated.ts";

/** Chance of each mode in the coming year. */
export type Chances = Readonly<Record<FailureMode, Stated<Band>>>;

/** What a failure of each mode is expected to cost, part by part. */
export type FailureParts = Readonly<Record<FailureMode, readonly CostPart[]>>;

/** What the failures of a lateral are expected to cost. */
export interface FailureMoney {
  readonly surface: Stated<string>;
  readonly parts: FailureParts;
  /** Sums of the parts, cents, not rounded. */
  readonly costs: Readonly<Record<FailureMode, number>>;
  /** Cents a year, not rounded. */
  readonly annualLoss: Band;
  /** Cents of today over the horizon, left as it is. */
  readonly presentLoss: Band;
}

/** Money by mode. Clear water of unknown amount costs nothing here, and the explanation says that it is left out. */
export function moneyOf(
  lateral: Pick<Lateral, "surface">,
  chances: Chances,
  infiltration: YearlyFlow | null,
  { failureCosts, assumptions, life }: Pick<Basis, "failureCosts" | "assumptions" | "life">,
): FailureMoney | null {
  if (failureCosts === null) return null;
  const surface = orAssumed(lateral.surface, assumptions.surface);
  const dry = dryCostsUnder(surface.value, failureCosts);
  // The expected flow is its chance times the flow of one that leaks, so the cost of a leak is the cost of the flow over the chance.
  const leak = chances.infiltration.value.best;
  const treatment =
    infiltration === null || leak === 0
      ? 0
      : treatmentPerYear(infiltration, failureCosts.treatment.centsPerCubicMetre) / leak;
  return new MoneyOfFailure(surface, dry, treatment, chances, life);
}

/** Money of which a plan's totals ask for the present loss alone: the parts and the loss of a year are put together when somebody asks. */
class MoneyOfFailure implements FailureMoney {
  readonly surface: Stated<string>;
  readonly costs: FailureMoney["costs"];
  readonly presentLoss: Band;
  readonly #dry: DryCosts;
  readonly #chances: Readonly<Record<FailureMode, Band>>;

  constructor(
    surface: Stated<string>,
    dry: DryCosts,
    treatment: number,
    { structural, blockage, infiltration }: Chances,
    { horizonYears, discountRate }: Basis["life"],
  ) {
    this.surface = surface;
    this.costs = { structural: dry.structural.cost, blockage: dry.blockage.cost, infiltration: treatment };
    this.#dry = dry;
    this.#chances = {
      structural: structural.value,
      blockage: blockage.value,
      infiltration: infiltration.value,
    };
    this.presentLoss = presentOfDoingNothing(this.#chances, this.costs, horizonYears, fraction(discountRate));
  }

  get parts(): FailureParts {
    const { structural, blockage } = this.#dry;
    return {
      structural: structural.parts,
      blockage: blockage.parts,
      infiltration: costOfTreatment(this.costs.infiltration),
    };
  }

  get annualLoss(): Band {
    return expectedAnnualLoss(this.#chances, this.costs);
  }
}

/** What a failure costs but for its clear water, which is the same for all laterals under one surface. */
type DryCosts = Readonly<
  Record<"structural" | "blockage", { readonly parts: readonly CostPart[]; readonly cost: number }>
>;

function dryCostsUnder(surface: string, table: FailureCostTable): DryCosts {
  const bySurface = dryCosts(table);
  let known = bySurface.get(surface);
  if (known === undefined) {
    const costs = costsOf(table);
    const summed = (mode: keyof DryCosts) => {
      const parts = costOfFailure(mode, surface, 0, costs);
      return { parts, cost: sumParts(parts) };
    };
    known = { structural: summed("structural"), blockage: summed("blockage") };
    bySurface.set(surface, known);
  }
  return known;
}

const dryCosts = onceFor((_: FailureCostTable) => new Map<string, DryCosts>());

import { dayFromIso } from "../quantity/calendar.ts";
import type { Basis, ProgramHead } from "../reference/basis.ts";
import { houseBidItems } from "../reference/bid-items.ts";
import { houseSurfaceWheels } from "../reference/design-criteria.ts";
import { liveLoads } from "../reference/live-loads.ts";
import type { RecipeText } from "../reference/recipe.ts";
import { standardScopes } from "../reference/standard-scopes.ts";
import { layCures } from "./changed-cures.ts";
import { layDesign } from "./changed-design.ts";
import { layEffects } from "./changed-effects.ts";
import { layFailureCosts, layFailureModes } from "./changed-failure.ts";
import { layDrainFlow, layHosts } from "./changed-hosts.ts";
import { layConnection, layEffluents, layLiners } from "./changed-liner.ts";
import { layMaterials } from "./changed-materials.ts";
import { layDeterioration, layRankSpreads, laySewersheds } from "./changed-network.ts";
import { layPlacing, layWays } from "./changed-placing.ts";
import {
  layAssumptions,
  layDesignLife,
  layRisk,
  layRules,
  layTreatments,
  layWorkSteps,
} from "./changed-planning.ts";
import { layUncertainty } from "./changed-uncertainty.ts";
import { layPotLifeMargin, layWetOut } from "./changed-wet-out.ts";
import { layCalendar, layMains, laySeasonDays } from "./season-calendar-schema.ts";
import type { Fault } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { layShopChart } from "./shop-chart.ts";
import { layPrices } from "./unit-prices.ts";

/**
 * Everything the calculation assumes, for this program: the reference tables with the program's changes laid over
 * them. What a program changes says so in its source. A program that names no design set or liner system has the
 * first of the tables, and the basis says which.
 *
 * @throws RangeError when the settings were not read by {@link readSettings}, which refuses what this cannot use
 */
export function basisForSettings(settings: Settings): Basis {
  const { basis, faults } = layBasis(settings);
  if (basis === null) throw new RangeError(`basisForSettings: unchecked settings, ${JSON.stringify(faults)}`);
  return basis;
}

/** The basis, or every fault that keeps it from being one: checking and computing are the same code. */
export function layBasis(settings: Settings): {
  readonly basis: Basis | null;
  readonly faults: readonly Fault[];
} {
  const faults: Fault[] = [];
  const criteria = layDesign(settings, faults);
  const systems = layLiners(settings, faults);
  const cures = layCures(settings, faults);
  const placing = layPlacing(settings, faults);
  const liners =
    systems === null || cures === null || placing === null
      ? null
      : layWays(settings, systems, cures, placing, faults);
  const shopChart = systems === null ? null : layShopChart(settings, systems, faults);
  const wetOut = layWetOut(settings, faults);
  const potLifeMargin = layPotLifeMargin(settings, faults);
  const materials = layMaterials(settings, faults);
  const hosts = layHosts(settings, faults);
  const drainFlow = layDrainFlow(settings, faults);
  const connection = layConnection(settings, systems?.connection.system ?? null, faults);
  const assumptions = layAssumptions(settings, faults);
  const risk = layRisk(settings, faults);
  const treatments = layTreatments(settings, faults);
  const rules = layRules(settings, faults);
  const steps = layWorkSteps(settings, faults);
  const effects = layEffects(settings, faults);
  const life = layDesignLife(settings, faults);
  const failureModes = layFailureModes(settings, faults);
  const failureCosts = layFailureCosts(settings, faults);
  const deterioration = layDeterioration(settings, faults);
  const rankSpreads = layRankSpreads(settings, faults);
  const uncertainty = layUncertainty(settings, faults);
  const sewersheds = laySewersheds(settings, faults);
  const seasonDays = laySeasonDays(settings, faults);
  const prices = layPrices(settings, faults);
  if (
    faults.length > 0 ||
    criteria === null ||
    placing === null ||
    liners === null ||
    wetOut === null ||
    potLifeMargin === null ||
    materials === null ||
    hosts === null ||
    drainFlow === null ||
    connection === null ||
    assumptions === null ||
    risk === null ||
    treatments === null ||
    effects === null ||
    rules === null ||
    steps === null ||
    life === null ||
    failureModes === null ||
    deterioration === null ||
    rankSpreads === null ||
    uncertainty === null ||
    sewersheds === null ||
    seasonDays === null
  ) {
    return { basis: null, faults };
  }
  const basis: Basis = {
    program: programHead(settings),
    assumptions,
    risk,
    recipe: recipeOf(settings),
    failureModes,
    failureCosts,
    deterioration,
    rankSpreads,
    uncertainty,
    sewersheds,
    treatments: { ...treatments, connection },
    effects,
    rules,
    criteria,
    surfaceWheels: houseSurfaceWheels,
    liveLoads,
    liners,
    effluents: layEffluents(settings),
    scopes: standardScopes,
    placing,
    hosts,
    drainFlow,
    wetOut,
    potLifeMargin,
    shopChart,
    materials,
    steps,
    life,
    seasonDays,
    calendar: layCalendar(settings.season?.calendar),
    mainsLined: layMains(settings.season?.mains_lined),
    budgetPays: settings.season?.budget_pays ?? "whole cost",
    bidItems: houseBidItems,
    prices,
    priceSource: settings.unit_prices?.source ?? "no unit prices in program.json",
  };
  return { basis, faults };
}

/** The recipe's text as written; whether it can be read is for those who have the language, in commands/. */
const recipeOf = ({ recipe }: Settings): RecipeText => ({
  likelihood: recipe?.likelihood ?? null,
  consequence: recipe?.consequence ?? null,
  score: recipe?.score ?? null,
  ...ownColumnsOf(recipe?.columns ?? {}),
  filters: recipe?.filters ?? {},
});

type WrittenColumns = NonNullable<NonNullable<Settings["recipe"]>["columns"]>;

/** Formulas and headings by key, however the column is written. */
function ownColumnsOf(written: WrittenColumns): Pick<RecipeText, "columns" | "headings"> {
  const columns: Record<string, string> = {};
  const headings: Record<string, string> = {};
  for (const [key, column] of Object.entries(written)) {
    columns[key] = typeof column === "string" ? column : column.formula;
    if (typeof column !== "string") headings[key] = column.heading;
  }
  return { columns, headings };
}

/** @throws RangeError when the settings were not read by {@link readSettings} */
export function programHead(settings: Settings): ProgramHead {
  const asOf = dayFromIso(settings.as_of);
  if (asOf === null) throw new RangeError(`programHead: ${settings.as_of} is no day`);
  const { name, units, currency, print } = settings;
  const paper = print?.paper ?? (units === "us" ? "letter" : "A4");
  return { name, asOf, units, currency, print: { paper, dates: print?.dates ?? "ISO" } };
}

import { surfaces } from "../columns/lateral-columns.ts";
import { LITRES_PER_GALLON } from "../quantity/factors.ts";
import { type FailureCostTable, failureCostsSchema, houseFailureCosts } from "../reference/failure-costs.ts";
import { type FailureModes, failureModesSchema, houseFailureModes } from "../reference/failure-modes.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { failureShares } from "./failure-schema.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { priceInCents } from "./unit-prices.ts";

type WrittenCosts = NonNullable<NonNullable<Settings["criteria"]>["failure_costs"]>;

const COSTS = ["criteria", "failure_costs"];
const CUBIC_METRES_PER_1000_GALLONS = LITRES_PER_GALLON;
const treatmentKeys = ["treatment_per_cubic_metre", "treatment_per_1000_gallons"] as const;
const AMOUNT = "an amount of nothing or more, with at most two decimals, such as 9000 or 350.50";

/**
 * What failures cost in the program's currency. A program in another currency than the table's must give every
 * amount of its own; one that gives none has no money at risk, which is null.
 */
export function layFailureCosts(settings: Settings, faults: Fault[]): FailureCostTable | null {
  const changes = settings.criteria?.failure_costs;
  const house = houseFailureCosts;
  const sameMoney = settings.currency === house.currency;
  if (changes === undefined) return sameMoney ? house : null;
  const said = costFaults(changes, settings, sameMoney);
  faults.push(...said);
  if (said.length > 0) return null;

  const cents = (amount: number | undefined) => (amount === undefined ? undefined : priceInCents(amount));
  const source = (keys: readonly (keyof WrittenCosts)[], replaced: FailureCostTable["spill"]["source"]) =>
    keys.every((key) => changes[key] === undefined)
      ? replaced
      : changedSource(
          [...COSTS, keys.find((key) => changes[key] !== undefined)].join("."),
          replaced,
          `${changes.source}.`,
        );
  const priced = (key: "backup_claim" | "spill" | "clearing", base: FailureCostTable["spill"]) => ({
    cents: cents(changes[key]),
    source: source([key], base.source),
  });
  const shares = (key: "backs_up" | "spills", base: FailureCostTable["spills"]) => ({
    ...(asTable(changes[key] ?? {}, failureShares) as object),
    source: source([key], base.source),
  });
  const table = overlaid(house, {
    currency: settings.currency,
    digUp: {
      source: source(["dig_up"], house.digUp.source),
      bySurface: Object.fromEntries(
        Object.entries(changes.dig_up ?? {}).map(([surface, amount]) => [surface, cents(amount)]),
      ),
    },
    backupClaim: priced("backup_claim", house.backupClaim),
    spill: priced("spill", house.spill),
    clearing: priced("clearing", house.clearing),
    backsUp: shares("backs_up", house.backsUp),
    spills: shares("spills", house.spills),
    treatment: {
      centsPerCubicMetre: treatmentCents(changes),
      source: source(treatmentKeys, house.treatment.source),
    },
  });
  return checkedTable(failureCostsSchema, table, settings, COSTS, {}, faults);
}

/** Cents a cubic metre, not rounded: it is a rate. */
const treatmentCents = (changes: WrittenCosts): number | undefined =>
  changes.treatment_per_cubic_metre !== undefined
    ? changes.treatment_per_cubic_metre * 100
    : changes.treatment_per_1000_gallons !== undefined
      ? (changes.treatment_per_1000_gallons * 100) / CUBIC_METRES_PER_1000_GALLONS
      : undefined;

/** Everything about the amounts that the table's own limits cannot say in the words of program.json. */
function costFaults(changes: WrittenCosts, settings: Settings, sameMoney: boolean): readonly Fault[] {
  const at = (...path: string[]) => [...COSTS, ...path];
  const fault = (path: readonly string[], expected: string) => faultAt(settings, path, expected);
  const amounts = [
    ...Object.entries(changes.dig_up ?? {}).map(
      ([surface, amount]) => [at("dig_up", surface), amount] as const,
    ),
    ...(["backup_claim", "spill", "clearing"] as const).map((key) => [at(key), changes[key]] as const),
  ];
  const missing = sameMoney
    ? []
    : [
        ...surfaces
          .filter((surface) => changes.dig_up?.[surface] === undefined)
          .map((key) => at("dig_up", key)),
        ...(["backup_claim", "spill", "clearing"] as const)
          .filter((key) => changes[key] === undefined)
          .map((key) => at(key)),
        ...(treatmentCents(changes) === undefined ? [at(treatmentKeys[0])] : []),
      ];
  const [perCubicMetre, perGallons] = treatmentKeys.map((key) => changes[key]);
  return [
    ...(changes.currency === settings.currency
      ? []
      : [
          fault(
            at("currency"),
            `"${settings.currency}", the currency of the program\nGive the amounts in ${settings.currency}, or take "failure_costs" out.`,
          ),
        ]),
    ...missing.map((path) =>
      fault(
        path,
        `an amount in ${settings.currency}: the program's own table is in ${houseFailureCosts.currency}, so every amount is needed`,
      ),
    ),
    ...amounts.flatMap(([path, amount]) =>
      amount === undefined || priceInCents(amount) !== null ? [] : [fault(path, AMOUNT)],
    ),
    ...treatmentKeys.flatMap((key) => {
      const rate = changes[key];
      return rate === undefined || rate >= 0 ? [] : [fault(at(key), "an amount of nothing or more")];
    }),
    ...(perCubicMetre !== undefined && perGallons !== undefined
      ? [
          fault(
            at(treatmentKeys[1]),
            `nothing: the price of treatment is given by "${treatmentKeys[0]}"\nTake one of the two out.`,
          ),
        ]
      : []),
  ];
}

/** How likely failures are, with the program's changes laid over the table. */
export function layFailureModes(settings: Settings, faults: Fault[]): FailureModes | null {
  const changes = settings.criteria?.failure_modes;
  if (changes === undefined) return houseFailureModes;
  const house = houseFailureModes;
  const at = "criteria.failure_modes";
  const source = (key: string, value: unknown, replaced: FailureModes["wording"]["source"]) =>
    value === undefined ? replaced : changedSource(`${at}.${key}`, replaced, `Changes ${key}.`);
  const { structural, reading, blockage, infiltration } = changes;
  const { call_share: callShare, level, ...rates } = blockage ?? {};
  const { poor_from: poorFrom, ...read } = reading ?? {};
  const { source: measuredBy, ...unitRate } = infiltration?.unit_rate ?? {};
  const laid = asTable(
    {
      structural,
      reading,
      blockage,
      infiltration: {
        ...infiltration,
        ...(infiltration?.unit_rate === undefined ? {} : { unit_rate: unitRate }),
      },
    },
    failureShares,
  );
  const table = overlaid(overlaid(house, laid), {
    structural: { source: source("structural", structural, house.structural.source) },
    reading: {
      source: source("reading", given(read), house.reading.source),
      poorFromSource: source("reading.poor_from", poorFrom, house.reading.poorFromSource),
    },
    blockage: {
      source: source("blockage", given(rates), house.blockage.source),
      callShareSource: source("blockage.call_share", callShare, house.blockage.callShareSource),
      levelSource: source("blockage.level", level, house.blockage.levelSource),
    },
    infiltration: {
      source: source("infiltration.leaks_by_grade", infiltration?.leaks_by_grade, house.infiltration.source),
      sealed: {
        source: source("infiltration.sealed", infiltration?.sealed, house.infiltration.sealed.source),
      },
      migration: {
        source: source(
          "infiltration.migration",
          infiltration?.migration,
          house.infiltration.migration.source,
        ),
      },
      unitRate: {
        source:
          infiltration?.unit_rate === undefined
            ? house.infiltration.unitRate.source
            : changedSource(
                `${at}.infiltration.unit_rate`,
                house.infiltration.unitRate.source,
                measuredBy === undefined ? "Changes the rate." : `${measuredBy}.`,
              ),
      },
    },
  });
  return checkedTable(failureModesSchema, table, settings, at.split("."), {}, faults);
}

/** A group with something in it. */
const given = (group: object): object | undefined => (Object.keys(group).length === 0 ? undefined : group);

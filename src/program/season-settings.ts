import type { BudgetPays } from "../reference/season-days.ts";
import type { JsonPath } from "./json-places.ts";
import { neededForSelection, seasonSchema, selectionKeys } from "./season-schema.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { priceInCents } from "./unit-prices.ts";
import { partOf } from "./written-values.ts";

/** The season as the selection takes it: whole cents, parts of one. A rule that is not written is absent, not zero. */
export interface SeasonSettings {
  readonly budget: number;
  readonly reserve: number;
  readonly objective: { readonly lossAvoided: number; readonly infiltrationRemoved: number };
  readonly crewDays: Readonly<Partial<Record<string, number>>>;
  readonly districts: Readonly<Record<string, DistrictShare>>;
  readonly fairShare: number;
  readonly mobilization: number;
  readonly mustDo: readonly string[];
  readonly mustNot: readonly string[];
  readonly onlyAfter: Readonly<Record<string, readonly string[]>>;
}

/** What the budget of a season counted, as its settings were saved with it. */
export function budgetPaysOf(season: unknown): BudgetPays {
  const written = seasonSchema.safeParse(season);
  return (written.success ? written.data.budget_pays : undefined) ?? "whole cost";
}

export interface DistrictShare {
  readonly leastLaterals: number;
  readonly mostLaterals: number;
  readonly leastMoney: number;
  readonly mostMoney: number;
}

/** Null where program.json has no season with a budget. @throws RangeError on settings that were not checked by {@link seasonFaults} */
export function seasonOf({ season }: Pick<Settings, "season">): SeasonSettings | null {
  if (season?.budget === undefined || season.objective === undefined) return null;
  const centsOf = (amount: number): number => {
    const exact = priceInCents(amount);
    if (exact === null) throw new RangeError(`seasonOf: unchecked amount ${amount}`);
    return exact;
  };
  const { objective } = season;
  return {
    budget: centsOf(season.budget),
    reserve: season.reserve === undefined ? 0 : partOf(season.reserve),
    objective:
      objective === "loss avoided"
        ? { lossAvoided: 1, infiltrationRemoved: 0 }
        : objective === "infiltration removed"
          ? { lossAvoided: 0, infiltrationRemoved: 1 }
          : { lossAvoided: objective.loss_avoided, infiltrationRemoved: objective.infiltration_removed },
    crewDays: season.crew_days ?? {},
    districts: Object.fromEntries(
      Object.entries(season.districts ?? {}).map(([district, share]) => [
        district,
        {
          leastLaterals: share.least_laterals ?? 0,
          mostLaterals: share.most_laterals ?? Number.POSITIVE_INFINITY,
          leastMoney: share.least_money === undefined ? 0 : centsOf(share.least_money),
          mostMoney: share.most_money === undefined ? Number.POSITIVE_INFINITY : centsOf(share.most_money),
        },
      ]),
    ),
    fairShare: season.fair_share === undefined ? 0 : partOf(season.fair_share),
    mobilization:
      season.mobilization_per_district === undefined ? 0 : centsOf(season.mobilization_per_district),
    mustDo: season.must_do ?? [],
    mustNot: season.must_not ?? [],
    onlyAfter: season.only_after ?? {},
  };
}

/** What the shape of `season` cannot say: amounts, parts, and rules that contradict each other as written. */
export function seasonFaults(settings: Settings): readonly Fault[] {
  const { season } = settings;
  if (season === undefined) return [];
  const faults: Fault[] = [];
  const refuse = (path: JsonPath, expected: string) =>
    void faults.push(faultAt(settings, ["season", ...path], expected));
  const money = (path: JsonPath, amount: number | undefined) => {
    if (amount !== undefined && priceInCents(amount) === null)
      refuse(path, "an amount of nothing or more, with at most two decimals");
  };
  const selects = (Object.keys(selectionKeys) as (keyof typeof selectionKeys)[]).some(
    (key) => season[key] !== undefined,
  );
  for (const key of ["budget", "objective"] as const)
    if (selects && season[key] === undefined)
      refuse([key], `the season's ${key}, which its other rules need: ${neededForSelection[key]}`);
  money(["budget"], season.budget);
  money(["mobilization_per_district"], season.mobilization_per_district);
  for (const key of ["reserve", "fair_share"] as const) {
    const written = season[key];
    if (written !== undefined && !(partOf(written) >= 0 && partOf(written) < 1))
      refuse([key], "a part from 0 to below 1");
  }
  if (typeof season.objective === "object") {
    const weights = Object.values(season.objective);
    if (weights.some((weight) => !(weight >= 0)) || weights.every((weight) => weight === 0))
      refuse(["objective"], "weights of nothing or more, at least one of them above 0");
  }
  for (const [crew, days] of Object.entries(season.crew_days ?? {}))
    if (!(days >= 0)) refuse(["crew_days", crew], "crew-days of nothing or more");
  for (const [district, share] of Object.entries(season.districts ?? {})) {
    const at = ["districts", district];
    for (const key of ["least_money", "most_money"] as const) money([...at, key], share[key]);
    for (const key of ["least_laterals", "most_laterals"] as const)
      if (share[key] !== undefined && share[key] < 0) refuse([...at, key], "a number of laterals, 0 or more");
    for (const of of ["laterals", "money"] as const) {
      const least = share[`least_${of}`];
      const most = share[`most_${of}`];
      if (least !== undefined && most !== undefined && least > most)
        refuse([...at, `least_${of}`], `no more than most_${of}, which is ${most}`);
    }
  }
  const mustNot = new Set(season.must_not);
  for (const [i, id] of (season.must_do ?? []).entries())
    if (mustNot.has(id)) refuse(["must_do", i], "a lateral that is not in must_not as well");
  return faults;
}

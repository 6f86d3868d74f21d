import { crewKinds } from "../../columns/plan-columns.ts";
import type { Basis } from "../../reference/basis.ts";
import { numberAt, type Table, textAt } from "../../sheet/table.ts";
import { asBudgetCounts } from "../budget-counts.ts";
import { waitForMain } from "../main-first.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { visitMinutesKey } from "../visit-keys.ts";
import { leastMinutes, NOTHING_YET, type WorkSoFar } from "./held-laterals.ts";
import {
  type BegunLateral,
  type HeldLateral,
  holdFixed,
  spentSoFar,
  takenByDistrict,
  takeOffBegun,
} from "./hold-fixed.ts";
import type { DistrictLimits, SelectionProblem } from "./selection-problem.ts";

/** The rules of a season, as the settings give them: cents, parts of one, ids. */
export interface SeasonRules {
  readonly budget: number;
  readonly reserve: number;
  readonly objective: { readonly lossAvoided: number; readonly infiltrationRemoved: number };
  readonly crewDays: Readonly<Partial<Record<string, number>>>;
  readonly districts: Readonly<
    Record<
      string,
      {
        readonly leastLaterals: number;
        readonly mostLaterals: number;
        readonly leastMoney: number;
        readonly mostMoney: number;
      }
    >
  >;
  readonly fairShare: number;
  readonly mobilization: number;
  readonly mustDo: readonly string[];
  readonly mustNot: readonly string[];
  readonly onlyAfter: Readonly<Record<string, readonly string[]>>;
}

/** Cents that may be spent: the budget less its reserve. */
export const moneyOf = ({ budget, reserve }: Pick<SeasonRules, "budget" | "reserve">): number =>
  Math.round(budget * (1 - reserve));

/** A season's problem with what its indices stand for. */
export interface SeasonProblem {
  readonly problem: SelectionProblem;
  readonly ids: readonly string[];
  /** "" is the laterals the city puts in no district. */
  readonly districts: readonly string[];
  readonly crews: readonly string[];
  /** Row of the table of offers, by offer of the problem. */
  readonly offerRows: Uint32Array;
  /** The treatment the plan chooses, as an offer of the problem, or −1. */
  readonly planned: Int32Array;
  /** The same without inspections that nobody must do: a season takes none, so the ranked cut beside it takes none. */
  readonly plannedWork: Int32Array;
  /** Laterals with the offers that could not be looked at. */
  readonly leftOut: {
    readonly withoutPrice: number;
    readonly withoutWorth: number;
    /** Works on private parts without a permission that holds. */
    readonly withoutPermission: number;
    /** Work that follows a main which is to be lined, and is not in this season. */
    readonly mainNotLined: number;
    /** Done laterals that count as nothing spent. */
    readonly doneWithoutCost: number;
  };
  /** Laterals that are done or refused: the problem is what is left beside them. */
  readonly held: readonly HeldLateral[];
  /** Laterals under way: their offers cost what is still to be spent on them. */
  readonly begun: readonly BegunLateral[];
  /** Cents after the reserve, before what was spent. */
  readonly moneyBefore: number;
  /** Cents spent so far, which may be more than there were; of it, how much opened how many districts. */
  readonly spent: number;
  readonly opening: { readonly spent: number; readonly districts: number };
  /** The districts' limits before anything was done or spent, the fair share among them, and what is gone of them. */
  readonly limits: Pick<SelectionProblem, "least" | "most"> & { readonly taken: DistrictLimits };
  /** Laterals that gain from some offer, by district: by them its fair share is reckoned. */
  readonly gaining: Float64Array;
  /** Most that could be had of each, by which a mix is weighed: the best offer of every lateral. */
  readonly most: { readonly lossAvoided: number; readonly infiltrationRemoved: number };
}

/** A city to look names up in, planned or not. */
export interface NamedCity {
  readonly laterals: Table;
  readonly basis: Pick<Basis, "mainsLined">;
}

/** Ids and districts named by the rules, or for their mains, that the program does not have. */
export function strangersIn({ laterals, basis }: NamedCity, rules: SeasonRules) {
  const ids = [
    ...rules.mustDo.map((id) => ["must_do", id] as const),
    ...rules.mustNot.map((id) => ["must_not", id] as const),
    ...Object.entries(rules.onlyAfter).flatMap(([id, after]) =>
      [id, ...after].map((each) => ["only_after", each] as const),
    ),
    ...Object.keys(basis.mainsLined.laterals).map((id) => ["mains_lined", id] as const),
  ];
  const districts = [
    ...Object.keys(rules.districts).map((name) => ["districts", name] as const),
    ...Object.keys(basis.mainsLined.districts).map((name) => ["mains_lined", name] as const),
  ];
  return {
    laterals: missingFrom(laterals, "lateral", ids),
    districts: missingFrom(laterals, "district", districts),
  };
}

/** Of names by what names them those that no row of the column has. The column is read where there are any. */
function missingFrom<K extends string>(table: Table, key: string, names: readonly (readonly [K, string])[]) {
  if (names.length === 0) return [];
  const there = new Set(Array.from({ length: table.rows }, (_, row) => textAt(table, key, row)));
  return names.filter(([, name]) => !there.has(name));
}

/** Every priced offer of the plan whose gain is known, within the rules, at what the budget counts of it. Must have no strangers. */
export function seasonProblem(
  program: PlannedProgram,
  rules: SeasonRules,
  { held, begun, withoutCost }: WorkSoFar = NOTHING_YET,
): SeasonProblem {
  const { laterals, offers, basis } = asBudgetCounts(program);
  const ids = Array.from({ length: laterals.rows }, (_, row) => textAt(laterals, "lateral", row));
  const names = ids.map((_, row) => textAt(laterals, "district", row));
  const districts = [...new Set(names)].sort((a, b) => (a < b ? -1 : 1));
  const districtIndex = new Map(districts.map((name, d) => [name, d]));
  const at = new Map(ids.map((id, l) => [id, l]));
  const gains = gainsOf(offers, rules.objective, laterals.rows);
  const leftOut = {
    withoutPrice: 0,
    withoutWorth: 0,
    withoutPermission: 0,
    mainNotLined: 0,
    doneWithoutCost: withoutCost,
  };
  const mustDo = new Set(rules.mustDo);
  const rows: number[] = [];
  const firstOffer = new Uint32Array(laterals.rows + 1);
  const planned = new Int32Array(laterals.rows).fill(-1);
  const plannedWork = planned.slice();
  for (let row = 0; row < offers.rows; row++) {
    const l = numberAt(offers, "lateral_row", row);
    // To leave a lateral is to be out of the season: it must not count as one of a district's.
    if (textAt(offers, "treatment", row) === "leave and re-inspect") continue;
    if (numberAt(offers, "may_be_scheduled", row) === 0) leftOut.withoutPermission++;
    else if (waitForMain(laterals, l, textAt(offers, "treatment", row), basis).kind === "not this season")
      leftOut.mainNotLined++;
    else if (Number.isNaN(numberAt(offers, "cost", row))) leftOut.withoutPrice++;
    else if (Number.isNaN(gains.worth[row]!)) leftOut.withoutWorth++;
    else {
      if (numberAt(offers, "chosen", row) === 1) {
        planned[l] = rows.length;
        const isWork = textAt(offers, "treatment", row) !== "inspect first" || mustDo.has(ids[l]!);
        if (isWork) plannedWork[l] = rows.length;
      }
      firstOffer[l + 1]!++;
      rows.push(row);
    }
  }
  for (let l = 0; l < laterals.rows; l++) firstOffer[l + 1]! += firstOffer[l]!;
  const shift = basis.steps.shiftMinutes;
  const money = moneyOf(rules);
  const limits = districtLimits(districts, rules);
  const problem: SelectionProblem = {
    firstOffer,
    district: Uint32Array.from(names, (name) => districtIndex.get(name)!),
    districts: districts.length,
    worth: Float64Array.from(rows, (row) => gains.worth[row]!),
    cost: Float64Array.from(rows, (row) => numberAt(offers, "cost", row)),
    minutes: crewKinds.map((crew) => {
      const sets = mannedSets(crew, basis.steps);
      return Float64Array.from(rows, (row) =>
        leastMinutes(numberAt(offers, visitMinutesKey(crew), row), sets),
      );
    }),
    money,
    crewMinutes: crewKinds.map((crew) => {
      const days = rules.crewDays[crew];
      return days === undefined ? Number.POSITIVE_INFINITY : Math.floor(days * shift);
    }),
    mobilization: new Float64Array(districts.length).fill(rules.mobilization),
    ...limits,
    must: flags(laterals.rows, rules.mustDo, at),
    mustNot: flags(laterals.rows, rules.mustNot, at),
    needs: Object.entries(rules.onlyAfter).flatMap(([id, after]) =>
      after.map((needed) => [at.get(id)!, at.get(needed)!] as const),
    ),
  };
  const gaining = gainingIn(problem);
  if (rules.fairShare > 0) shareFairly(problem, gaining, rules.fairShare);
  const spent = spentSoFar(problem, { held, begun });
  return {
    problem: holdFixed(takeOffBegun(problem, begun), held),
    held,
    begun,
    moneyBefore: money,
    spent: spent.works + spent.opening,
    opening: { spent: spent.opening, districts: spent.opened },
    limits: {
      least: problem.least,
      most: problem.most,
      taken: takenByDistrict(problem, { held, begun }),
    },
    gaining,
    ids,
    districts,
    crews: crewKinds,
    offerRows: Uint32Array.from(rows),
    planned,
    plannedWork,
    leftOut,
    most: gains.most,
  };
}

const flags = (laterals: number, ids: readonly string[], at: ReadonlyMap<string, number>): Uint8Array => {
  const flagged = new Uint8Array(laterals);
  for (const id of ids) flagged[at.get(id)!] = 1;
  return flagged;
};

function districtLimits(districts: readonly string[], { districts: shares }: SeasonRules) {
  const of = (key: "leastLaterals" | "mostLaterals" | "leastMoney" | "mostMoney", free: number) =>
    Float64Array.from(districts, (name) => shares[name]?.[key] ?? free);
  return {
    least: { laterals: of("leastLaterals", 0), money: of("leastMoney", 0) },
    most: { laterals: of("mostLaterals", Infinity), money: of("mostMoney", Infinity) },
  };
}

function gainingIn({ districts, district, firstOffer, worth }: SelectionProblem): Float64Array {
  const gaining = new Float64Array(districts);
  for (let l = 0; l < district.length; l++)
    if (worth.subarray(firstOffer[l], firstOffer[l + 1]).some((gain) => gain > 0)) gaining[district[l]!]!++;
  return gaining;
}

/**
 * Every district gets at least `part` of its share of the money, shares by its laterals that gain from some offer; no more is asked than
 * doing the dearest offer of each of its laterals would cost.
 */
function shareFairly(
  { least, district, firstOffer, cost, money }: SelectionProblem,
  gaining: Float64Array,
  part: number,
): void {
  const most = new Float64Array(gaining.length);
  const all = gaining.reduce((sum, each) => sum + each, 0);
  for (let l = 0; l < district.length; l++) {
    let dearest = 0;
    for (let j = firstOffer[l]!; j < firstOffer[l + 1]!; j++) dearest = Math.max(dearest, cost[j]!);
    most[district[l]!]! += dearest;
  }
  for (let d = 0; d < gaining.length && all > 0; d++)
    least.money[d] = Math.max(
      least.money[d]!,
      Math.min(most[d]!, Math.floor((part * gaining[d]! * money) / all)),
    );
}

/** Worth of each row of the offers, and the most there is of each by which a mix is weighed. A mix weighs each part of the most that could be had, so that cents and litres can stand together. */
export function gainsOf(
  offers: Table,
  { lossAvoided, infiltrationRemoved }: SeasonRules["objective"],
  laterals: number,
) {
  const column = (key: string) =>
    Float64Array.from({ length: offers.rows }, (_, row) => numberAt(offers, key, row));
  const loss = column("loss_avoided");
  const water = column("infiltration_removed");
  const owner = column("lateral_row");
  const mostOf = (values: Float64Array) => {
    const best = new Float64Array(laterals);
    for (const [row, value] of values.entries()) if (value > best[owner[row]!]!) best[owner[row]!] = value;
    return best.reduce((sum, value) => sum + value, 0);
  };
  const most = { lossAvoided: mostOf(loss), infiltrationRemoved: mostOf(water) };
  const isMix = lossAvoided > 0 && infiltrationRemoved > 0;
  const part = (weight: number, value: number, of: number) =>
    weight === 0 ? 0 : !isMix ? value : of === 0 ? 0 : (weight * value) / of;
  const worth = loss.map(
    (value, row) =>
      part(lossAvoided, value, most.lossAvoided) +
      part(infiltrationRemoved, water[row]!, most.infiltrationRemoved),
  );
  return { worth, most };
}

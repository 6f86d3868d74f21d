import * as z from "zod";
import { surfaces } from "../columns/lateral-columns.ts";
import { treatmentKinds } from "../columns/plan-columns.ts";
import type { QuantityMeasure } from "../quantity/measure.ts";
import { list, number, part, quantity, text, whole } from "./written-values.ts";

/** What `criteria` says of failures, what they cost, how the network wears, and the flows of its sewersheds. */

const band = z.strictObject({ least: part, best: part, most: part });
const byMode = z.strictObject({ structural: part.optional(), blockage: part.optional() });
const WHOSE = "whose figures they are, with the year";

/** Keys of parts of one that may be written in percent. */
export const failureShares = {
  least: "percent",
  best: "percent",
  most: "percent",
  poor_found: "percent",
  missed: "percent",
  false_poor: "percent",
  call_share: "percent",
  level: "percent",
  structural: "percent",
  blockage: "percent",
  new_stays: "percent",
  pipes: "percent",
  infiltration: "percent",
  weights: "percent",
} as const satisfies Record<string, QuantityMeasure>;

const failureCosts = z.strictObject({
  source: text(WHOSE),
  /** Said again beside the amounts, so that nobody takes the money of one country for another's. */
  currency: z.string("the currency of the amounts, such as USD"),
  dig_up: z.partialRecord(z.enum(surfaces), number).optional(),
  backup_claim: number.optional(),
  spill: number.optional(),
  clearing: number.optional(),
  treatment_per_cubic_metre: number.optional(),
  treatment_per_1000_gallons: number.optional(),
  backs_up: byMode.optional(),
  spills: byMode.optional(),
});

const failureModes = z.strictObject({
  structural: z
    .strictObject({ by_grade: list(z.strictObject({ within_years: number, chance: band })) })
    .optional(),
  reading: z
    .strictObject({
      poor_found: part.optional(),
      missed: part.optional(),
      false_poor: part.optional(),
      poor_from: whole.optional(),
    })
    .optional(),
  blockage: z
    .strictObject({
      rate_per_year: list(number).optional(),
      rate_not_graded: number.optional(),
      strength_years: number.optional(),
      call_share: part.optional(),
      level: part.optional(),
    })
    .optional(),
  infiltration: z
    .strictObject({
      leaks_by_grade: list(band).optional(),
      sealed: band.optional(),
      migration: band.optional(),
      unit_rate: z
        .strictObject({
          source: text(WHOSE).optional(),
          high_season_gpd_per_inch_mile: number.optional(),
          low_season_gpd_per_inch_mile: number.optional(),
          high_season_days: whole.optional(),
        })
        .optional(),
    })
    .optional(),
});

const deterioration = z.strictObject({
  /** The city's own, by name, over grades 1 to 5. */
  chains: z.record(z.string(), z.strictObject({ source: text(WHOSE), rows: list(list(number)) })).optional(),
  chosen: text("the name of a chain").optional(),
  era_starts: list(whole).optional(),
  years_per_step: number.optional(),
  new_stays: part.optional(),
  useless_after_years: number.optional(),
  assumed_life: z
    .strictObject({
      scale: number.optional(),
      shape: number.optional(),
      within: number.optional(),
      unknown_age: number.optional(),
    })
    .optional(),
  renewal: z
    .partialRecord(
      z.enum(treatmentKinds),
      z.strictObject({ pipes: part.optional(), to_grade: whole.optional() }),
    )
    .optional(),
});

const rankSpreads = z.strictObject({
  surveyed: number.optional(),
  not_surveyed: number.optional(),
  assumed_points: number.optional(),
  weights: part.optional(),
});

const AN_EXAMPLE =
  'a flow of the sewershed\nAdd "high_groundwater_flow" (mean of 7 to 14 days) or "storm_flow", such as "1.3 MGD".';

const sewershed = z
  .strictObject({
    source: text(WHOSE),
    population: whole,
    high_groundwater_flow: quantity("flow").optional(),
    storm_flow: quantity("flow").optional(),
  })
  .refine((flows) => flows.high_groundwater_flow !== undefined || flows.storm_flow !== undefined, AN_EXAMPLE);

export const failureCriteria = {
  failure_costs: failureCosts.optional(),
  failure_modes: failureModes.optional(),
  deterioration: deterioration.optional(),
  rank_spreads: rankSpreads.optional(),
  /** By district. */
  sewersheds: z.record(z.string(), sewershed).optional(),
};

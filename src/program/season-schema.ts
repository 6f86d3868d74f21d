import * as z from "zod";
import { crewKinds } from "../columns/plan-columns.ts";
import { budgetPayers } from "../reference/season-days.ts";
import { mainsLinedSchema, seasonCalendarSchema } from "./season-calendar-schema.ts";
import { list, number, part, text, whole, words } from "./written-values.ts";

const laterals = list(text("the id of a lateral"));
const AMOUNT = "an amount of money such as 1500000, in the program's currency";
const amount = z.number(AMOUNT);

export const objectives = ["loss avoided", "infiltration removed"] as const;
const OBJECTIVE = `"loss avoided", "infiltration removed", or a mix such as { "loss_avoided": 0.7, "infiltration_removed": 0.3 }`;

/** What a season that selects cannot do without, and what may stand there. */
export const neededForSelection = { budget: AMOUNT, objective: OBJECTIVE } as const;

/** What a district gets at least and at most: laterals, or money of works (mobilization not counted). */
const districtShare = z.strictObject({
  least_laterals: whole.optional(),
  most_laterals: whole.optional(),
  least_money: amount.optional(),
  most_money: amount.optional(),
});

/** What the selection of a season needs: at least a budget and an objective; there may be a season without a selection. */
export const selectionKeys = {
  budget: amount.optional(),
  /** What of a cost the budget counts: the whole unless said. */
  budget_pays: words(budgetPayers).optional(),
  /** Part of the budget that is kept back. */
  reserve: part.optional(),
  /** What is made as great as can be; a mix gives each its weight, as parts of the most that could be had of it. */
  objective: z
    .union([words(objectives), z.strictObject({ loss_avoided: number, infiltration_removed: number })], {
      error: OBJECTIVE,
    })
    .optional(),
  /** Crew-days there are; a crew type that is not named is not limited. */
  crew_days: z.partialRecord(z.enum(crewKinds), number).optional(),
  districts: z.record(z.string(), districtShare).optional(),
  /** Every district gets at least this part of its share of the money, shares by laterals that have something to do. */
  fair_share: part.optional(),
  mobilization_per_district: amount.optional(),
  must_do: laterals.optional(),
  must_not: laterals.optional(),
  /** A lateral is done only if those listed for it are. */
  only_after: z.record(z.string(), laterals).optional(),
} as const;

/** `season` of program.json. */
export const seasonSchema = z.strictObject({
  ...selectionKeys,
  calendar: seasonCalendarSchema.optional(),
  mains_lined: mainsLinedSchema.optional(),
});

export type WrittenSeason = z.infer<typeof seasonSchema>;

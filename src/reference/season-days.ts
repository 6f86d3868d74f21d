import * as z from "zod";
import data from "../../shared/season-days.json" with { type: "json" };
import { months, type Weekday } from "../quantity/calendar.ts";
import { sourceSchema } from "./source.ts";

/** When mains that are to be lined are lined: an ISO date, or null for not in this season. A lateral of its own comes before its district. */
export interface MainsLined {
  readonly laterals: Readonly<Record<string, string | null>>;
  readonly districts: Readonly<Record<string, string | null>>;
}

/** Whose money a season's budget is: the city's and the owners' together, or the city's alone where owners pay their share directly. */
export const budgetPayers = ["whole cost", "city share"] as const;
export type BudgetPays = (typeof budgetPayers)[number];

export const seasonDaysSchema = z.strictObject({
  what: z.string(),
  /** Working days a month that weather is expected to take. */
  daysLost: z.record(z.enum(months), z.number().int().min(0).max(31)),
  daysLostSource: sourceSchema,
  /** Working days each kind of crew spends before it works in a district. */
  mobilisationDays: z.number().int().min(0).max(30),
  mobilisationSource: sourceSchema,
  betweenVisits: z.strictObject({
    averageMinutes: z.number().int().min(0).max(240),
    parkMinutes: z.number().int().min(0).max(60),
    /** Way by streets over the straight line. */
    detour: z.number().min(1).max(3),
    kilometresPerHour: z.number().positive(),
  }),
  betweenVisitsSource: sourceSchema,
});

export type SeasonDays = z.infer<typeof seasonDaysSchema>;

export const houseSeasonDays: SeasonDays = seasonDaysSchema.parse(data);

/** The season a program gives its crews, as program.json has it; dates as 2026-03-01. */
export interface SeasonCalendar {
  readonly starts: string;
  readonly ends: string;
  readonly workingWeek: readonly Weekday[];
  readonly holidays: readonly { readonly day: string; readonly name: string }[];
  /** Days without work, in one district or in all. */
  readonly blackouts: readonly {
    readonly from: string;
    readonly to: string;
    readonly why: string;
    readonly district?: string | undefined;
  }[];
  /** Districts in the order they are worked; those not named follow by name. */
  readonly districtOrder: readonly string[];
  readonly crews: Readonly<Record<string, CrewCount>>;
  /** The unit of x and y, in m; null where the program does not say. */
  readonly coordinateMetres: number | null;
}

/** How many crews of a kind there are, and on which days another number. */
export interface CrewCount {
  readonly count: number;
  readonly changes: readonly { readonly from: string; readonly to: string; readonly count: number }[];
}

import type { SeasonRun } from "../../program/season-runs.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { planSeason, type SeasonPlan } from "../../season/season-calendar.ts";
import { workWhenSaved } from "../../season/selection/held-laterals.ts";
import type { SeasonRules } from "../../season/selection/season-problem.ts";
import { type SeasonTotals, totalSeason } from "../../season/selection/season-totals.ts";
import { type WorkBeforeInspection, workBeforeInspection } from "../../season/unlooked-offers.ts";
import { chosenIn } from "../booked-selection.ts";
import type { LoadedSeason } from "../load-season.ts";
import { viewOf } from "../season-view.ts";
import { describeObjective, lumpSumsSaid } from "../season-words.ts";
import { type Certainty, certaintyOf } from "./certainty.ts";
import type { ReportContents } from "./contents.ts";

/** What the report of a saved season is made from. Money in cents. */
export interface ReportedSeason {
  readonly name: string;
  readonly run: SeasonRun;
  /** Its own plan: its laterals alone. */
  readonly program: PlannedProgram;
  /** The plan of all laterals, with the columns of this season, unless it was selected from another plan. */
  readonly whole: PlannedProgram;
  /** What it is the greatest of. */
  readonly objective: string;
  readonly money: SeasonMoney;
  readonly totals: { readonly districts: readonly SeasonTotals[]; readonly program: SeasonTotals };
  /** Laterals that the season takes and `totals` and `money` lack: not in the program, not offered or without a price any more. */
  readonly missing: number;
  /** Null where program.json has no calendar. */
  readonly plan: SeasonPlan | null;
  /** Laterals to be inspected first for which other work may be chosen, and is. */
  readonly beforeInspection: WorkBeforeInspection;
  readonly certainty: Certainty;
  readonly places: ReportContents["places"];
}

/** Where the budget goes, as it counts costs: whole, or the city's share. */
export interface SeasonMoney {
  readonly budget: number;
  /** Of it, kept back as a reserve. */
  readonly reserve: number;
  /** When the season was selected. */
  readonly spent: number;
  readonly works: number;
  readonly mobilization: number;
  readonly left: number;
  /** What of the bid is in no sum, in a sentence; null where nothing is. */
  readonly lumpSums: string | null;
}

/**
 * A saved season as `wyeplan season`, `calendar --season` and `uncertainty --season` show it: as it was selected; what was recorded since is
 * told apart.
 *
 * @param rules of program.json, which name nothing that the program does not have
 */
export function reportedSeason(
  { program, whole, season }: LoadedSeason,
  rules: SeasonRules,
  places: ReportContents["places"],
): ReportedSeason {
  if (season === null) throw new RangeError("reportedSeason: no season was loaded");
  const { name, run } = season;
  const view = viewOf(whole, rules, whole.basis.calendar, workWhenSaved(whole, run.so_far ?? []));
  const chosen = chosenIn(whole, view, run);
  const totals = totalSeason(whole, view.season, chosen);
  const { works, mobilization } = totals.program;
  const { moneyBefore, spent, problem } = view.season;
  return {
    name,
    run,
    program,
    whole,
    objective: describeObjective(rules),
    money: {
      budget: rules.budget,
      reserve: rules.budget - moneyBefore,
      spent,
      works,
      mobilization,
      left: problem.money - works - mobilization,
      lumpSums: lumpSumsSaid(works, view),
    },
    totals,
    missing: run.chosen.length - totals.program.chosen,
    beforeInspection: workBeforeInspection(whole, view.season, chosen),
    plan: planSeason(program),
    certainty: certaintyOf(program),
    places,
  };
}

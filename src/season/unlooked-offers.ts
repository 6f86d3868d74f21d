import type { SeasonReason } from "../columns/plan-columns.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { waitForMain } from "./main-first.ts";
import type { PlannedProgram } from "./planned-program.ts";
import type { SeasonProblem } from "./selection/season-problem.ts";
import type { Chosen } from "./selection/selection-problem.ts";

/** What keeps an allowed work out of a season's choice before anything is weighed, the first that holds. */
const grounds = [
  "no permission that holds",
  "waits for its main",
  "no price",
  "gain not known",
] as const satisfies readonly SeasonReason[];
export type UnlookedBecause = (typeof grounds)[number];

type Offered = Pick<PlannedProgram, "laterals" | "offers" | "basis">;

/** The same of one row of the offers that a season's problem does not have. */
export function whyUnlooked({ laterals, offers, basis }: Offered, row: number): UnlookedBecause {
  const l = numberAt(offers, "lateral_row", row);
  if (numberAt(offers, "may_be_scheduled", row) === 0) return "no permission that holds";
  if (waitForMain(laterals, l, textAt(offers, "treatment", row), basis).kind === "not this season")
    return "waits for its main";
  return Number.isNaN(numberAt(offers, "cost", row)) ? "no price" : "gain not known";
}

/** To leave a lateral is to be out of the season: it is no work to choose. */
export const isWork = (offers: PlannedProgram["offers"], row: number): boolean =>
  textAt(offers, "treatment", row) !== "leave and re-inspect";

/** Laterals that the plan inspects first and that the rules allow other work all the same. The season bars no such work. */
export interface WorkBeforeInspection {
  /** Of how many it may be chosen. */
  readonly choosable: number;
  /** Of how many it is. */
  readonly chosen: number;
}

const INSPECTION = "inspect first";

/** How many they are in a season's problem and its choice. */
export function workBeforeInspection(
  { laterals, offers }: Offered,
  { problem, offerRows }: Pick<SeasonProblem, "problem" | "offerRows">,
  chosen: Chosen,
): WorkBeforeInspection {
  const isOther = (j: number) => textAt(offers, "treatment", offerRows[j]!) !== INSPECTION;
  const count = { choosable: 0, chosen: 0 };
  for (let l = 0; l < laterals.rows; l++) {
    if (problem.mustNot[l] === 1 || textAt(laterals, "treatment", l) !== INSPECTION) continue;
    let some = false;
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]! && !some; j++) some = isOther(j);
    if (some) count.choosable++;
    if (chosen[l]! >= 0 && isOther(chosen[l]!)) count.chosen++;
  }
  return count;
}

/** Of the offers that cannot be looked at, what stands in the way: the first of permission, main, price and gain. By lateral. */
export function whyNoOffer(program: Offered): readonly SeasonReason[] {
  const { laterals, offers } = program;
  const found: SeasonReason[] = Array.from({ length: laterals.rows }, () => "no treatment allowed");
  for (let row = 0; row < offers.rows; row++) {
    if (!isWork(offers, row)) continue;
    const l = numberAt(offers, "lateral_row", row);
    const why = whyUnlooked(program, row);
    const known = grounds.indexOf(found[l] as UnlookedBecause);
    if (known < 0 || grounds.indexOf(why) < known) found[l] = why;
  }
  return found;
}

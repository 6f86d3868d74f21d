import { lumpSumsOf, pricedLumpSums } from "../season/lump-sums.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { workSoFar } from "../season/selection/held-laterals.ts";
import { packedRuleOf } from "../season/selection/season-packing.ts";
import { type SeasonRules, seasonProblem } from "../season/selection/season-problem.ts";
import { heldBackIn } from "../season/tracking.ts";
import { whyNoOffer } from "../season/unlooked-offers.ts";
import type { SeasonView } from "./season-words.ts";

/** A planned program seen as a season's problem under these rules. */
export function viewOf(
  program: PlannedProgram,
  rules: SeasonRules,
  calendar = program.basis.calendar,
  soFar = workSoFar(program),
): SeasonView {
  const season = seasonProblem(program, rules, soFar);
  return {
    season,
    packed: packedRuleOf(program, season, rules, calendar),
    rules,
    heldBack: heldBackIn(program),
    whyNoOffer: (lateral) => whyNoOffer(program)[lateral]!,
    style: program.basis.program,
    shiftMinutes: program.basis.steps.shiftMinutes,
    pays: program.basis.budgetPays,
    lumpSums: lumpSumsOf(program.basis),
    lumpSumItems: pricedLumpSums(program.basis).map(({ key }) => key),
  };
}

/** A view as it is solved. */
export const toSolve = ({ season: { problem }, packed }: SeasonView) => ({ problem, packed });

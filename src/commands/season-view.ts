import type { PlannedProgram } from "../season/planned-program.ts";
import { heldLaterals } from "../season/selection/held-laterals.ts";
import { type SeasonRules, seasonProblem } from "../season/selection/season-problem.ts";
import type { SeasonView } from "./season-words.ts";

/** A planned program seen as a season's problem under these rules. */
export const viewOf = (program: PlannedProgram, rules: SeasonRules): SeasonView => ({
  season: seasonProblem(program, rules, heldLaterals(program)),
  rules,
  style: program.basis.program,
  shiftMinutes: program.basis.steps.shiftMinutes,
});

import { showCount } from "../../quantity/show-quantity.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { calendarFinish } from "../../season/uncertainty/calendar-finish.ts";
import { type SeasonUncertainty, seasonUncertainty } from "../../season/uncertainty/season-uncertainty.ts";

/** How sure cost and finish of a plan are, as `wyeplan uncertainty` draws it. */
export interface Certainty {
  readonly found: SeasonUncertainty;
  /** Why there are no dates, as the end of a sentence; null where there are. */
  readonly noDates: string | null;
}

/**
 * Of more laterals no dates are drawn: their visits would have to be packed into days first, which nothing else of the report asks for. The
 * report of 100,000 laterals takes 13.5 s with the draws, 10 without them, and would take 5 more with the days (processor time); the draws
 * are bounded where they are made, and said.
 */
const MOST_DATED = 20_000;

/** The same draws, by the same seed, as the command makes of this plan: so the report has its numbers. */
export function certaintyOf(program: PlannedProgram, mostDated = MOST_DATED): Certainty {
  const { rows } = program.laterals;
  const tooMany = rows > mostDated;
  const found = seasonUncertainty(program, {}, tooMany ? null : calendarFinish(program));
  return {
    found,
    noDates:
      found.program.finish !== null
        ? null
        : program.basis.calendar === null
          ? "program.json has no calendar of a season to finish in"
          : tooMany
            ? `of ${showCount(rows)} laterals, more than ${showCount(mostDated)}, they are not worked out for a report; wyeplan uncertainty does`
            : "none of its laterals may be scheduled yet",
  };
}

import { createHash } from "node:crypto";
import { isoDate } from "../quantity/calendar.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { packedRuleOf } from "../season/selection/season-packing.ts";
import { type SeasonRules, seasonProblem } from "../season/selection/season-problem.ts";
import { textAt } from "../sheet/table.ts";

/** Worth that is no whole number of cents is compared to this part, so that the last binary digits of another machine do not count. */
const WORTH_STEP = 1e-6;

/**
 * SHA-256 of all that a season is selected from: its rules and calendar, and of each lateral its place, offers, costs, gains and visits.
 * Two plans with the same one have the same seasons; one that differs was changed by a decision, a setting, a file or its day. What is
 * recorded of the work (status, spent, installed) is not in it: a season stays the same while it is carried out.
 */
export function seasonInputs(
  program: PlannedProgram,
  rules: SeasonRules,
  calendar = program.basis.calendar,
): string {
  const season = seasonProblem(program, rules);
  const packed = packedRuleOf(program, season, rules, calendar);
  const { problem, ids, offerRows } = season;
  const { drive, shift, sets, mobilisationDays, dates, crewDays } = packed;
  const hash = createHash("sha256");
  const say = (value: unknown) => void hash.update(`${JSON.stringify(value)}\n`);
  // Infinity is no JSON, and is a limit that nobody set.
  say({ rules, asOf: isoDate(program.basis.program.asOf), currency: program.basis.program.currency });
  say({ drive, shift, sets, mobilisationDays, dates, crewDays, districts: season.districts });
  say(ids);
  // Whatever has been done there: a season that was selected before it was found, or before it was made safe, is one of another plan.
  const found = ids.filter((_, row) => textAt(program.laterals, "cross_bore", row) === "found");
  if (found.length > 0) say({ found });
  say(Array.from(offerRows, (row) => textAt(program.offers, "treatment", row)));
  const numbers = (values: ArrayLike<number>) => {
    const bytes = Float64Array.from(values, (value) => (Number.isNaN(value) ? Number.NaN : value));
    hash.update(new Uint8Array(bytes.buffer));
  };
  numbers(problem.firstOffer);
  numbers(problem.district);
  numbers(problem.cost);
  numbers(problem.worth.map((worth) => Math.round(worth / WORTH_STEP) * WORTH_STEP));
  for (const each of [...packed.whole, ...packed.handsOn, packed.x, packed.y, packed.notBefore])
    numbers(each);
  return hash.digest("hex");
}

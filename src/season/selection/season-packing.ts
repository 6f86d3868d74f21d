import { crewKinds } from "../../columns/plan-columns.ts";
import { numberAt, textAt } from "../../sheet/table.ts";
import { driveOf } from "../day-packing.ts";
import { waitForMain } from "../main-first.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { crewDaysOf } from "../season-fit.ts";
import { visitKeys, visitMinutesKey } from "../visit-keys.ts";
import type { PackedRule } from "./packed-rule.ts";
import type { SeasonProblem, SeasonRules } from "./season-problem.ts";

/**
 * How the season's visits are packed and how many crew-days there are: those of crew_days, whole, and no more than the working days of the
 * calendar have crews for in the expected weather.
 *
 * @param calendar of the season; another than the program's where its last day is varied
 */
export function packedRuleOf(
  { laterals, offers, materials, basis }: PlannedProgram,
  { offerRows, districts, held }: SeasonProblem,
  { crewDays }: Pick<SeasonRules, "crewDays">,
  calendar = basis.calendar,
): PackedRule {
  const { steps, seasonDays } = basis;
  const sets = crewKinds.map((crew) => mannedSets(crew, steps));
  const whole = crewKinds.map((crew) => numbersOf(visitMinutesKey(crew)));
  const done = held
    .filter(({ standing }) => standing === "done")
    .map(({ lateral }) => ({
      lateral,
      whole: crewKinds.map((crew) => numberAt(materials, visitKeys(crew).whole, lateral)),
      handsOn: crewKinds.map((crew) => numberAt(materials, visitKeys(crew).handsOn, lateral)),
    }));
  // Days of what is done are gone from crew_days; which of them were days of this calendar nobody knows.
  const has = calendar === null || done.length > 0 ? null : crewDaysOf(calendar, seasonDays);
  return {
    crews: crewKinds,
    crewDays: crewKinds.map((crew) =>
      Math.min(Math.floor(crewDays[crew] ?? Infinity), has?.[crew] ?? Infinity),
    ),
    whole,
    // A crew with one set is needed all the time: the plan keeps no column of it.
    handsOn: crewKinds.map((crew, c) =>
      offers.columns.has(visitKeys(crew).handsOn) ? numbersOf(visitKeys(crew).handsOn) : whole[c]!,
    ),
    shift: steps.shiftMinutes,
    sets,
    drive: driveOf({ seasonDays, calendar }),
    x: Float64Array.from({ length: laterals.rows }, (_, row) => numberAt(laterals, "x", row)),
    y: Float64Array.from({ length: laterals.rows }, (_, row) => numberAt(laterals, "y", row)),
    mobilisationDays: seasonDays.mobilisationDays,
    districtNames: districts,
    notBefore: Float64Array.from(offerRows, (row) => {
      const lateral = numberAt(offers, "lateral_row", row);
      const dates = { mainsLined: basis.mainsLined, calendar };
      const wait = waitForMain(laterals, lateral, textAt(offers, "treatment", row), dates);
      return wait.kind === "until" ? wait.day : Number.NaN;
    }),
    done,
    dates: calendar === null ? null : { calendar, table: seasonDays },
  };

  function numbersOf(key: string): Float64Array {
    return Float64Array.from(offerRows, (row) => numberAt(offers, key, row));
  }
}

import { type CrewKind, crewKinds } from "../../columns/plan-columns.ts";
import { numberAt, textAt } from "../../sheet/table.ts";
import { driveOf } from "../day-packing.ts";
import { waitForMain } from "../main-first.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { crewDaysOf } from "../season-fit.ts";
import { visitKeys, visitMinutesKey } from "../visit-keys.ts";
import type { DoneVisits, PackedRule } from "./packed-rule.ts";
import type { SeasonProblem, SeasonRules } from "./season-problem.ts";

/**
 * How the season's visits are packed and how many crew-days there are: those of crew_days, whole, and no more than the working days of the
 * calendar have crews for in the expected weather.
 *
 * @param calendar of the season; another than the program's where its last day is varied
 */
export function packedRuleOf(
  { laterals, offers, materials, basis }: PlannedProgram,
  { problem, offerRows, districts, held, begun }: SeasonProblem,
  { crewDays }: Pick<SeasonRules, "crewDays">,
  calendar = basis.calendar,
): PackedRule {
  const { steps, seasonDays } = basis;
  const sets = crewKinds.map((crew) => mannedSets(crew, steps));
  const whole = crewKinds.map((crew) => toCome(crew, visitMinutesKey(crew)));
  const visited = begun.filter((each) => each.visited.some((minutes) => minutes !== null));
  const done = [
    ...held.filter(({ standing }) => standing === "done").map(({ lateral }) => past(lateral, () => true)),
    ...visited.map((each) => past(each.lateral, (c) => each.visited[c] !== null)),
  ];
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
      offers.columns.has(visitKeys(crew).handsOn) ? toCome(crew, visitKeys(crew).handsOn) : whole[c]!,
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

  /** Minutes by offer; 0 where the visit is over. */
  function toCome(crew: CrewKind, key: string): Float64Array {
    const minutes = Float64Array.from(offerRows, (row) => numberAt(offers, key, row));
    for (const { lateral, visited } of begun)
      if (visited[crewKinds.indexOf(crew)] !== null)
        minutes.fill(0, problem.firstOffer[lateral], problem.firstOffer[lateral + 1]);
    return minutes;
  }

  /** What these kinds of crew have done at a lateral, as it was planned. */
  function past(lateral: number, isOver: (crew: number) => boolean): DoneVisits {
    const over = (part: "whole" | "handsOn") =>
      crewKinds.map((crew, c) => (isOver(c) ? numberAt(materials, visitKeys(crew)[part], lateral) : 0));
    return { lateral, whole: over("whole"), handsOn: over("handsOn") };
  }
}

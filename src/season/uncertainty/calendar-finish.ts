import { planCalendar } from "../calendar.ts";
import type { CrewWork, DistrictWork } from "../day-packing.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { planSeason, schedulable } from "../season-calendar.ts";
import type { FinishOf } from "./season-uncertainty.ts";

/**
 * Finishes by the program's calendar; null where program.json gives none. The visits are packed once, as planned; a world's crew-days
 * are the packed ones times its crew time, all kinds of crew alike, to the nearest day and at least one. Weather is a factor on the
 * days lost.
 */
export function calendarFinish(program: PlannedProgram): FinishOf | null {
  const { calendar, seasonDays } = program.basis;
  // What is done has no crew time left in it, a lateral or a visit.
  const season = planSeason(program, schedulable(program), "left out");
  if (calendar === null || season === null) return null;
  return (times, weather) => {
    const work = season.work.map((own) => stretched(own, times.get(own.district)));
    const { districts, finish } = planCalendar(work, calendar, seasonDays, { times: weather, more: 0 });
    return {
      districts: new Map(districts.map((each) => [each.district, each.finish])),
      program: finish,
    };
  };
}

function stretched({ district, crews, notBefore }: DistrictWork, times: number | undefined): DistrictWork {
  if (times === undefined)
    throw new RangeError(`calendarFinish: no crew time for ${JSON.stringify(district)}`);
  return { district, notBefore, crews: crews.map((crew) => ({ ...crew, days: stretchedDays(crew, times) })) };
}

/** Days of one shift come and go; visits longer than a shift stay as long as days remain. */
function stretchedDays({ days, crewDays }: CrewWork, times: number): CrewWork["days"] {
  const wanted = Math.max(1, Math.round(crewDays * times));
  if (wanted >= crewDays)
    return [...days, ...Array.from({ length: wanted - crewDays }, () => ({ rows: [], days: 1 }))];
  let left = wanted;
  const kept: CrewWork["days"][number][] = [];
  for (const day of days) {
    const taken = Math.min(day.days, left);
    if (taken > 0) kept.push({ ...day, days: taken });
    left -= taken;
  }
  return kept;
}

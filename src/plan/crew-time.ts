import type { TreatmentKind } from "../columns/plan-columns.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkedTime, WorkStep, WorkSteps } from "../reference/work-steps.ts";
import type { Lateral } from "./lateral.ts";

/** One step at the lateral, in whole minutes. */
export interface TimedStep {
  readonly step: string;
  readonly position: WorkStep["position"];
  readonly minutes: Minutes;
}

export interface CrewTime {
  readonly steps: readonly TimedStep[];
  /** All steps one after another. */
  readonly total: Minutes;
  /** Whole hundredths of a crew-day, so that districts add up to the program. */
  readonly crewDayHundredths: number;
}

/** Treatments worked from the house, which need a cleanout there. */
const worksFromHouse: ReadonlySet<TreatmentKind> = new Set([
  "clean and cut roots",
  "sectional liner",
  "full-length liner",
]);

/** Minutes worked out for the liner placed: its insertion, its cure, its cool-down. */
export type LinerTimes = Readonly<Record<WorkedTime, Minutes>>;

/**
 * Time one crew is on the lateral. Steps worked along the pipe take longer in a longer one; what is worked out for the
 * liner comes on top of a step's own minutes. A step of each piece is done as often as there are sections.
 *
 * @param pieces liners placed one after another; 1 but for several sections
 */
export function timeCrew(
  treatment: TreatmentKind,
  lateral: Lateral,
  table: WorkSteps,
  liner: LinerTimes | null,
  pieces: number,
): CrewTime {
  const length = lateral.hostLength?.value ?? 0;
  const needsCleanout = worksFromHouse.has(treatment) && lateral.cleanout?.value !== true;
  const steps = [...(needsCleanout ? table.steps["new cleanout"] : []), ...table.steps[treatment]].map(
    ({ step, position, minutes: base, perMetre, plus, eachPiece }): TimedStep => {
      const along = perMetre === undefined ? 0 : perMetre * length;
      const worked = (plus ?? []).reduce((sum, time) => sum + workedTime(liner, time, step), 0);
      const times = eachPiece === true ? pieces : 1;
      return { step, position, minutes: minutes(Math.round((base + worked) * times + along)) };
    },
  );
  const total = steps.reduce((sum, step) => sum + step.minutes, 0);
  return {
    steps,
    total: minutes(total),
    crewDayHundredths: Math.round((total * 100) / table.shiftMinutes),
  };
}

function workedTime(liner: LinerTimes | null, time: WorkedTime, step: string): Minutes {
  if (liner === null)
    throw new RangeError(`timeCrew: "${step}" waits for the ${time} of a liner that is not there`);
  return liner[time];
}

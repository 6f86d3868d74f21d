import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkedTime, WorkStep, WorkSteps } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";
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

/** Minutes worked out for the liner placed: its insertion, its cure, its cool-down. */
export type LinerTimes = Readonly<Record<WorkedTime, Minutes>>;

/**
 * Time one crew is on the lateral, work after work. Steps worked along the pipe take longer in a longer one; what is worked out for a work's liner
 * comes on top of a step's own minutes. A step of each piece is done as often as a work places sections.
 */
export function timeCrew(
  works: readonly {
    readonly work: WorkKind;
    readonly times: LinerTimes | null;
    /** Liners placed one after another; 1 but for several sections. */
    readonly pieces: number;
  }[],
  lateral: Lateral,
  table: WorkSteps,
): CrewTime {
  const length = lateral.hostLength?.value ?? 0;
  const steps = works.flatMap(({ work, times, pieces }) =>
    table.steps[work].map(({ step, position, minutes: base, perMetre, plus, eachPiece }): TimedStep => {
      const along = perMetre === undefined ? 0 : perMetre * length;
      const worked = (plus ?? []).reduce((sum, time) => sum + workedTime(times, time, step), 0);
      return {
        step,
        position,
        minutes: minutes(Math.round((base + worked) * (eachPiece === true ? pieces : 1) + along)),
      };
    }),
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

import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkedTime, WorkStep } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";

/** Minutes worked out for the liner placed: its insertion, its cure, its cool-down. */
export type LinerTimes = Readonly<Record<WorkedTime, Minutes>>;

/** One work at a lateral, with what was worked out for its liner. */
export interface TimedWork {
  readonly work: WorkKind;
  /** Null for a work that places no liner. */
  readonly times: LinerTimes | null;
  /** Liners placed one after another; 1 but for several sections. */
  readonly pieces: number;
  /** Opened again after a liner over the whole length. */
  readonly branches: number;
}

/** Whole minutes of a step, rounded once. */
export function minutesOf(step: WorkStep, length: number, work: TimedWork): Minutes {
  const { minutes: base, perMetre, perBranch, plus, eachPiece } = step;
  const along = perMetre === undefined ? 0 : perMetre * length;
  let worked = 0;
  if (plus !== undefined) for (const time of plus) worked += linerOf(work, step)[time];
  const opened = perBranch === undefined ? 0 : perBranch * work.branches;
  return minutes(Math.round((base + worked) * (eachPiece === true ? work.pieces : 1) + along + opened));
}

/** Asked for only where a step waits for the liner: its cure is worked out for it. */
function linerOf({ times }: TimedWork, { step }: WorkStep): LinerTimes {
  if (times === null) throw new RangeError(`minutesOf: "${step}" waits for a liner that is not there`);
  return times;
}

/** Whether the minutes depend on the lateral or its liner. */
export const isChanging = ({ perMetre, perBranch, plus, eachPiece }: WorkStep): boolean =>
  perMetre !== undefined || perBranch !== undefined || plus !== undefined || eachPiece === true;

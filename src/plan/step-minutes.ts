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
export function minutesOf(step: WorkStep, length: number, { times, pieces, branches }: TimedWork): Minutes {
  const { minutes: base, perMetre, perBranch, plus, eachPiece } = step;
  const along = perMetre === undefined ? 0 : perMetre * length;
  let worked = 0;
  if (plus !== undefined) for (const time of plus) worked += linerOf(times, step)[time];
  const opened = perBranch === undefined ? 0 : perBranch * branches;
  return minutes(Math.round((base + worked) * (eachPiece === true ? pieces : 1) + along + opened));
}

function linerOf(liner: LinerTimes | null, { step }: WorkStep): LinerTimes {
  if (liner === null) throw new RangeError(`minutesOf: "${step}" waits for a liner that is not there`);
  return liner;
}

/** Whether the minutes depend on the lateral or its liner. */
export const isChanging = ({ perMetre, perBranch, plus, eachPiece }: WorkStep): boolean =>
  perMetre !== undefined || perBranch !== undefined || plus !== undefined || eachPiece === true;

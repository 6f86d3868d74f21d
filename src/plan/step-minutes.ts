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

/**
 * How long a step takes. What the table may leave out stands here as nothing, so all steps are of one shape, and whole minutes that are the
 * same at every lateral are rounded once: read from the table's own records, steps took half as long again.
 */
export class StepMinutes {
  readonly step: WorkStep;
  /** Null where they depend on the lateral or its liner. */
  readonly #fixed: Minutes | null;
  readonly #base: number;
  readonly #perMetre: number;
  readonly #perBranch: number;
  readonly #plus: readonly WorkedTime[];
  readonly #eachPiece: boolean;

  constructor(step: WorkStep) {
    const { minutes: base, perMetre = 0, perBranch = 0, plus = [], eachPiece = false } = step;
    const isFixed = perMetre === 0 && perBranch === 0 && plus.length === 0 && !eachPiece;
    this.step = step;
    this.#fixed = isFixed ? minutes(Math.round(base)) : null;
    this.#base = base;
    this.#perMetre = perMetre;
    this.#perBranch = perBranch;
    this.#plus = plus;
    this.#eachPiece = eachPiece;
  }

  /** Whole minutes, rounded once. */
  at(length: number, work: TimedWork): Minutes {
    if (this.#fixed !== null) return this.#fixed;
    let each = this.#base;
    for (let i = 0; i < this.#plus.length; i++) each += linerOf(work, this.step)[this.#plus[i]!];
    const along = this.#perMetre * length;
    const opened = this.#perBranch * work.branches;
    return minutes(Math.round(each * (this.#eachPiece ? work.pieces : 1) + along + opened));
  }
}

/** Asked for only where a step waits for the liner: its cure is worked out for it. */
function linerOf({ times }: TimedWork, { step }: WorkStep): LinerTimes {
  if (times === null) throw new RangeError(`StepMinutes: "${step}" waits for a liner that is not there`);
  return times;
}

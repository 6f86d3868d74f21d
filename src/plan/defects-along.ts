import { type Metres, metres } from "../quantity/si.ts";
import type { ObservationMode } from "../reference/observation-kinds.ts";
import type { Condition } from "./condition.ts";
import type { RatedSurvey } from "./found-surveys.ts";
import type { Inspection, Lateral, Observation } from "./lateral.ts";

/** One thing seen at a known place, `from` ≤ `to`, from the end that the pipe is measured from. */
export interface SeenAlong {
  readonly kind: string;
  readonly mode: ObservationMode | "unknown";
  readonly grade: number | null;
  readonly from: Metres;
  readonly to: Metres;
}

/** What the leading survey, or both its parts, saw along the pipe. */
export interface AlongPipe {
  readonly length: Metres;
  /** The main, unless no survey says which end it started from: then all distances are from that end. */
  readonly measuredFrom: "main" | "start of the survey";
  /** In order of place. */
  readonly seen: readonly SeenAlong[];
  /** Whether every structural defect that counts has a place in the pipe and nothing contradicts the list. */
  readonly whole: boolean;
}

/** A place this far beyond the given length, as a part of it, is the counter's drift; farther, something is wrong. Ours. */
const DRIFT = 0.05;

/**
 * The observations at their places. The camera's distances are from where it started: from the house they are turned
 * round with the length of the pipe. Null without a length, or where nothing was seen at a known place.
 */
export function locateSeen(lateral: Pick<Lateral, "hostLength">, condition: Condition): AlongPipe | null {
  const length = lateral.hostLength?.value ?? null;
  if (length === null) return null;
  const { ratings } = condition;
  if (!ratings.some(({ survey }) => survey.observations !== null)) return null;
  const seen = ratings.flatMap(({ survey }) => placesOf(survey, length)).toSorted(inOrder);
  if (seen.length === 0) return null;
  const measuredFrom = ratings.every(({ survey }) => survey.direction !== null)
    ? "main"
    : "start of the survey";
  return { length, measuredFrom, seen, whole: ratings.every((rated) => isWhole(rated, length)) };
}

function placesOf({ direction, observations }: Inspection, length: Metres): SeenAlong[] {
  const placed: SeenAlong[] = [];
  for (const { from, to, kind, mode, grade } of observations ?? []) {
    if (from === null || isBeyond(from, length) || isBeyond(to, length)) continue;
    const ends = [from, to ?? from]
      .map((at) => Math.min(at, length))
      .map((at) => turned(at, direction, length));
    placed.push({ kind, mode, grade, from: metres(Math.min(...ends)), to: metres(Math.max(...ends)) });
  }
  return placed;
}

const turned = (at: number, direction: Inspection["direction"], length: number): number =>
  direction === "from house" ? length - at : at;

const isBeyond = (at: Metres | null, length: Metres): boolean => at !== null && at > length * (1 + DRIFT);

/** The list agrees with what the survey states, and its defects have places in the pipe. */
function isWhole({ structural }: RatedSurvey, length: Metres): boolean {
  const observed = structural?.observed ?? null;
  if (structural === null || observed === null || observed.uncertain > 0 || structural.agrees === false)
    return false;
  const hasPlace = ({ from, to }: Observation) =>
    from !== null && !isBeyond(from, length) && !isBeyond(to, length);
  return observed.defects.every(hasPlace);
}

const inOrder = (a: SeenAlong, b: SeenAlong): number =>
  a.from - b.from || a.to - b.to || (a.grade ?? -1) - (b.grade ?? -1) || (a.kind < b.kind ? -1 : 1);

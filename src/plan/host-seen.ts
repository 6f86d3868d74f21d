import { fraction, type Millimetres } from "../quantity/si.ts";
import { isComplete } from "./joined-surveys.ts";
import type { Inspection, Lateral } from "./lateral.ts";
import { stated } from "./stated.ts";

/** What a camera saw of the host that the city's lateral file may not say. */
export type HostSeen = Pick<Lateral, "bends" | "sharpestBend" | "sizeChange">;

export const nothingSeen: HostSeen = { bends: null, sharpestBend: null, sizeChange: null };

/**
 * Bends and changes of size that the latest complete survey recorded. A survey without such a row proves nothing: many
 * crews do not record bends, so the number stays unknown and is never 0. The sharpest bend is known only where every bend
 * has its turn, and the change of size only where the host's diameter and every size beyond are known.
 *
 * @param surveys oldest first
 */
export function readHostSeen(surveys: readonly Inspection[], host: Millimetres | null): HostSeen {
  const survey = surveys.findLast((each) => each.observations !== null && isComplete(each, null));
  if (survey === undefined || survey.observations === null) return nothingSeen;
  const bends = survey.observations.filter(({ kind }) => kind === "bend");
  const turns = bends.map(({ turn }) => turn).filter((turn) => turn !== null);
  const changes = survey.observations.filter(({ kind }) => kind === "size change");
  const sizes = changes.map(({ sizeAfter }) => sizeAfter).filter((size) => size !== null);
  const because = "seen by camera";
  return {
    bends: bends.length === 0 ? null : stated(bends.length, "measured", because),
    sharpestBend:
      bends.length === 0 || turns.length < bends.length
        ? null
        : stated(Math.max(...turns), "measured", because),
    sizeChange:
      host === null || changes.length === 0 || sizes.length < changes.length
        ? null
        : stated(changeOf([host, ...sizes]), "measured", because),
  };
}

/** (largest − smallest) ÷ smallest. */
function changeOf(sizes: readonly Millimetres[]) {
  const smallest = Math.min(...sizes);
  return fraction((Math.max(...sizes) - smallest) / smallest);
}

import { type Attribution, attributeMoves } from "./attribution.ts";
import { compareRankings, type RankedLateral, type RankingComparison } from "./compare-rankings.ts";

/** Why one lateral moved: how much of the move each group of changed inputs caused. */
export interface WhyMoved {
  /** Of places moved up among the laterals of both rankings. */
  readonly places: Attribution;
  /** Of its score, in the whole steps in which rankings compare scores; null where it has none with some of the inputs. */
  readonly score: Attribution | null;
}

export interface ExplainedMoves {
  readonly comparison: RankingComparison;
  readonly whyOf: (id: string) => WhyMoved;
}

/**
 * Two rankings compared, and each lateral's move shared fairly over the groups of inputs that changed.
 *
 * @param worldOf the ranking, worst first, in which group i is new where bit i of the mask is set: no bit is the first
 *   ranking, all bits the second; asked once for each mask, one after the other
 */
export async function explainMoves(
  groups: number,
  worldOf: (mask: number) => Promise<readonly RankedLateral[]>,
): Promise<ExplainedMoves> {
  const last = (1 << groups) - 1;
  const before = await worldOf(0);
  const after = groups === 0 ? before : await worldOf(last);
  const later = new Set(after.map(({ id }) => id));
  const shared = before.filter(({ id }) => later.has(id)).map(({ id }) => id);
  const at = new Map(shared.map((id, i) => [id, i]));
  const worlds: ReturnType<typeof placesAndScores>[] = [];
  for (let mask = 0; mask <= last; mask++)
    worlds.push(placesAndScores(mask === 0 ? before : mask === last ? after : await worldOf(mask), at));
  const places = attributeMoves(groups, (mask) => worlds[mask]!.places);
  const scores = attributeMoves(groups, (mask) => worlds[mask]!.scores);
  return {
    comparison: compareRankings(before, after),
    whyOf: (id) => {
      const i = at.get(id);
      if (i === undefined)
        throw new RangeError(`explainMoves: ${JSON.stringify(id)} is not in both rankings`);
      const isScored = worlds.every((world) => world.isScored[i] === 1);
      return { places: places[i]!, score: isScored ? scores[i]! : null };
    },
  };
}

/**
 * Place and score of each lateral that is in both rankings, by its number. Places count down, so that more is worse. A
 * world has all of them: its laterals are those of the one ranking or those of the other.
 */
function placesAndScores(world: readonly RankedLateral[], at: ReadonlyMap<string, number>) {
  const places = new Float64Array(at.size);
  const scores = new Float64Array(at.size);
  const isScored = new Uint8Array(at.size);
  let place = 0;
  for (const { id, score } of world) {
    const i = at.get(id);
    if (i === undefined) continue;
    places[i] = 0 - place++;
    if (score === null) continue;
    scores[i] = score;
    isScored[i] = 1;
  }
  if (place !== at.size) throw new RangeError(`explainMoves: a world with ${place} of ${at.size} laterals`);
  return { places, scores, isScored };
}

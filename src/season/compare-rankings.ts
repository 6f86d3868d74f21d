import { kendallTauB, spearmanRho } from "../engineering/rank-agreement.ts";

/**
 * A lateral of a ranking, which lists the worst first. Scores are as the ranking compares them, in whole quanta; null where a
 * program's own recipe gives none, and then the lateral is last.
 */
export interface RankedLateral {
  readonly id: string;
  readonly score: number | null;
  readonly selected: boolean;
}

/** A lateral whose place among those in both rankings changed. */
export interface Mover {
  readonly id: string;
  /** Rank in the whole of each ranking, 1 first. */
  readonly from: number;
  readonly to: number;
  /**
   * Places moved up (towards the worst risk, positive) among the laterals that are in both: one that is new on top of the list moves
   * nobody.
   */
  readonly places: number;
  readonly scoreFrom: number | null;
  readonly scoreTo: number | null;
  /** Null where only one of the rankings has a score. */
  readonly scoreMove: number | null;
  readonly selection: "stays in" | "stays out" | "came in" | "dropped out";
}

export interface RankingComparison {
  readonly inBoth: number;
  /** Of these, those with a score in each. */
  readonly scoredInBoth: number;
  /** Ids of the first ranking only, and of the second only, each in its own order. */
  readonly gone: readonly string[];
  readonly added: readonly string[];
  /** Agreement of the scores of those scored in both; null when there are fewer than two different ones. */
  readonly tauB: number | null;
  readonly rho: number | null;
  readonly selected: {
    readonly before: number;
    readonly after: number;
    readonly both: number;
    /** both/max(before, after); for two sets of k that is |A ∩ B|/k. Null when nothing is selected in either. */
    readonly overlap: number | null;
  };
  /** All that moved in place or came in or dropped out, farthest first, then by id. */
  readonly movers: readonly Mover[];
}

/**
 * Two rankings of a city, matched by id.
 *
 * Source: Kendall's tau-b, Spearman's rho, overlap |A ∩ B|/k: see engineering/rank-agreement.ts.
 */
export function compareRankings(
  before: readonly RankedLateral[],
  after: readonly RankedLateral[],
): RankingComparison {
  const from = placesOf(before);
  const to = placesOf(after);
  const stayed = before.filter(({ id }) => to.has(id));
  const stayedAfter = after.filter(({ id }) => from.has(id));
  const sharedFrom = placesOf(stayed);

  const movers: Mover[] = [];
  for (const [place, now] of stayedAfter.entries()) {
    const was = before[from.get(now.id)!]!;
    const places = sharedFrom.get(now.id)! - place;
    if (places === 0 && was.selected === now.selected) continue;
    movers.push({
      id: now.id,
      from: from.get(now.id)! + 1,
      to: to.get(now.id)! + 1,
      places,
      scoreFrom: was.score,
      scoreTo: now.score,
      scoreMove: moveOf(was.score, now.score),
      selection: selectionOf(was.selected, now.selected),
    });
  }
  movers.sort((a, b) => Math.abs(b.places) - Math.abs(a.places) || (a.id < b.id ? -1 : 1));

  const scoresBefore: number[] = [];
  const scoresAfter: number[] = [];
  for (const { id, score } of stayedAfter) {
    const was = before[from.get(id)!]!.score;
    if (was === null || score === null) continue;
    scoresBefore.push(was);
    scoresAfter.push(score);
  }
  const selectedBefore = before.filter((l) => l.selected);
  const selectedAfter = after.filter((l) => l.selected);
  const both = selectedBefore.filter(({ id }) => to.has(id) && after[to.get(id)!]!.selected).length;
  const larger = Math.max(selectedBefore.length, selectedAfter.length);
  return {
    inBoth: stayed.length,
    scoredInBoth: scoresAfter.length,
    gone: before.filter(({ id }) => !to.has(id)).map(({ id }) => id),
    added: after.filter(({ id }) => !from.has(id)).map(({ id }) => id),
    tauB: kendallTauB(scoresBefore, scoresAfter),
    rho: spearmanRho(scoresBefore, scoresAfter),
    selected: {
      before: selectedBefore.length,
      after: selectedAfter.length,
      both,
      overlap: larger === 0 ? null : both / larger,
    },
    movers,
  };
}

function moveOf(before: number | null, after: number | null): number | null {
  if (before === null || after === null) return before === after ? 0 : null;
  return after - before;
}

function selectionOf(before: boolean, after: boolean): Mover["selection"] {
  if (before) return after ? "stays in" : "dropped out";
  return after ? "came in" : "stays out";
}

function placesOf(ranking: readonly RankedLateral[]): ReadonlyMap<string, number> {
  const places = new Map<string, number>();
  for (const [place, { id }] of ranking.entries()) {
    if (places.has(id))
      throw new RangeError(`a ranking lists each lateral once, got ${JSON.stringify(id)} twice`);
    places.set(id, place);
  }
  return places;
}

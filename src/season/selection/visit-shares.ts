import { tailOf } from "../../engineering/crew-cycle.ts";
import { minutes } from "../../quantity/si.ts";
import { leastTravel } from "../day-packing.ts";
import { type PackedDays, type PackedRule, paceAt } from "./packed-rule.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** Parts of a crew-day that no packing can beat, by kind of crew; above 1 they are the whole days of a visit longer than a shift. */
export interface VisitShares {
  readonly ofOffer: readonly Float64Array[];
  /** Of what is done, in the order of the rule. */
  readonly ofDone: readonly Float64Array[];
}

/** A season, how its visits are packed, and the least each takes. */
export interface PackedCase {
  readonly problem: SelectionProblem;
  readonly rule: PackedRule;
  readonly shares: VisitShares;
}

/** A choice and its crews' days. */
export interface PackedChoice {
  readonly chosen: Chosen;
  readonly days: PackedDays;
}

export const packedCase = (problem: SelectionProblem, rule: PackedRule): PackedCase => ({
  problem,
  rule,
  shares: visitShares(problem, rule),
});

/**
 * The least part of a crew-day that each visit takes.
 *
 *   x = (pace + p) ÷ (shift + p − tail), and ⌈whole ÷ shift⌉ for a visit longer than a shift
 *
 * with p the least minutes of the way to the next visit in any season that has this visit. Why: a day as packed has
 * Σ (pace + t) ≤ shift + t − T, with t ≥ p the way of the whole district and T the longest tail in it (see packVisits); a part grows
 * when the same is added above and below, and when the room shrinks, so Σ x ≤ 1 for the day.
 */
export function visitShares(problem: SelectionProblem, rule: PackedRule): VisitShares {
  const ways = rule.crews.map((_, crew) => leastWays(problem, rule, crew));
  const owner = ownersOf(problem);
  return {
    ofOffer: rule.crews.map((_, crew) =>
      Float64Array.from(owner, (l, j) =>
        shareOf(rule, crew, rule.whole[crew]![j]!, rule.handsOn[crew]![j]!, ways[crew]![l]!),
      ),
    ),
    ofDone: rule.crews.map((_, crew) =>
      Float64Array.from(rule.done, ({ lateral, whole, handsOn }) =>
        shareOf(rule, crew, whole[crew]!, handsOn[crew]!, ways[crew]![lateral]!),
      ),
    ),
  };
}

function shareOf(rule: PackedRule, crew: number, whole: number, handsOn: number, way: number): number {
  if (whole === 0) return 0;
  if (whole > rule.shift) return Math.ceil(whole / rule.shift);
  const tail = tailOf({ whole: minutes(whole), handsOn: minutes(handsOn) }, rule.sets[crew]!);
  return Math.min(1, (paceAt(rule, crew, whole, handsOn) + way) / (rule.shift + way - tail));
}

/** Laterals nearer to each other, in the unit of their coordinates, count as one place: less may vanish in the last digit of a mean. */
const APART = 1e-3;

/**
 * The least minutes from one visit to the next in any season that has a visit at each lateral, and another one in its district. Where
 * coordinates count, the way is whole minutes above packing and parking (see packCrew), so it is the next whole minute unless all
 * visits of the district are at one place; a visit without coordinates puts its whole district to the stated average.
 */
function leastWays(problem: SelectionProblem, rule: PackedRule, crew: number): Float64Array {
  const least = new Float64Array(lateralsOf(problem)).fill(leastTravel(rule.drive));
  if (rule.drive.coordinateMetres === null) return least;
  const { averageMinutes, parkMinutes } = rule.drive.betweenVisits;
  const isVisited = visitedBy(problem, rule, crew);
  const hasUnknown = new Uint8Array(problem.districts);
  const isKnown = (l: number) => !Number.isNaN(rule.x[l]!) && !Number.isNaN(rule.y[l]!);
  for (let l = 0; l < least.length; l++)
    if (isVisited[l] === 1 && !isKnown(l)) hasUnknown[problem.district[l]!] = 1;
  const crowded = crowdedPlaces(rule, least.length, (l) => isVisited[l] === 1 && isKnown(l));
  for (let l = 0; l < least.length; l++) {
    if (isVisited[l] === 0) continue;
    const driven = crowded.has(l) ? Math.ceil(parkMinutes) : Math.floor(parkMinutes) + 1;
    least[l] = !isKnown(l)
      ? averageMinutes
      : hasUnknown[problem.district[l]!] === 1
        ? Math.min(driven, averageMinutes)
        : driven;
  }
  return least;
}

function visitedBy(problem: SelectionProblem, rule: PackedRule, crew: number): Uint8Array {
  const visited = new Uint8Array(lateralsOf(problem));
  const owner = ownersOf(problem);
  for (const [j, whole] of rule.whole[crew]!.entries()) if (whole > 0) visited[owner[j]!] = 1;
  for (const { lateral, whole } of rule.done) if (whole[crew]! > 0) visited[lateral] = 1;
  return visited;
}

/** Laterals with another one at their place or within {@link APART} of it: found in cells of that size and the cells beside them. */
function crowdedPlaces(
  { x, y }: PackedRule,
  laterals: number,
  counts: (l: number) => boolean,
): ReadonlySet<number> {
  const cells = new Map<string, number[]>();
  const cellOf = (value: number) => Math.floor(value / APART);
  const crowded = new Set<number>();
  for (let l = 0; l < laterals; l++) {
    if (!counts(l)) continue;
    for (let across = -1; across <= 1; across++)
      for (let along = -1; along <= 1; along++)
        for (const other of cells.get(`${cellOf(x[l]!) + across},${cellOf(y[l]!) + along}`) ?? []) {
          crowded.add(l);
          crowded.add(other);
        }
    const own = `${cellOf(x[l]!)},${cellOf(y[l]!)}`;
    const there = cells.get(own);
    // Two of a place are enough to know that it is crowded.
    if (there === undefined) cells.set(own, [l]);
    else if (there.length < 2) there.push(l);
  }
  return crowded;
}

/** The lateral of each offer. */
export function ownersOf({ firstOffer }: SelectionProblem): Uint32Array {
  const owner = new Uint32Array(firstOffer.at(-1) ?? 0);
  for (let l = 0; l + 1 < firstOffer.length; l++) owner.fill(l, firstOffer[l]!, firstOffer[l + 1]!);
  return owner;
}

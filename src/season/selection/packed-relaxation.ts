import type { Arrival } from "./arrivals.ts";
import { countOf, type Filling, leastDays, mostOf, strongestPieces, usualFillings } from "./fillings.ts";
import type { Chosen, SelectionProblem } from "./selection-problem.ts";
import { ownersOf, type PackedCase, type PackedChoice } from "./visit-shares.ts";

/** Parts of a crew-day are counted in so many hundredths of a minute of the shift, downwards: a bound must not be rounded up. */
export const FINE = 100;

/** A way of counting the days of one kind of crew in one district that proves more days there for some choice. */
export interface Cut {
  readonly crew: number;
  readonly district: number;
  readonly filling: Filling;
}

/** How a solved season was packed, by which a next one is judged more truly than the bound does. */
export interface Correction {
  /** Days as packed over days as counted, by crew and district. */
  readonly ratio: readonly Float64Array[];
  /** Crew-days to be left over, by crew. */
  readonly allowance: readonly number[];
}

/**
 * The season with crew-days counted as no packing can beat, in place of minutes over the shift: its optimum bounds every season
 * that fits as packed. For each limited kind of crew:
 *
 *   Σ_d (y_d + mobilisation·coming_d) ≤ days, y_d whole,  and for each filling  Σ count·x ≤ most·y_d in each district
 *   Σ count·x + most·mobilisation·coming_d ≤ most·days for the usual fillings, over all districts
 *
 * The first line is kept by the cores (see Arrival), the second, which follows from it, by the prices too. Counts are those of
 * fillings.ts over the shares of visit-shares.ts: no day as packed holds more. A crew that comes to a district is mobilized there, as
 * packChosen counts it. What else a packing costs (fillings that still leave a rest, a longer way, dates) is not in it.
 *
 * @param cuts fillings that hold in one district, found by {@link findCuts}
 * @param correction makes of it the judgement of a next round; then it bounds nothing any more
 */
export function relaxPacked(
  given: PackedCase,
  cuts: readonly Cut[] = [],
  correction: Correction | null = null,
): SelectionProblem {
  const { problem, rule, shares } = given;
  const minutes: Float64Array[] = [];
  const crewMinutes: number[] = [];
  const arrivals: Arrival[] = [];
  const owner = ownersOf(problem);
  for (const [crew, has] of rule.crewDays.entries()) {
    if (!(has < Infinity)) continue;
    const own = shares.ofOffer[crew]!;
    const done = doneIn(given, crew);
    const isThere = Uint8Array.from(done, (each) => (each.length > 0 ? 1 : 0));
    const there = isThere.reduce((sum, one) => sum + one, 0);
    const days = Math.max(0, has - rule.mobilisationDays * there - (correction?.allowance[crew] ?? 0));
    const ratio = correction?.ratio[crew] ?? new Float64Array(problem.districts).fill(1);
    const from = minutes.length;
    const takes: number[] = [];
    for (const filling of usualFillings) {
      const [unit, round] =
        filling.kind === "parts" ? [rule.shift * FINE, Math.floor] : [1, (value: number) => value];
      const gone = done.reduce(
        (sum, each, d) => sum + each.reduce((all, share) => all + ratio[d]! * countOf(filling, share), 0),
        0,
      );
      minutes.push(
        own.map((share, j) => round(countOf(filling, share) * unit * ratio[problem.district[owner[j]!]!]!)),
      );
      crewMinutes.push(Math.max(0, Math.floor((mostOf(filling) * days - gone) * unit + 1e-6)));
      takes.push(mostOf(filling) * rule.mobilisationDays * unit);
    }
    arrivals.push({
      crew,
      shares: own,
      takes: [...new Array<number>(from).fill(0), ...takes],
      isThere,
      days,
      mobilisation: rule.mobilisationDays,
      fillings: [
        ...usualFillings.map((filling) => ({ filling, district: null })),
        ...cuts.filter((cut) => cut.crew === crew),
      ],
      done,
      ratio,
    });
  }
  return { ...problem, minutes, crewMinutes, arrivals };
}

/** Shares of what is done, by district. */
function doneIn({ problem, rule, shares }: PackedCase, crew: number): readonly number[][] {
  const done: number[][] = Array.from({ length: problem.districts }, () => []);
  for (const [i, { lateral }] of rule.done.entries()) {
    const share = shares.ofDone[crew]![i]!;
    if (share > 0) done[problem.district[lateral]!]!.push(share);
  }
  return done;
}

/** Shares of a choice and of what is done, by district, of one kind of crew. */
function sharesIn(given: PackedCase, crew: number, chosen: Chosen): readonly number[][] {
  const { problem, shares } = given;
  const all = doneIn(given, crew);
  for (const [l, j] of chosen.entries()) {
    const share = j < 0 ? 0 : shares.ofOffer[crew]![j]!;
    if (share > 0) all[problem.district[l]!]!.push(share);
  }
  return all;
}

const fillingsIn = (cuts: readonly Cut[], crew: number, district: number): readonly Filling[] => [
  ...usualFillings,
  ...cuts.filter((cut) => cut.crew === crew && cut.district === district).map(({ filling }) => filling),
];

/** Fillings that prove more days of a packed choice than the ones so far do, and no more than it took. */
export function findCuts(
  given: PackedCase,
  cuts: readonly Cut[],
  { chosen, days: { work } }: PackedChoice,
): readonly Cut[] {
  const { rule } = given;
  return rule.crews.flatMap((kind, crew): readonly Cut[] => {
    if (!(rule.crewDays[crew]! < Infinity)) return [];
    return sharesIn(given, crew, chosen).flatMap((own, district): readonly Cut[] => {
      const took = work[district]!.find((each) => each.crew === kind)?.crewDays ?? 0;
      const counted = leastDays(fillingsIn(cuts, crew, district), own);
      if (took <= counted) return [];
      const best = strongestPieces(own);
      return best !== null && Math.ceil(best.days - 1e-6) > counted
        ? [{ crew, district, filling: best.filling }]
        : [];
    });
  });
}

/** Days as packed over days as counted, of each crew and district; the mean of its crew where it was not. */
export function ratiosOf(
  given: PackedCase,
  cuts: readonly Cut[],
  { chosen, days: { work } }: PackedChoice,
): readonly Float64Array[] {
  return given.rule.crews.map((kind, crew) => {
    const counted = sharesIn(given, crew, chosen).map((own, d) => leastDays(fillingsIn(cuts, crew, d), own));
    const took = work.map((own) => own.find((each) => each.crew === kind)?.crewDays ?? 0);
    const sum = (days: readonly number[]) => days.reduce((all, each) => all + each, 0);
    const mean = sum(counted) > 0 ? sum(took) / sum(counted) : 1;
    return Float64Array.from(counted, (days, d) => Math.max(1, days > 0 ? took[d]! / days : mean));
  });
}

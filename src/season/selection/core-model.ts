import { type BestBySet, bestBySet, setsOf } from "./coming-sets.ts";
import { daysInCore } from "./core-days.ts";
import { type Limits, MONEY_ROW } from "./limits.ts";
import { GrowingModel, type LinearModel } from "./linear-solver.ts";
import { alwaysOpen, gainOf, type PricedChoice } from "./prices.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** The choice with most laterals settled beforehand, as a program of whole numbers small enough to solve. */
export interface CoreModel {
  readonly model: LinearModel;
  readonly worthScale: number;
  /** The offers of its columns, in order, before the columns of the districts. */
  readonly offers: Int32Array;
  /** What each lateral outside the core does if its district is open; −1: nothing, or it is in the core. */
  readonly sure: Chosen;
  /** Every choice that departs from what is settled is worth no more than the bound less this; Infinity: nothing is settled. */
  readonly departing: number;
}

/** What each alternative of a lateral loses against its pick at the prices. Its smallest losses say how unsettled it is. */
export function lossesOf(
  problem: SelectionProblem,
  limits: Limits,
  usable: Uint8Array,
  prices: Float64Array,
  { picks, coming, bySet }: PricedChoice,
): { readonly ofOffer: Float64Array; readonly ofNone: Float64Array; readonly sorted: Float64Array } {
  const n = lateralsOf(problem);
  const sets = setsOf(problem);
  const best: BestBySet = { gains: new Float64Array(sets), offers: new Int32Array(sets) };
  const gainBy = (j: number) => gainOf(problem, limits, prices, j);
  const ofOffer = new Float64Array(problem.worth.length).fill(Number.POSITIVE_INFINITY);
  const ofNone = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  const alternatives = new Float64Array(problem.worth.length + n);
  let count = 0;
  for (let l = 0; l < n; l++) {
    const d = problem.district[l]!;
    bestBySet(problem, limits.brings, usable, gainBy, l, best);
    const most = bySet[d * sets + coming[d]!]!;
    /** What the district loses at the least if this lateral gains so much and these kinds of crew come for it. */
    const lossWith = (gain: number, brought: number): number => {
      let least = Number.POSITIVE_INFINITY;
      for (let set = 0; set < sets; set++) {
        const other = bySet[d * sets + set]!;
        if ((brought & ~set) !== 0 || other === Number.NEGATIVE_INFINITY) continue;
        least = Math.min(least, Math.max(0, most - other + (best.gains[set]! - gain)));
      }
      return least;
    };
    if (problem.must[l] === 0) ofNone[l] = picks[l]! < 0 ? 0 : lossWith(0, 0);
    if (picks[l]! >= 0 && problem.must[l] === 0) alternatives[count++] = ofNone[l]!;
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) {
      if (usable[j] === 0) continue;
      // The pick itself loses nothing, whatever the last digit of the same sum says.
      ofOffer[j] = j === picks[l] ? 0 : lossWith(gainBy(j), limits.brings[j]!);
      if (j !== picks[l]) alternatives[count++] = ofOffer[j]!;
    }
  }
  return { ofOffer, ofNone, sorted: alternatives.subarray(0, count).sort() };
}

/**
 * The core: every alternative that loses no more than the `size`-th smallest loss stays open; a lateral with one alternative left is
 * settled and goes into the column that opens its district, with all it takes. With a size of all alternatives this is the whole
 * program.
 *
 * A choice that departs from a settled lateral is worth at most L(p) less what departing loses at the prices (see chooseAt), so the
 * best of the core is the best of all whenever it is worth more than that.
 *
 * Source: cores of knapsack problems by losses at the prices, E. Balas, E. Zemel, Operations Research 28, 1980; bound as by
 * D. Pisinger, European Journal of Operational Research 83, 1995 (one of each class). Both have one limit; the bound above needs none of that.
 *
 * @param keep the limits to keep: those of `limits`, or tighter where rounding broke one
 */
export function coreModel(
  problem: SelectionProblem,
  limits: Limits,
  losses: ReturnType<typeof lossesOf>,
  size: number,
  keep: Pick<Limits, "lower" | "upper"> = limits,
): CoreModel {
  const n = lateralsOf(problem);
  const { sorted, ofOffer, ofNone } = losses;
  const isWhole = size >= sorted.length;
  const threshold = isWhole ? Number.MAX_VALUE : sorted[size]!;
  const worthScale = problem.worth.reduce((most, worth) => Math.max(most, worth), 0) || 1;
  const rows = limits.rules.length;
  const model = new GrowingModel();
  for (let row = 0; row < rows; row++)
    model.addRow(keep.lower[row]! / limits.scale[row]!, keep.upper[row]! / limits.scale[row]!);

  const days = daysInCore(problem, limits, model);
  const offers: number[] = [];
  const sure = new Int32Array(n).fill(-1);
  const linked: (readonly number[])[] = Array.from({ length: problem.districts }, () => []);
  const sureWorth = new Float64Array(problem.districts);
  const sureTakes = new Float64Array(problem.districts * rows);
  for (let d = 0; d < problem.districts; d++) sureTakes[d * rows + MONEY_ROW] = problem.mobilization[d]!;
  for (let l = 0; l < n; l++) {
    const d = problem.district[l]!;
    const from = problem.firstOffer[l]!;
    const to = problem.firstOffer[l + 1]!;
    const noneKept = staysOpen(ofNone[l]!, threshold);
    const kept: number[] = [];
    for (let j = from; j < to; j++) if (staysOpen(ofOffer[j]!, threshold)) kept.push(j);
    const last = kept.at(-1) ?? -1;
    if (kept.length + (noneKept ? 1 : 0) === 1) {
      sure[l] = last;
      if (last >= 0) {
        days.settle(d, last);
        sureWorth[d]! += problem.worth[last]!;
        for (let at = limits.starts[last]!; at < limits.starts[last + 1]!; at++)
          sureTakes[d * rows + limits.rows[at]!]! += limits.values[at]!;
      }
    } else if (last >= 0 || problem.must[l] === 1) {
      // One offer, or none, of a lateral, and only in a district that is open.
      const link = model.addRow(noneKept ? Number.NEGATIVE_INFINITY : 0, 0);
      (linked[d] as number[]).push(link);
      const linkRows = days.linkRows(d, kept);
      for (const j of kept) {
        model.addColumn(-problem.worth[j]! / worthScale, 0, 1);
        for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++)
          model.addEntry(limits.rows[at]!, limits.values[at]! / limits.scale[limits.rows[at]!]!);
        model.addEntry(link, 1);
        days.addEntries(d, j, linkRows);
        offers.push(j);
      }
    }
  }
  const always = alwaysOpen(problem);
  for (let d = 0; d < problem.districts; d++) {
    model.addColumn(-sureWorth[d]! / worthScale, always[d]!, 1);
    for (let row = 0; row < rows; row++) model.addEntry(row, sureTakes[d * rows + row]! / limits.scale[row]!);
    for (const link of linked[d]!) model.addEntry(link, -1);
    days.openEntries(d);
  }
  days.addColumns();
  return {
    model: model.finish(),
    worthScale,
    offers: Int32Array.from(offers),
    sure,
    departing: isWhole ? Number.POSITIVE_INFINITY : threshold,
  };
}

/** What loses nothing is the pick, or as good. */
const staysOpen = (loss: number, threshold: number): boolean => loss === 0 || loss < threshold;

/** The choice of every lateral from the values of the core's columns. */
export function chosenOf(problem: SelectionProblem, core: CoreModel, values: Float64Array): Chosen {
  const chosen = new Int32Array(lateralsOf(problem)).fill(-1);
  const isOpen = (district: number) => values[core.offers.length + district]! > 0.5;
  for (let l = 0; l < chosen.length; l++) if (isOpen(problem.district[l]!)) chosen[l] = core.sure[l]!;
  const lateralOf = ownerOf(problem, core.offers);
  for (const [column, j] of core.offers.entries()) if (values[column]! > 0.5) chosen[lateralOf[column]!] = j;
  return chosen;
}

/** The lateral of each of some offers in rising order. */
function ownerOf({ firstOffer }: SelectionProblem, offers: Int32Array): Int32Array {
  let l = 0;
  return offers.map((j) => {
    while (firstOffer[l + 1]! <= j) l++;
    return l;
  });
}

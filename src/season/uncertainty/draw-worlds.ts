import { shuffledStrips } from "../../engineering/latin-hypercube.ts";
import { type SpreadShape, spreadQuantile } from "../../engineering/pert-distribution.ts";
import { RandomStream } from "../../engineering/random-stream.ts";
import type { Spread, Uncertainty } from "../../reference/uncertainty.ts";
import type { SharedDraws } from "./shared-draws.ts";
import type { CostPart, UncertainWork } from "./uncertain-work.ts";

/** Every world's cost and crew time, by district; cents and minutes, not rounded. */
export interface Worlds {
  readonly cost: readonly Float64Array[];
  readonly minutes: readonly Float64Array[];
  /** Laterals that turned out to need another treatment. */
  readonly changed: Float64Array;
}

/**
 * Draws the worlds lateral by lateral, so that nothing but the sums is kept.
 *
 *   minutes = Σ m·(own time)·productivity
 *   cost    = Σ (fixed + byLength·f + beyond·max(0, length·f − included))·market·(class of prices) ,   f = (own length)·bias
 *
 * A lateral's own draws are a Latin hypercube of their own: each strip once over the worlds, at its middle, shuffled by a stream that
 * is the lateral's. It turns out otherwise in the worlds whose strip lies below chance × together.
 */
export function drawWorlds(
  work: UncertainWork,
  shared: SharedDraws,
  table: Uncertainty,
  { draws, seed, shape }: { readonly draws: number; readonly seed: number; readonly shape: SpreadShape },
): Worlds {
  const perDistrict = () => work.districts.map(() => new Float64Array(draws));
  const [cost, minutes] = [perDistrict(), perDistrict()];
  const changed = new Float64Array(draws);
  const middles = (spread: Spread) =>
    Float64Array.from({ length: draws }, (_, i) => spreadQuantile(shape, spread, (i + 0.5) / draws));
  const [ownTime, ownLength] = [middles(table.time.own), middles(table.length.own)];
  const stream = new RandomStream(seed);
  const [times, lengths, openings] = [0, 1, 2].map(() => new Uint32Array(draws)) as [
    Uint32Array,
    Uint32Array,
    Uint32Array,
  ];
  const price = work.priceClasses.map((_, c) =>
    shared.prices[c]!.factors.map((factor, i) => factor * shared.market.factors[i]!),
  );
  const priced = (parts: readonly CostPart[], found: number, world: number): number => {
    let sum = 0;
    for (const { priceClass, fixed, byLength, beyond } of parts) {
      const longer =
        beyond === null ? 0 : beyond.centsPerUnit * Math.max(0, beyond.length * found - beyond.included);
      sum += (fixed + byLength * found + longer) * price[priceClass]![world]!;
    }
    return sum;
  };
  for (const lateral of work.laterals) {
    // Streams below this one are those of the shared draws.
    stream.restart(seed, OWN_STREAMS + lateral.place, draws);
    shuffledStrips(draws, stream, times);
    shuffledStrips(draws, stream, lengths);
    const { change } = lateral;
    if (change !== null) shuffledStrips(draws, stream, openings);
    const into = { cost: cost[lateral.district]!, minutes: minutes[lateral.district]! };
    for (let i = 0; i < draws; i++) {
      const opens =
        change !== null && openings[i]! + 0.5 < change.chance * shared.together.factors[i]! * draws;
      if (opens) changed[i]!++;
      const found = ownLength[lengths[i]!]! * shared.bias.factors[i]!;
      into.cost[i]! += priced(opens ? change.cost : lateral.cost, found, i);
      into.minutes[i]! +=
        (opens ? change.minutes : lateral.minutes) * ownTime[times[i]!]! * shared.productivity.factors[i]!;
    }
  }
  for (const [d, held] of work.held.entries()) for (let i = 0; i < draws; i++) cost[d]![i]! += held;
  return { cost, minutes, changed };
}

const OWN_STREAMS = 1000;

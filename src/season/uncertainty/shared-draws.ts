import { latinHypercube } from "../../engineering/latin-hypercube.ts";
import { type SpreadShape, spreadQuantile } from "../../engineering/pert-distribution.ts";
import type { Spread, Uncertainty } from "../../reference/uncertainty.ts";

/** One thing that is drawn once a world and moves everything it touches together. */
export interface SharedDraw {
  readonly key: string;
  /** For people. */
  readonly words: string;
  readonly spread: Spread;
  /** A factor a world. */
  readonly factors: Float64Array;
}

export interface SharedDraws {
  readonly productivity: SharedDraw;
  readonly bias: SharedDraw;
  readonly market: SharedDraw;
  readonly prices: readonly SharedDraw[];
  readonly together: SharedDraw;
  readonly weather: SharedDraw;
}

/** A Latin hypercube over everything that is shared: one variable each, in a fixed order. */
export function drawShared(
  table: Uncertainty,
  priceClasses: readonly string[],
  { draws, seed, shape }: { readonly draws: number; readonly seed: number; readonly shape: SpreadShape },
): SharedDraws {
  let variable = 0;
  const draw = (key: string, words: string, spread: Spread): SharedDraw => ({
    key,
    words,
    spread,
    factors: latinHypercube(draws, seed, variable++).map((u) => spreadQuantile(shape, spread, u)),
  });
  return {
    productivity: draw("productivity", "crew time, all crews together", table.time.productivity),
    bias: draw("footage bias", "lengths found, all laterals together", table.length.bias),
    market: draw("market", "prices, all together", table.price.market),
    together: draw("openings", "chance of another treatment, all laterals together", table.changes.together),
    weather: draw("weather", "days lost, all months together", table.weather.times),
    prices: priceClasses.map((name) =>
      draw(`prices of ${name}`, `prices of ${name}, beside the market`, table.price.ofClass),
    ),
  };
}

export const allShared = ({ prices, ...others }: SharedDraws): readonly SharedDraw[] => [
  ...Object.values(others),
  ...prices,
];

import { latinHypercube } from "../../engineering/latin-hypercube.ts";
import { type SpreadShape, spreadQuantile } from "../../engineering/pert-distribution.ts";
import type { Spread, Uncertainty } from "../../reference/uncertainty.ts";

/** One thing that is drawn once a world and moves everything it touches together. */
export interface SharedDraw {
  readonly key: string;
  /** For people. */
  readonly words: string;
  readonly spread: Spread;
  readonly moves: readonly ("cost" | "time")[];
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
  const draw = (key: string, words: string, spread: Spread, moves: SharedDraw["moves"]): SharedDraw => ({
    key,
    words,
    spread,
    moves,
    factors: latinHypercube(draws, seed, variable++).map((u) => spreadQuantile(shape, spread, u)),
  });
  const { time, length, price, changes, weather } = table;
  return {
    productivity: draw("productivity", "crew time, all crews together", time.productivity, ["time"]),
    bias: draw("footage bias", "lengths found, all laterals together", length.bias, ["cost"]),
    market: draw("market", "prices, all together", price.market, ["cost"]),
    together: draw("openings", "chance of another treatment, all laterals together", changes.together, [
      "cost",
      "time",
    ]),
    weather: draw("weather", "days lost, all months together", weather.times, ["time"]),
    prices: priceClasses.map((name) =>
      draw(`prices of ${name}`, `prices of ${name}, beside the market`, price.ofClass, ["cost"]),
    ),
  };
}

export const allShared = ({ prices, ...others }: SharedDraws): readonly SharedDraw[] => [
  ...Object.values(others),
  ...prices,
];

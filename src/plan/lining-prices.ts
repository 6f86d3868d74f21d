import type { Cents, Metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { measureBidLines } from "./bid-lines.ts";
import { priceLines } from "./cost.ts";
import type { CureFits } from "./cure-fit.ts";
import type { Lateral } from "./lateral.ts";
import { cutLiner, type Liner } from "./liner.ts";
import { reachRefusals } from "./system-limits.ts";
import type { Walls } from "./walls.ts";

/**
 * What sections and a full-length liner of this lateral cost, by the bid lines that their offers will have. A new
 * cleanout is left out: both need the same.
 */
export interface LiningPrices {
  /** Null for a length without a price. */
  readonly section: (length: Metres) => Cents | null;
  /** Null where a full-length liner cannot be placed or has no price. */
  readonly fullLength: Cents | null;
}

export function priceLining(lateral: Lateral, walls: Walls, cures: CureFits, basis: Basis): LiningPrices {
  const price = (treatment: "sectional liner" | "full-length liner", liner: Liner) =>
    priceLines(
      measureBidLines(treatment, lateral, liner, basis).filter(({ item }) => item !== "new cleanout"),
      basis.prices,
    ).total;
  const cut = (treatment: "sectional liner" | "full-length liner", length: Metres | null) =>
    cutLiner(treatment, lateral, walls, length === null ? null : [{ start: null, length }], basis);
  const { "full-length": full } = walls;
  const mayBeFull =
    full.kind === "designed" &&
    lateral.hostLength !== null &&
    (cures["full-length"]?.against.length ?? 0) === 0 &&
    reachRefusals(lateral, "full-length", basis.liners["full-length"]).length === 0;
  return {
    section: (length) => price("sectional liner", cut("sectional liner", length)),
    fullLength: mayBeFull ? price("full-length liner", cut("full-length liner", null)) : null,
  };
}

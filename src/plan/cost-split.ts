import { type Cents, cents } from "../quantity/si.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { Cost, PricedLine } from "./cost.ts";
import type { Lateral } from "./lateral.ts";

/** One bid line between the city and the owners of the other parts; quantities in hundredths, nulls without a price. */
export interface SplitLine {
  readonly line: PricedLine;
  readonly cityPart: number;
  readonly cityHundredths: number;
  readonly ownerHundredths: number;
  readonly cityCents: Cents | null;
  readonly ownerCents: Cents | null;
}

/** Who pays what of one treatment, or what must be stated first. */
export type CostSplit =
  | {
      readonly kind: "split";
      readonly lines: readonly SplitLine[];
      /** Null when the treatment has no cost. */
      readonly city: Cents | null;
      readonly owner: Cents | null;
    }
  | { readonly kind: "not stated"; readonly what: NotStated };

export type NotStated = "owner" | "lengths of the parts" | "city share";

/** The part an item is on, where it is on one only; all others run along the whole lateral. */
const onOnePart: Readonly<Partial<Record<BidItemKey, "lower" | "upper">>> = {
  "connection liner": "lower",
  // A cleanout is set where a crew works from, at the building.
  "new cleanout": "upper",
};

/**
 * The city pays for its own parts and its share of the others; a line along the whole lateral is divided by the lengths
 * of the parts. The city's part is rounded half up, once a line, and the owner pays the rest, so that the two add up to
 * the line to the cent and to the hundredth.
 */
export function splitCost(
  { lines, total }: Cost,
  lateral: Pick<Lateral, "lowerLength" | "upperLength" | "lowerOwner" | "upperOwner" | "cityShare">,
): CostSplit {
  const split: SplitLine[] = [];
  for (const line of lines) {
    const part = cityPartOf(line.item, lateral);
    if (typeof part === "string") return { kind: "not stated", what: part };
    const cityHundredths = Math.round(line.hundredths * part);
    const cityCents = line.extension === null ? null : cents(Math.round(line.extension * part));
    split.push({
      line,
      cityPart: part,
      cityHundredths,
      ownerHundredths: line.hundredths - cityHundredths,
      cityCents,
      ownerCents: line.extension === null || cityCents === null ? null : cents(line.extension - cityCents),
    });
  }
  if (total === null) return { kind: "split", lines: split, city: null, owner: null };
  const city = split.reduce((sum, { cityCents }) => sum + (cityCents as number), 0);
  return { kind: "split", lines: split, city: cents(city), owner: cents(total - city) };
}

/** What the city pays of a line, from 0 to 1; or what is not stated. */
function cityPartOf(
  item: BidItemKey,
  { lowerLength, upperLength, lowerOwner, upperOwner, cityShare }: Parameters<typeof splitCost>[1],
): number | NotStated {
  const only = onOnePart[item];
  const owners = only === "lower" ? [lowerOwner] : only === "upper" ? [upperOwner] : [lowerOwner, upperOwner];
  const parts: number[] = [];
  for (const owner of owners) {
    if (owner === null) return "owner";
    if (owner.value === "city") parts.push(1);
    else if (cityShare === null) return "city share";
    else parts.push(cityShare.value);
  }
  const [lower, upper = lower] = parts as [number, number?];
  if (lower === upper) return lower;
  if (lowerLength === null || upperLength === null) return "lengths of the parts";
  const length = lowerLength.value + upperLength.value;
  if (!(length > 0)) return "lengths of the parts";
  return (lower * lowerLength.value + upper * upperLength.value) / length;
}

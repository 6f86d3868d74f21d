import { type Part, roundPart } from "../quantity/money.ts";
import { type Cents, cents, type Metres } from "../quantity/si.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { Cost, PricedLine } from "./cost.ts";
import type { Lateral } from "./lateral.ts";

/** One bid line between the city and the owners of the other parts; quantities in hundredths, nulls without a price. */
export interface SplitLine {
  readonly line: PricedLine;
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

type Where = "lower" | "upper" | "along both";

/** The part an item is on, where it is on one only; all others run along the whole lateral. */
const onOnePart: Readonly<Partial<Record<BidItemKey, Where>>> = {
  "connection liner": "lower",
  // A cleanout is set where a crew works from, at the building.
  "new cleanout": "upper",
};

/**
 * The city pays for its own parts and its share of the others; a line along the whole lateral is divided by the lengths
 * of the parts. The city's part is rounded half up, once a line, and the owner pays the rest, so that the two add up to
 * the line to the cent and to the hundredth.
 */
export function splitCost(cost: Cost, lateral: Ownership): CostSplit {
  let city = 0;
  // Nearly all lines of a lateral lie along the whole of it: their part is worked out once.
  let where: Where = "along both";
  let part: Part | NotStated | null = null;
  for (const line of cost.lines) {
    const own = whereIs(line);
    if (part === null || own !== where) part = cityPartOf(own, lateral);
    where = own;
    if (typeof part === "string") return { kind: "not stated", what: part };
    city += cityCentsOf(line, part) ?? 0;
  }
  return new Split(cost, lateral, cost.total === null ? null : cents(city));
}

const whereIs = ({ item }: PricedLine): Where => onOnePart[item] ?? "along both";

type Ownership = Pick<Lateral, "lowerLength" | "upperLength" | "lowerOwner" | "upperOwner" | "cityShare">;

const cityCentsOf = ({ extension }: PricedLine, part: Part): Cents | null =>
  extension === null ? null : cents(roundPart(extension, part));

/** Of most laterals only the two sums are asked: their lines are divided when somebody wants to see them. */
class Split {
  readonly kind = "split";
  readonly city: Cents | null;
  readonly owner: Cents | null;
  readonly #cost: Cost;
  readonly #lateral: Ownership;

  constructor(cost: Cost, lateral: Ownership, city: Cents | null) {
    this.city = city;
    this.owner = city === null || cost.total === null ? null : cents(cost.total - city);
    this.#cost = cost;
    this.#lateral = lateral;
  }

  get lines(): readonly SplitLine[] {
    return this.#cost.lines.map((line) => splitLine(line, cityPartOf(whereIs(line), this.#lateral) as Part));
  }
}

function splitLine(line: PricedLine, cityPart: Part): SplitLine {
  const cityHundredths = roundPart(line.hundredths, cityPart);
  const cityCents = cityCentsOf(line, cityPart);
  return {
    line,
    cityHundredths,
    ownerHundredths: line.hundredths - cityHundredths,
    cityCents,
    ownerCents: line.extension === null || cityCents === null ? null : cents(line.extension - cityCents),
  };
}

/** What the city pays of a line that lies there; or what is not stated. */
function cityPartOf(where: Where, lateral: Ownership): Part | NotStated {
  const { lowerLength, upperLength, lowerOwner, upperOwner, cityShare } = lateral;
  const lower = where === "upper" ? null : cityPays(lowerOwner, cityShare);
  const upper = where === "lower" ? null : cityPays(upperOwner, cityShare);
  if (typeof lower === "string") return lower;
  if (typeof upper === "string") return upper;
  if (lower === null || upper === null || lower === upper) return { of: (lower ?? upper)!, whole: MILLION };
  if (lowerLength === null || upperLength === null) return "lengths of the parts";
  const [down, up] = [micrometres(lowerLength.value), micrometres(upperLength.value)];
  if (!(down + up > 0)) return "lengths of the parts";
  return { of: lower * down + upper * up, whole: MILLION * (down + up) };
}

/** Of one part, in millionths. */
function cityPays(owner: Lateral["lowerOwner"], share: Lateral["cityShare"]): number | NotStated {
  if (owner === null) return "owner";
  if (owner.value === "city") return MILLION;
  return share === null ? "city share" : Math.round(share.value * MILLION);
}

/**
 * Shares and lengths as whole numbers, so that a half is a half: a hundredth of a foot is 3048 µm, and the sums are exact up to
 * 9 km of lateral.
 */
const MILLION = 1e6;
const micrometres = (length: Metres): number => Math.round(length * MILLION);

import type { Part } from "../bidding/bid.ts";
import { type IssuedNumbers, NOTHING_ISSUED, numbersOf } from "../bidding/issued-numbers.ts";
import { quantities as measures, type UnitSystem } from "../quantity/measure.ts";
import { convert, units } from "../quantity/units.ts";
import type { Basis } from "../reference/basis.ts";
import type { BidItem, BidUnit } from "../reference/bid-items.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";

/** One line of the bid schedule. */
export interface ScheduleLine {
  /** The plan's name of the line: `full-length liner | 4 in`, or the item alone. */
  readonly key: string;
  readonly item: BidItem;
  /** 6.04 is the fourth variant of item 6, or the fourth ever issued; 9.00 an item without variants. A real number, which formulas can match. */
  readonly number: number;
  /** `full-length liner, 4 in` */
  readonly label: string;
  /** The item's wording with its variant and what the wording refers to. */
  readonly description: string;
  readonly unit: string;
  readonly format: string;
  readonly hundredths: number;
}

type ScheduleBasis = Pick<Basis, "bidItems" | "treatments" | "program">;

/**
 * The bid schedule: the lump sums, and every line that the plan uses, with its quantity over the program.
 *
 * @param quantities hundredths by bid line key
 * @param issued numbers that bidders have, which no line may change
 */
export function scheduleLines(
  basis: ScheduleBasis,
  quantities: ReadonlyMap<string, number>,
  issued: IssuedNumbers = NOTHING_ISSUED,
): readonly ScheduleLine[] {
  const used = [...quantities].map(([key, hundredths]) => ({ ...splitKey(key), key, hundredths }));
  const items = basis.bidItems.items.toSorted((a, b) => a.number - b.number);
  const lines = items.flatMap((item) => {
    if (item.unit === "lump sum") return [scheduleLine(basis, item, "", item.key, item.number, 100)];
    const variants = used.filter((line) => line.item === item.key).toSorted(bySize);
    const names = variants.map(({ key }) => key);
    const numbers =
      item.variant === "none" ? names.map(() => item.number) : numbersOf(item.number, names, issued);
    return variants
      .map(({ variant, key, hundredths }, i) =>
        scheduleLine(basis, item, variant, key, numbers[i]!, hundredths),
      )
      .sort((a, b) => a.number - b.number);
  });
  const lost = used.find(({ key }) => !lines.some((line) => line.key === key));
  if (lost !== undefined) throw new RangeError(`scheduleLines: no bid item for ${JSON.stringify(lost.key)}`);
  return lines;
}

/** The sheet of the base bid, or of an alternate. */
export const scheduleSheetName = (part: Part): string =>
  part === "base" ? "Bid schedule" : `Alternate ${part}`;

/** The number format of an item's number, in a column called so on every sheet. */
export const ITEM_FORMAT = "0.00";
export const ITEM_HEADING = "Item";

/** Item number as it is printed: 6.04. */
export const itemNumber = (number: number): string => number.toFixed(2);

function scheduleLine(
  basis: ScheduleBasis,
  item: BidItem,
  variant: string,
  key: string,
  number: number,
  hundredths: number,
): ScheduleLine {
  const system = basis.program.units;
  const particulars = [variantWords(item, variant), referredTo(item, variant, basis)].filter(
    (part) => part !== "",
  );
  return {
    key,
    item,
    number,
    label: variant === "" ? item.key : `${item.key}, ${variant}`,
    description: [item.wording, ...particulars].join("; "),
    unit: unitWords(item.unit, system),
    format: item.unit === "length" || item.unit === "area" ? HUNDREDTHS : WHOLE,
    hundredths,
  };
}

const variantWords = (item: BidItem, variant: string): string => {
  const before = BEFORE_VARIANT[item.variant];
  return before === "" ? "" : `${before}${variant}`;
};

/** The words before a variant, as {@link variantWords} puts them. */
const BEFORE_VARIANT = {
  none: "",
  diameter: "nominal diameter ",
  "diameter and length": "nominal diameter and length ",
  "main diameter": "main ",
  "diameter and main": "nominal diameter ",
  surface: "surface: ",
  depth: "depth to invert ",
} as const satisfies Record<BidItem["variant"], string>;

/** The size or surface of a line, read back from its description: `4 in`. Null where the description has none. */
export function variantIn(description: string, item: BidItem): string | null {
  if (item.variant === "none") return "";
  const before = `${item.wording}; ${BEFORE_VARIANT[item.variant]}`;
  if (!description.startsWith(before)) return null;
  return description.slice(before.length).split("; ", 1)[0] ?? null;
}

/** What an item's wording refers to as stated in the schedule. */
function referredTo(
  item: BidItem,
  variant: string,
  { bidItems, treatments, program }: ScheduleBasis,
): string {
  const { units: system } = program;
  const length = units[measures.length[system]].spellings[0];
  switch (item.key) {
    case "full-length liner":
    case "additional liner length":
    case "one-piece liner":
    case "additional one-piece length":
      return `included length ${bidItems.includedLength[system]} ${length}`;
    case "surface restoration":
      return [
        `trench width ${exactly(convert(treatments.openCut.trenchWidth, "m", measures.length[system]))} ${length}`,
        ...treatments.bursting.pits
          .filter(({ surface }) => surface === variant)
          .map(({ name, area }) => {
            const unit = measures.area[system];
            return `${name} ${convert(area, "m2", unit).toFixed(2)} ${units[unit].spellings[0]}`;
          }),
      ].join(", ");
    default:
      return "";
  }
}

/**
 * To hundredths, or to as many more decimals (6 at most) as the value has: a quantity must follow from what the bid states, and a width of
 * 0.91 m stated for 0.9144 m would be half a square metre off in a hundred.
 */
function exactly(value: number): string {
  const decimals = [2, 3, 4, 5].find((count) => Math.abs(Number(value.toFixed(count)) - value) < 1e-9);
  return value.toFixed(decimals ?? 6);
}

const unitWords = (unit: BidUnit, system: UnitSystem): string => UNIT_WORDS[unit][system];

const UNIT_WORDS = {
  "lump sum": { us: "LS", si: "lump sum" },
  each: { us: "EA", si: "each" },
  length: { us: "LF", si: "m" },
  area: { us: "SF", si: "m²" },
} as const satisfies Record<BidUnit, Record<UnitSystem, string>>;

/** The system in whose programs a unit is written so; null where it is the unit of neither. */
export const systemOfUnit = (unit: string): UnitSystem | null =>
  (["us", "si"] as const).find((system) =>
    Object.values(UNIT_WORDS).some((words) => words[system] === unit),
  ) ?? null;

/** `full-length liner | 4 in` apart; bidLineKey of plan/bid-lines.ts put it together. */
function splitKey(key: string): { readonly item: string; readonly variant: string } {
  const [item = "", variant = ""] = key.split(" | ", 2);
  return { item, variant };
}

/** Variants by the numbers in them, then by their words; those without a number last. */
function bySize(a: { readonly variant: string }, b: { readonly variant: string }): number {
  const [first, second] = [sizesIn(a.variant), sizesIn(b.variant)];
  for (let i = 0; i < Math.max(first.length, second.length); i++) {
    const difference = (first[i] ?? Number.POSITIVE_INFINITY) - (second[i] ?? Number.POSITIVE_INFINITY);
    if (difference !== 0) return difference;
  }
  return a.variant < b.variant ? -1 : 1;
}

const sizesIn = (variant: string): readonly number[] => (variant.match(/\d+(\.\d+)?/g) ?? []).map(Number);

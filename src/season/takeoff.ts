import { boundByLength, boundByMartelloToth, cutFirstFitDecreasing } from "../engineering/cutting-stock.ts";
import { buyWhole, countByLives } from "../engineering/whole-containers.ts";
import { type MaterialUse, readTakeoffKey, takeoffItems } from "../plan/takeoff.ts";
import type { Basis } from "../reference/basis.ts";
import { numbersOf, textAt } from "../sheet/table.ts";
import { batchByDistrict, batchOfAll, type DistrictBatches } from "./batches.ts";
import type { PlannedSheet } from "./plan-sheet.ts";

/** How one kind of tube is cut from rolls; lengths in mm. */
export interface RollCuts {
  readonly roll: number;
  readonly pieces: number;
  readonly rolls: number;
  /** No cutting needs fewer: ⌈Σ/roll⌉, and the stronger L2 of Martello and Toth. Equal to `rolls` proves it best. */
  readonly boundByLength: number;
  readonly boundByMartelloToth: number;
  /** Rests long enough to keep, the longest first, and the sum of those that are not. */
  readonly usableLeft: readonly number[];
  readonly scrap: number;
  /** Pieces longer than a roll: ordered to length. */
  readonly orderedToLength: readonly number[];
}

/** Whole containers, or things that bear so many uses. */
export interface Purchase {
  readonly what: "box" | "pail" | "bladder";
  readonly holds: number;
  readonly count: number;
  readonly left: number;
}

/** One material of a district or of the program, in the unit of its item (mm, mL, cm², each). */
export interface TakeoffLine extends Pick<MaterialUse, "item" | "variant"> {
  readonly unit: (typeof takeoffItems)[keyof typeof takeoffItems];
  readonly use: number;
  readonly cuts: RollCuts | null;
  readonly purchase: Purchase | null;
}

export interface TakeoffGroup {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  readonly lines: readonly TakeoffLine[];
  readonly resins: readonly DistrictBatches[];
}

/**
 * What a contractor must buy. The program's own figures are of one purchase for all districts: their uses add up to it,
 * their rolls and containers do not, because each district rounds up for itself.
 */
export interface Takeoff {
  readonly districts: readonly TakeoffGroup[];
  readonly program: TakeoffGroup;
}

type Uses = Map<string, number[]>;

/** Takeoff per district and of the program, from the planned sheet. */
export function takeOffByDistrict(
  sheet: Pick<PlannedSheet, "laterals" | "uses" | "materials" | "seconds">,
  basis: Pick<Basis, "materials" | "wetOut">,
): Takeoff {
  const { laterals, uses } = sheet;
  const districts = new Map<string, Uses>();
  const program: Uses = new Map();
  for (let row = 0; row < laterals.rows; row++) {
    const name = textAt(laterals, "district", row);
    if (!districts.has(name)) districts.set(name, new Map());
  }
  const ofUse = { row: numbersOf(uses, "lateral_row"), amount: numbersOf(uses, "amount") };
  for (let at = 0; at < uses.rows; at++) {
    const key = textAt(uses, "use", at);
    const amount = ofUse.amount[at]!;
    const district = districts.get(textAt(laterals, "district", ofUse.row[at]!));
    if (district === undefined) throw new RangeError(`takeOffByDistrict: use ${at} of no lateral`);
    push(district, key, amount);
    push(program, key, amount);
  }
  const batches = batchByDistrict(sheet, basis);
  const group = (district: string, of: Uses, resins: readonly DistrictBatches[]): TakeoffGroup => ({
    district,
    lines: [...of]
      .map(([key, amounts]) => lineOf(key, amounts, basis.materials))
      .sort((a, b) => itemOrder(a) - itemOrder(b) || (a.variant < b.variant ? -1 : 1)),
    resins,
  });
  return {
    districts: [...districts]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, of]) =>
        group(
          name,
          of,
          batches.filter(({ district }) => district === name),
        ),
      ),
    program: group("", program, batchOfAll(batches, basis)),
  };
}

function push(into: Uses, key: string, amount: number): void {
  const amounts = into.get(key);
  if (amounts === undefined) into.set(key, [amount]);
  else amounts.push(amount);
}

const order = Object.keys(takeoffItems);
const itemOrder = ({ item }: Pick<TakeoffLine, "item">): number => order.indexOf(item);

const MILLI = 1000;

function lineOf(key: string, amounts: readonly number[], rules: Basis["materials"]): TakeoffLine {
  const { item, variant } = readTakeoffKey(key);
  const use = amounts.reduce((sum, amount) => sum + amount, 0);
  return {
    item,
    variant,
    unit: takeoffItems[item],
    use,
    cuts: item === "liner tube" ? cutRolls(amounts, rules) : null,
    purchase: purchaseOf(item, use, rules),
  };
}

function cutRolls(pieces: readonly number[], { rolls: rules }: Basis["materials"]): RollCuts {
  const roll = Math.round(rules.length * MILLI);
  const cut = pieces.filter((piece) => piece <= roll);
  const rolls = cutFirstFitDecreasing(cut, roll);
  const lefts = rolls.map(({ left }) => left).sort((a, b) => b - a);
  const usable = Math.round(rules.usableLeft * MILLI);
  return {
    roll,
    pieces: pieces.length,
    rolls: rolls.length,
    boundByLength: boundByLength(cut, roll),
    boundByMartelloToth: boundByMartelloToth(cut, roll),
    usableLeft: lefts.filter((left) => left >= usable),
    scrap: lefts.filter((left) => left < usable).reduce((sum, left) => sum + left, 0),
    orderedToLength: pieces.filter((piece) => piece > roll).sort((a, b) => b - a),
  };
}

function purchaseOf(
  item: TakeoffLine["item"],
  use: number,
  { seals, grout, bladders }: Basis["materials"],
): Purchase | null {
  const whole = (what: Purchase["what"], waste: number, holds: number): Purchase => {
    const { containers, left } = buyWhole(use, waste, holds);
    return { what, holds, count: containers, left };
  };
  switch (item) {
    case "end seal":
      return whole("box", seals.waste, seals.box);
    case "grout":
      return whole("pail", grout.waste, Math.round(grout.container * MILLI));
    case "bladder use": {
      const count = countByLives(use, bladders.lives);
      return { what: "bladder", holds: bladders.lives, count, left: count * bladders.lives - use };
    }
    default:
      return null;
  }
}

import { boundByLength, boundByMartelloToth, cutFirstFitDecreasing } from "../engineering/cutting-stock.ts";
import { buyWhole, countByLives } from "../engineering/whole-containers.ts";
import { type MaterialUse, readTakeoffKey, takeoffItems } from "../plan/takeoff.ts";
import type { Basis } from "../reference/basis.ts";
import { numbersOf } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";
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

/** What is used of one material; and of a tube that is cut from rolls its pieces. */
interface Used {
  readonly key: string;
  use: number;
  readonly pieces: number[];
}

/** Takeoff per district and of the program, from the planned sheet. */
export function takeOffByDistrict(
  sheet: Pick<PlannedSheet, "laterals" | "uses" | "materials" | "seconds">,
  basis: Pick<Basis, "materials" | "wetOut">,
): Takeoff {
  const { laterals, uses } = sheet;
  const { codes, words } = wordCodesOf(laterals, "district");
  /** By code of the district, those with a lateral; then by code of the use. */
  const districts: Used[][] = [];
  for (const code of codes) districts[code] ??= [];
  const ofUse = {
    row: numbersOf(uses, "lateral_row"),
    key: wordCodesOf(uses, "use"),
    amount: numbersOf(uses, "amount"),
  };
  const isCut = ofUse.key.words.map((key, code) => code > 0 && readTakeoffKey(key).item === ROLLED);
  for (let at = 0; at < uses.rows; at++) {
    const district = districts[codes[ofUse.row[at]!]!];
    if (district === undefined) throw new RangeError(`takeOffByDistrict: use ${at} of no lateral`);
    const code = ofUse.key.codes[at]!;
    const amount = ofUse.amount[at]!;
    district[code] ??= { key: ofUse.key.words[code]!, use: 0, pieces: [] };
    district[code].use += amount;
    if (isCut[code]!) district[code].pieces.push(amount);
  }
  const batches = batchByDistrict(sheet, basis);
  const group = (
    district: string,
    used: readonly Used[],
    resins: readonly DistrictBatches[],
  ): TakeoffGroup => ({
    district,
    lines: Object.values(used)
      .map((each) => lineOf(each, basis.materials))
      .sort((a, b) => itemOrder(a) - itemOrder(b) || (a.variant < b.variant ? -1 : 1)),
    resins,
  });
  return {
    districts: Object.entries(districts)
      .map(([code, used]) => ({ name: words[Number(code)]!, used }))
      .sort((a, b) => (a.name < b.name ? -1 : 1))
      .map(({ name, used }) =>
        group(
          name,
          used,
          batches.filter(({ district }) => district === name),
        ),
      ),
    program: group("", together(districts), batchOfAll(batches, basis)),
  };
}

/** Amounts are whole numbers, so districts add up exactly. */
function together(districts: readonly (readonly Used[])[]): readonly Used[] {
  const all: Used[] = [];
  for (const district of Object.values(districts))
    district.forEach(({ key, use, pieces }, code) => {
      all[code] ??= { key, use: 0, pieces: [] };
      all[code].use += use;
      for (const piece of pieces) all[code].pieces.push(piece);
    });
  return all;
}

/** The one material that is cut from rolls. */
const ROLLED = "liner tube";
const order = Object.keys(takeoffItems);
const itemOrder = ({ item }: Pick<TakeoffLine, "item">): number => order.indexOf(item);

const MILLI = 1000;

function lineOf({ key, use, pieces }: Used, rules: Basis["materials"]): TakeoffLine {
  const { item, variant } = readTakeoffKey(key);
  return {
    item,
    variant,
    unit: takeoffItems[item],
    use,
    cuts: item === ROLLED ? cutRolls(pieces, rules) : null,
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

import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { bidLineKey } from "../plan/bid-lines.ts";
import type { CrewVisit } from "../plan/crew-visit.ts";
import { piecesIn } from "../plan/liner.ts";
import type { Offer } from "../plan/plan-lateral.ts";
import { type MaterialUse, takeoffKey } from "../plan/takeoff.ts";
import type { WetOut } from "../plan/wet-out.ts";
import type { Cells } from "../sheet/row-writer.ts";
import { visitKeys } from "./visit-keys.ts";

const GRAMS_PER_KILOGRAM = 1000;
const wholeGrams = (kilograms: number): number => Math.round(kilograms * GRAMS_PER_KILOGRAM);

type Piece = Offer["pieces"][number];

/** What is bought and weighed for a liner, in whole grams; `over_pot_life` is missing where it is the supplier's to say. */
const placedCells: Cells<Piece> = {
  resin_ml: ({ placed }) => placed.wetOut.millilitres,
  end_seals: ({ liner }) => liner.endSeals,
  resin: ({ placed }) => placed.wetOut.resin,
  resin_g: ({ placed }) => (weighed(placed.wetOut) === null ? wholeGrams(placed.wetOut.mixed.mass) : 0),
  base_g: ({ placed }) => wholeGrams(weighed(placed.wetOut)?.base ?? 0),
  hardener_g: ({ placed }) => wholeGrams(weighed(placed.wetOut)?.hardener ?? 0),
  over_pot_life: ({ placed: { wetOut } }) =>
    wetOut.potLife.kind === "not computed" ? null : Number(wetOut.potLife.kind === "too long"),
};

const weighed = ({ components }: WetOut) => (components.kind === "two parts" ? components.batch : null);

/** What the takeoff holds of the liner in the lateral, a line a column. */
export const linerCells: Cells<Piece> = {
  nominal_diameter: ({ liner }) => liner.nominalDiameter,
  liners: ({ liner }) => piecesIn(liner),
  ...placedCells,
};

/** Of the visit of a kind of crew. */
export function visitCells(crew: CrewKind): Cells<CrewVisit> {
  const keys = visitKeys(crew);
  return {
    [keys.whole]: ({ whole }) => whole,
    [keys.handsOn]: ({ handsOn }) => handsOn,
    [keys.outage]: ({ outage }) => outage,
  };
}

/** All columns of the takeoff. Where no liner is placed, or a crew does not come, nothing is written and the column has its 0. */
export const materialKeys: readonly string[] = [
  ...Object.keys(linerCells),
  ...crewKinds.flatMap((crew) => Object.keys(visitCells(crew))),
];

/** Of them, those that are missing and not 0. */
export const missingWithoutLiner: ReadonlySet<string> = new Set(["nominal_diameter", "over_pot_life"]);

/** Those that only the calendar and the season read. */
const keysOfCalendar: ReadonlySet<string> = new Set(
  crewKinds.flatMap((crew) => [visitKeys(crew).handsOn, visitKeys(crew).outage]),
);

/** Those that totals, batches and takeoff read. */
export const materialKeysOfTotals: readonly string[] = materialKeys.filter((key) => !keysOfCalendar.has(key));

/** The second liner of a combination. */
export const secondCells: Cells<Piece> = { wall: ({ liner }) => liner.wall, ...placedCells };

/** A bid line of the chosen treatment. */
export const lineCells: Cells<Offer["cost"]["lines"][number]> = {
  line: bidLineKey,
  hundredths: ({ hundredths }) => hundredths,
  extension: ({ extension }) => extension,
};

/** A material used, or a piece of tube. */
export const useCells: Cells<MaterialUse> = {
  use: takeoffKey,
  amount: ({ amount }) => amount,
};

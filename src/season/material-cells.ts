import { crewKinds } from "../columns/plan-columns.ts";
import { bidLineKey } from "../plan/bid-lines.ts";
import { piecesIn } from "../plan/liner.ts";
import type { Offer } from "../plan/plan-lateral.ts";
import { type MaterialUse, takeoffKey } from "../plan/takeoff.ts";
import type { WetOut } from "../plan/wet-out.ts";
import type { Cells } from "../sheet/row-writer.ts";
import { visitKeys, visitOf } from "./visit-keys.ts";

const GRAMS_PER_KILOGRAM = 1000;
const wholeGrams = (kilograms: number): number => Math.round(kilograms * GRAMS_PER_KILOGRAM);

/** What is weighed for a liner, in whole grams; `over_pot_life` is missing where it is the supplier's to say. */
const batchCells = <Item>(wetOutOf: (item: Item) => WetOut | null) => {
  const weighed = (item: Item) => {
    const components = wetOutOf(item)?.components;
    return components?.kind === "two parts" ? components.batch : null;
  };
  return {
    resin: (item) => wetOutOf(item)?.resin ?? null,
    resin_g: (item) => {
      const wetOut = wetOutOf(item);
      return wetOut === null || weighed(item) !== null ? 0 : wholeGrams(wetOut.mixed.mass);
    },
    base_g: (item) => wholeGrams(weighed(item)?.base ?? 0),
    hardener_g: (item) => wholeGrams(weighed(item)?.hardener ?? 0),
    over_pot_life: (item) => {
      const life = wetOutOf(item)?.potLife.kind ?? "not computed";
      return life === "not computed" ? null : Number(life === "too long");
    },
  } satisfies Cells<Item>;
};

/** What the takeoff holds of a chosen treatment, a line a column; all 0 where a kind of crew does not come. */
export const materialCells: Cells<Offer> = {
  nominal_diameter: ({ liner }) => liner?.nominalDiameter ?? null,
  liners: ({ liner }) => (liner === null ? 0 : piecesIn(liner)),
  resin_ml: ({ wetOut }) => wetOut?.millilitres ?? 0,
  end_seals: ({ liner }) => liner?.endSeals ?? 0,
  ...batchCells<Offer>(({ wetOut }) => wetOut),
  ...Object.fromEntries(
    crewKinds.flatMap((crew): [string, (chosen: Offer) => number][] => {
      const keys = visitKeys(crew);
      return [
        [keys.whole, (chosen) => visitOf(chosen, crew)?.whole ?? 0],
        [keys.handsOn, (chosen) => visitOf(chosen, crew)?.handsOn ?? 0],
        [keys.outage, (chosen) => visitOf(chosen, crew)?.outage ?? 0],
      ];
    }),
  ),
};

/** Of them, those that only the calendar and the season read. */
const cellsOfCalendar: ReadonlySet<string> = new Set(
  crewKinds.flatMap((crew) => [visitKeys(crew).handsOn, visitKeys(crew).outage]),
);

/** Those that totals, batches and takeoff read. */
export const materialCellsOfTotals: ReadonlySet<string> = new Set(
  Object.keys(materialCells).filter((key) => !cellsOfCalendar.has(key)),
);

/** The second liner of a combination. */
export const secondCells: Cells<Offer["pieces"][number]> = {
  wall: ({ liner }) => liner.wall,
  resin_ml: ({ placed }) => placed.wetOut.millilitres,
  end_seals: ({ liner }) => liner.endSeals,
  ...batchCells<Offer["pieces"][number]>(({ placed }) => placed.wetOut),
};

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

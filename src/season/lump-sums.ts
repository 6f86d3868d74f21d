import type { PlannedProgram } from "./planned-program.ts";

type Priced = Pick<PlannedProgram["basis"], "bidItems" | "prices">;

/** The lump sums of the bid that have a unit price in the program: the planning book's estimate has them, no lateral's cost does. */
export const pricedLumpSums = ({ bidItems, prices }: Priced) =>
  bidItems.items.filter(({ key, unit }) => unit === "lump sum" && prices[key] !== undefined);

/** What they come to, cents. */
export const lumpSumsOf = (basis: Priced): number =>
  pricedLumpSums(basis).reduce((sum, { key }) => sum + basis.prices[key]!, 0);

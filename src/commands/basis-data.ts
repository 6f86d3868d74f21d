import { isDeepStrictEqual } from "node:util";
import type { Basis } from "../reference/basis.ts";
import type { FittedBasis } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";

type Compiled = Exclude<keyof PreparedBasis, keyof Basis>;

/** A basis without its compiled formulas, which are no data: what goes to another thread, where they are compiled again. */
export function dataOf<Given extends PreparedBasis>(basis: Given): Omit<Given, Compiled> {
  const { scores, ownColumns, filters, ruleBook, ...data } = basis;
  return data;
}

/**
 * Whether over the same tables two bases plan every lateral alike, and may only score it otherwise or have other columns and filters of
 * their own. Fits follow from the tables and from what is compared.
 */
export function planAlike(one: PreparedBasis, other: PreparedBasis): boolean {
  const planned = ({ risk, recipe, fits, ...data }: Partial<Omit<FittedBasis, Compiled>>) => data;
  return isDeepStrictEqual(planned(dataOf(one)), planned(dataOf(other)));
}

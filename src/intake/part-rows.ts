import { numberAt, type Table } from "../sheet/table.ts";

/** A row of a table. */
export interface RowOf {
  readonly table: Table;
  readonly row: number;
}

type Part = "lower" | "upper";

/** The one part that a row gives the length of; null where it gives both or neither. */
function partOf({ table, row }: RowOf): Part | null {
  const hasLower = !Number.isNaN(numberAt(table, "lower_length", row));
  const hasUpper = !Number.isNaN(numberAt(table, "upper_length", row));
  if (hasLower === hasUpper) return null;
  return hasLower ? "lower" : "upper";
}

/** Which part of one lateral each of two rows of its id is, where one gives the lower and the other the upper length; null otherwise. */
export function partsOfOne(kept: RowOf, again: RowOf): { readonly kept: Part; readonly again: Part } | null {
  const [one, other] = [partOf(kept), partOf(again)];
  return one === null || other === null || one === other ? null : { kept: one, again: other };
}

/** Lengths written twice differ by no more than rounding, m. */
const ROUNDING = 0.01;

/** Whether the length of the lateral that a row gives is that of its one part. */
export function isLengthOfPart({ table, row }: RowOf, part: Part): boolean {
  const length = numberAt(table, "host_length", row);
  return Math.abs(length - numberAt(table, `${part}_length`, row)) <= ROUNDING;
}

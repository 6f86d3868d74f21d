import type { Column, Stage } from "../columns/column.ts";
import { stages } from "../columns/column.ts";
import type { Day } from "../quantity/si.ts";
import { type UnitKey, units, unitWritten } from "../quantity/units.ts";

/** Where a formula stands: `sheet` comes after every stage (filters, user columns). */
export type Place = Stage | "sheet";

/** What a formula may name. */
export interface Vocabulary {
  /** The column dictionary and the user's columns. */
  readonly columns: readonly Column[];
  /** The stage the formula works for; it may name columns of earlier stages only. */
  readonly stage: Place;
  /** The program's as-of date, the value of `as_of`. */
  readonly asOf: Day;
  /** ISO 4217 code of the program's currency: the unit of money, as in `500 usd`. */
  readonly currency: string;
}

/** Functions, with what they give: for checking, for completion and for the language page. */
export const functions = {
  min: { most: Number.POSITIVE_INFINITY, shows: "min(a, b, …): the least" },
  max: { most: Number.POSITIVE_INFINITY, shows: "max(a, b, …): the greatest" },
  abs: { most: 1, shows: "abs(a): without its sign" },
  exp: { most: 1, shows: "exp(a): e to the power a" },
  log: { most: 1, shows: "log(a): natural logarithm" },
  sqrt: { most: 1, shows: "sqrt(a): square root" },
  floor: { most: 1, shows: "floor(a): whole number below" },
  ceil: { most: 1, shows: "ceil(a): whole number above" },
  round: { most: 1, shows: "round(a): nearest whole number, halves away from zero" },
  pow: { least: 2, most: 2, shows: "pow(a, b): a to the power b" },
  year_of: { most: 1, shows: "year_of(date): calendar year" },
  known: { most: 1, shows: "known(a): whether the value is there" },
  if_missing: { least: 2, most: 2, shows: "if_missing(a, b): a, or b where a is missing" },
} as const satisfies Record<string, { least?: number; most: number; shows: string }>;
export type FunctionName = keyof typeof functions;

export const isFunction = (name: string): name is FunctionName => Object.hasOwn(functions, name);

/** Words of the language that are neither columns, functions nor units. */
export const wordOperators = ["and", "or", "not"] as const;
export const AS_OF = "as_of";

/** Words mathjs gives a meaning that is not in this language. */
export const refusedWords = ["to", "in", "mod", "xor"] as const;

/**
 * The unit a name means after a number, or null. Letters' case does not matter. Temperatures have an offset and no
 * use here; money is counted in the program's currency only.
 */
export function unitNamed(name: string, currency: string): UnitKey | null {
  const lower = name.toLowerCase();
  if (lower === currency.toLowerCase()) return "money";
  const unit = Object.hasOwn(units, name) && name !== "one" ? (name as UnitKey) : unitWritten(name);
  if (unit === null || units[unit].offset !== 0) return null;
  return unit === "money" && lower !== "money" ? null : unit;
}

/** Whether some program reads this name as a unit or a word of the language; no user column may be called so. */
export function isReserved(name: string): boolean {
  return (
    Object.hasOwn(units, name) ||
    unitWritten(name) !== null ||
    isFunction(name) ||
    [...wordOperators, ...refusedWords, AS_OF, "true", "false"].includes(name)
  );
}

export const isEarlier = (column: Column, place: Place): boolean =>
  place === "sheet" || stages.indexOf(column.stage) < stages.indexOf(place);

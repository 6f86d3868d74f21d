import type { Arithmetic, Comparison } from "./tree.ts";

/** Functions of one number that the compiled form calls. `whole` is the nearest whole number, halves up. */
export type OneNumber = "abs" | "exp" | "log" | "sqrt" | "floor" | "ceil" | "round" | "whole" | "year_of";

/**
 * A checked expression: every number in coherent SI (dates in days), yes/no as 1 and 0, missing as NaN. This is all
 * the compiler can be given.
 */
export type Step =
  | { readonly do: "constant"; readonly value: number }
  /** The column's stored number times `scale`. */
  | { readonly do: "column"; readonly key: string; readonly scale: number }
  | { readonly do: "text is"; readonly key: string; readonly text: string }
  | { readonly do: "text known"; readonly key: string }
  | { readonly do: "known" | "not" | "minus"; readonly of: Step }
  | { readonly do: "one number"; readonly name: OneNumber; readonly of: Step }
  | { readonly do: "least" | "greatest" | "if missing"; readonly left: Step; readonly right: Step }
  | { readonly do: "arithmetic"; readonly sign: Arithmetic; readonly left: Step; readonly right: Step }
  | { readonly do: "compare"; readonly sign: Comparison; readonly left: Step; readonly right: Step }
  | { readonly do: "and" | "or"; readonly left: Step; readonly right: Step }
  | { readonly do: "choose"; readonly condition: Step; readonly yes: Step; readonly no: Step };

export const constant = (value: number): Step => ({ do: "constant", value });

/** Times a factor; times one is nothing. */
export const times = (of: Step, factor: number): Step =>
  factor === 1 ? of : { do: "arithmetic", sign: "*", left: of, right: constant(factor) };

/** Divided by a divisor; by one is nothing. */
export const dividedBy = (of: Step, divisor: number): Step =>
  divisor === 1 ? of : { do: "arithmetic", sign: "/", left: of, right: constant(divisor) };

import type { Reason } from "./reason.ts";
import type { ReadValue, ScoreFormula } from "./recipe.ts";
import { type Stated, stated } from "./stated.ts";

/** One score by a formula of the program: its value, null when missing, and the reason with what the formula read. */
export function scoreBy(
  { text, reads, evaluate }: ScoreFormula,
  what: "likelihood" | "consequence" | "score",
  read: ReadValue,
): { readonly value: number | null; readonly reason: Reason } {
  const result = evaluate(read);
  // Infinity comes of a division by zero: it orders nothing.
  const value = Number.isFinite(result) ? result : null;
  const inputs = reads.map(({ key, measure }) => ({ key, measure, value: read(key) }));
  return { value, reason: { code: "score by recipe", what, text, value, inputs } };
}

/** The same as a stated value: worked out, by this formula. */
export const statedScore = (value: number | null, text: string): Stated<number> | null =>
  value === null ? null : stated(value, "estimated", `recipe: ${text}`);

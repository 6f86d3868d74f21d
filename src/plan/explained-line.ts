import type { Origin } from "./stated.ts";

/** One line of an explanation: a value with its unit, where it comes from, and the equation or rule behind it. */
export interface ExplainedLine {
  readonly label: string;
  readonly value: string;
  readonly origin: Origin | null;
  readonly note: string | null;
}

export const line = (
  label: string,
  value: string,
  origin: Origin | null = null,
  note: string | null = null,
): ExplainedLine => ({ label, value, origin, note });

import type { Measure } from "../../quantity/measure.ts";
import type { WorkedLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";

/** A line that the sheet works out. */
export const worked = (
  key: string,
  symbol: string,
  what: string,
  measure: Measure,
  equation: string,
  formula: string,
  value: (ring: DesignRing) => number | string,
  source: string,
): WorkedLine => ({
  kind: "worked",
  key,
  symbol,
  what,
  measure,
  equation,
  formula,
  value,
  source,
  ...(formula.includes('""') ? { optional: true } : {}),
});

/** Only for a fully deteriorated host: a partially deteriorated one carries soil and traffic itself. */
export const whenFully = (formula: string): string => `IF({host}="fully",${formula},"")`;

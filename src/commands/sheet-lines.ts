import { type ExplainedLine, line } from "../plan/explained-line.ts";
import type { Stated } from "../plan/stated.ts";
import { type QuantityMeasure, toShown } from "../quantity/measure.ts";
import { type NumberStyle, unitLabel } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { digits, type Worked, workedText } from "./worked-equation.ts";

/** Five digits, in the units of the sheet: what was typed is read back as it was. */
export function exactly(value: number, measure: QuantityMeasure, style: NumberStyle): string {
  const unit = unitLabel(measure, style);
  return `${digits(toShown(value, measure, style.units), 5)}${unit === "" ? "" : ` ${unit}`}`;
}

/** An assumption's source stands behind its label. */
export function statedLine(label: string, shown: string, { origin, because }: Stated<unknown>, basis: Basis) {
  if (origin === "decided") return line(label, shown, null, because);
  const assumption = Object.values(basis.assumptions).find(({ label: named }) => because?.startsWith(named));
  const source = assumption === undefined ? "" : ` ${describeSource(assumption.source)}`;
  return line(label, shown, origin, because === null ? null : `${because}${source}`);
}

export const workedLine = (worked: Worked, note: string | null = null): ExplainedLine =>
  line(worked.symbol, workedText(worked), null, note);

import type { Measure } from "../quantity/measure.ts";

/** The stages of the plan, in order. An expression may name only columns of earlier stages. */
export const stages = [
  "given",
  "inspection",
  "condition",
  "risk",
  "treatment",
  "liner",
  "resin",
  "quantities",
  "crew time",
  "cost",
  "season",
] as const;
export type Stage = (typeof stages)[number];

/** One column of the sheet: declared once; headings, readers, formula names, exports and documentation follow. */
export interface Column {
  /** Name in formulas, settings and decisions. */
  readonly key: string;
  /** Short heading in the sheet. The unit is added where it is shown. */
  readonly heading: string;
  readonly measure: Measure;
  /** The stage that fills it; `given` and `inspection` come from the city's files. */
  readonly stage: Stage;
  /** What it is, for people: one sentence. */
  readonly help: string;
  /** Words a `code` column may hold, in their natural order. Other columns have none. */
  readonly words?: readonly string[];
  /** Believable range in the stored unit; a city value outside it is a problem, not a number. */
  readonly range?: readonly [least: number, most: number];
  /** A row without it is rejected. */
  readonly required?: true;
  /** A person may decide a value for it (`wyeplan decide`). */
  readonly decidable?: true;
  /** Shown in the sheet at first; the others are there to be switched on. */
  readonly shownAtFirst?: true;
}

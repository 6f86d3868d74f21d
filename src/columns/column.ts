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
  /** Of a column of the program's own: what fills it. */
  readonly formula?: string;
  /** Words a `code` column may hold, in their natural order. Other columns have none. */
  readonly words?: readonly string[];
  /** Believable range in the stored unit; a city value outside it is a problem, not a number. */
  readonly range?: readonly [least: number, most: number];
  /** A row without it is rejected. */
  readonly required?: true;
  /** A person may decide a value for it (`wyeplan decide`). */
  readonly decidable?: true;
  /** What the line of totals says of it, where its measure does not settle that. */
  readonly total?: TotalKind;
  /** Shown in the sheet at first; the others are there to be switched on. */
  readonly shownAtFirst?: true;
}

/** How a column is totalled: money is added up, a grade has a mean, of words there is a number of rows that have one. */
export type TotalKind = "sum" | "mean" | "count" | "none";

/** Lengths, diameters and walls of different laterals are compared, not added, unless the column says otherwise. */
export function totalKind({ measure, total }: Pick<Column, "measure" | "total">): TotalKind {
  if (total !== undefined) return total;
  switch (measure) {
    case "money":
    case "volume":
    case "mass":
    case "area":
    case "duration":
    case "count":
    case "flow":
      return "sum";
    case "date":
    case "flag":
    case "code":
    case "text":
      return "count";
    case "coordinate":
      return "none";
    default:
      return "mean";
  }
}

import type { PlannedProgram } from "../../season/planned-program.ts";
import type { RiskPicture } from "../../season/risk-picture.ts";
import type { Place } from "../declared-system.ts";
import type { Certainty } from "./certainty.ts";
import type { Html } from "./html.ts";

/** What the report is made from. */
export interface ReportContents {
  readonly program: PlannedProgram;
  readonly picture: RiskPicture;
  /** Of the season in program.json, in cents; null where it has none. */
  readonly budget: number | null;
  /** What that season pays to open a district; 0 where it says nothing. */
  readonly mobilization: number;
  readonly certainty: Certainty;
  /** By row; null, and why, where there can be no map. */
  readonly places: readonly (Place | null)[] | { readonly none: string };
}

export interface ReportSection {
  readonly key: string;
  readonly heading: string;
  readonly body: Html;
}

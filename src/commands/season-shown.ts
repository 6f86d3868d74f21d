import type { PlannedProgram } from "../season/planned-program.ts";
import type { SeasonPlan } from "../season/season-calendar.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import type { Chosen } from "../season/selection/selection-problem.ts";
import type { WorkBeforeInspection } from "../season/unlooked-offers.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import type { SeasonView } from "./season-words.ts";

/** A season that was found. */
export type Found = Extract<PackedSelection, { readonly ok: true }>;

/** What of it is shown, in words and as JSON. */
export interface ShownSeason {
  readonly selection: Found;
  readonly cut: Chosen;
  /** The plan of the selected laterals. */
  readonly program: PlannedProgram;
  /** Null where the program has no calendar. */
  readonly calendar: SeasonPlan | null;
  /** Laterals of the whole plan that wait for an inspection. */
  readonly inspections: number;
  /** Of them, those that may have other work, and have it in this season. */
  readonly beforeInspection: WorkBeforeInspection;
  readonly totals: { readonly districts: readonly SeasonTotals[]; readonly program: SeasonTotals };
}

/** Who is in, for JSON and for saving, each at the whole cost of its work. */
export const chosenRows = (program: PlannedProgram, view: SeasonView, chosen: Chosen) =>
  Array.from(chosen).flatMap((j, l) =>
    j < 0
      ? []
      : [
          {
            lateral: view.season.ids[l]!,
            treatment: textAt(program.offers, "treatment", view.season.offerRows[j]!),
            cost: numberAt(program.offers, "cost", view.season.offerRows[j]!),
          },
        ],
  );

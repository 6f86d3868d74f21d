import type { RankingMoved, SeasonSeen, Worked } from "../screen/pane-data.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { seeMoved, seeTrial } from "./ranking-seen.ts";
import { seeSeason } from "./season-seen.ts";

/** What is worked out for a pane, as data that goes to a thread and back. */
export type PaneAsked =
  | { readonly what: "season"; readonly folder: string }
  | { readonly what: "moved"; readonly folder: string }
  | {
      readonly what: "trial";
      readonly folder: string;
      readonly path: readonly string[];
      readonly text: string;
    };

export type PaneFound =
  | { readonly what: "season"; readonly found: Worked<SeasonSeen> }
  | { readonly what: "moved" | "trial"; readonly found: Worked<RankingMoved> };

/** Works it out for a program as it is planned now. */
export async function workOnPane(asked: PaneAsked, program: PlannedProgram): Promise<PaneFound> {
  switch (asked.what) {
    case "season":
      return { what: "season", found: await seeSeason(asked.folder, program) };
    case "moved":
      return { what: "moved", found: await seeMoved(asked.folder, program) };
    case "trial":
      return { what: "trial", found: await seeTrial(asked.folder, program, asked.path, asked.text) };
    default:
      return asked satisfies never;
  }
}

import type { MarkClass } from "../../pictures/lateral-map.ts";
import type { SeasonRun } from "../../program/season-runs.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { standingAt } from "../../season/tracking.ts";
import { textAt } from "../../sheet/table.ts";
import { isWorkedOn } from "./worked-on.ts";

/** What becomes of a lateral in a season, with its mark on the map: what is done lies on top. */
export const fates = [
  { name: "in this season", shape: "triangle", colour: "#a40000" },
  { name: "work planned, not in this season", shape: "square", colour: "#e69f00" },
  { name: "to be inspected first, not in this season", shape: "circle", colour: "#0072b2" },
  { name: "done before", shape: "diamond", colour: "#009e73" },
  { name: "refused", shape: "diamond", colour: "#ffffff" },
  { name: "no work planned", shape: "ring", colour: "#57606a" },
] as const satisfies readonly MarkClass[];
export type Fate = (typeof fates)[number]["name"];

/** By row of the whole plan. What is done since the season was selected is still in it; what is refused since is not. */
export function fatesIn(
  { laterals }: PlannedProgram,
  { chosen }: Pick<SeasonRun, "chosen">,
): readonly Fate[] {
  const taken = new Set(chosen.map(({ lateral }) => lateral));
  return Array.from({ length: laterals.rows }, (_, row): Fate => {
    const standing = standingAt(laterals, row);
    if (standing === "refused") return "refused";
    if (taken.has(textAt(laterals, "lateral", row))) return "in this season";
    if (standing === "done") return "done before";
    const treatment = textAt(laterals, "treatment", row);
    if (isWorkedOn(treatment)) return "work planned, not in this season";
    return treatment === "inspect first" ? "to be inspected first, not in this season" : "no work planned";
  });
}

import { explainSeason } from "../season/season-reasons.ts";
import { findClash } from "../season/selection/clash.ts";
import { selectPacked } from "../season/selection/select-packed.ts";
import { loadSolver } from "./highs-solver.ts";
import type { SeasonMessage, SeasonWork } from "./season-work.ts";

/** Solves seasons one after another on this thread, telling how far it is. */
export async function solveSeasons(
  { seasons, gap, nodes, stop, explain }: SeasonWork,
  tell: (message: SeasonMessage) => void,
): Promise<void> {
  const solver = await loadSolver();
  const stopAsked = () => Atomics.load(stop, 0) !== 0;
  for (const [season, { problem, packed }] of seasons.entries()) {
    const selection = selectPacked(problem, packed, solver, {
      gap,
      nodes,
      stopAsked,
      progress: (worth, bound) => tell({ kind: "progress", season, worth, bound }),
    });
    const clash =
      !selection.ok && selection.why === "no choice keeps the rules" ? findClash(problem, solver) : null;
    // Who asked to stop does not wait for the reasons.
    const explained =
      selection.ok && explain === true && !stopAsked()
        ? explainSeason(problem, packed, selection.chosen, solver)
        : null;
    tell({ kind: "solved", season, solved: { selection, clash, explained } });
  }
}

import { basisForSettings } from "../program/basis-for-settings.ts";
import { readSettings } from "../program/settings.ts";
import { readSnapshot, snapshotNames } from "../program/snapshots.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { MovedLateral, RankingMoved, Worked } from "../screen/pane-data.ts";
import { wholeShares } from "../season/attribution.ts";
import { compareRankings } from "../season/compare-rankings.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../season/planned-program.ts";
import { rescoreProgram } from "../season/rescored-program.ts";
import { planAlike } from "./basis-data.ts";
import { compareRuns, selectedRanking } from "./compare-runs.ts";
import { ownWords, signed } from "./compare-text.ts";
import { nothingSeen } from "./nothing-seen.ts";
import { prepareBasis } from "./prepare-basis.ts";
import { rankingOf, takeRun } from "./take-run.ts";

const MOST_MOVERS = 200;

/** What has moved in the ranking since the last saved run. */
export async function seeMoved(folder: string, program: PlannedProgram): Promise<Worked<RankingMoved>> {
  const settings = await readSettings(folder);
  if (!settings.ok) return nothingSeen(settings.problems);
  const latest = await latestSnapshot(folder);
  if (latest === null)
    return nothingSeen(
      "No run is saved yet. wyeplan plan FOLDER --save NAME saves one; then this pane says what has moved since.",
    );
  const now = { name: "now", run: await takeRun(folder, { program, settings: settings.settings }) };
  const compared = await compareRuns(latest, now, null);
  if (!compared.ok) return nothingSeen(compared.problems);
  const { comparison } = compared;
  const { changed, changedSettings, top, from } = comparison;
  const { movers, tauB, selected, added, gone } = comparison.comparison;
  const shown = movers.flatMap((mover): MovedLateral[] => {
    const own = ownWords(comparison, mover.id);
    if (mover.scoreMove === 0 && own.length === 0) return [];
    const shares = wholeShares(comparison.whyOf(mover.id).places);
    const causes = changed.map((group, i) => `${group} ${signed(shares[i]!)}`);
    return [{ ...movedOf(mover), why: [causes.join(", "), ...own].join("; ") }];
  });
  return {
    kind: "known",
    value: {
      head: [
        `Since ${from.name}, as of ${from.run.as_of}, saved ${latest.run.saved.when} by ${latest.run.saved.who} (${latest.run.saved.by})`,
        changed.length === 0
          ? "Nothing changed: the same inputs, settings and decisions."
          : `Changed: ${changed.map((group) => (group === "recipe and settings" ? `${group} (${changedSettings.join(", ")})` : group)).join(", ")}. Places up are towards the worst; causes add up to them.`,
        ...(added.length + gone.length === 0
          ? []
          : [`${showCount(added.length)} laterals are new, ${showCount(gone.length)} are gone.`]),
      ],
      tauB,
      top,
      stay: selected.both,
      overlap: selected.overlap,
      movers: shown.slice(0, MOST_MOVERS),
      passed: movers.length - shown.length,
    },
  };
}

const movedOf = ({
  id,
  from,
  to,
  places,
  selection,
}: {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  readonly places: number;
  readonly selection: string;
}) => ({ id, from, to, places, selection: selection.startsWith("stays") ? "" : selection });

async function latestSnapshot(folder: string) {
  let latest = null;
  for (const name of await snapshotNames(folder)) {
    const reading = await readSnapshot(folder, name);
    if (reading.ok && (latest === null || reading.snapshot.saved.when >= latest.run.saved.when))
      latest = { name, run: reading.snapshot };
  }
  return latest;
}

/** What a change of program.json would move in the ranking. */
export async function seeTrial(
  folder: string,
  program: PlannedProgram,
  path: readonly string[],
  text: string,
): Promise<Worked<RankingMoved>> {
  const { changedSettings } = await import("./change-recipe.ts");
  const changed = await changedSettings(folder, path, text);
  if (!changed.ok) return nothingSeen(changed.because);
  const prepared = await prepareBasis(basisForSettings(changed.settings));
  if (!prepared.ok)
    return nothingSeen(
      prepared.faults.map(({ expected, remedy }) => `Expected ${expected}. ${remedy}`).join("\n"),
    );
  // Of program.json more may have been changed beside the sheet.
  const isScored = planAlike(program.basis, prepared.basis);
  const rankedBy = (basis: PreparedBasis) =>
    rankingOf(
      isScored
        ? rescoreProgram(program, basis)
        : planProgram(program.tables, basis, { problems: [], tallies: [] }),
    );
  const top = Math.max(1, Math.ceil(program.laterals.rows / 10));
  const { movers, tauB, selected } = compareRankings(
    // The tables as they stand, ranked anew: decisions that are not settled yet are no move of the recipe's.
    selectedRanking(rankedBy(program.basis), top),
    selectedRanking(rankedBy(prepared.basis), top),
  );
  return {
    kind: "known",
    value: {
      head: [
        `${showCount(movers.length)} of ${showCount(program.laterals.rows)} laterals would change places, be selected or no longer be. Places up are towards the worst.`,
      ],
      tauB,
      top,
      stay: selected.both,
      overlap: selected.overlap,
      movers: movers.slice(0, MOST_MOVERS).map((mover) => ({ ...movedOf(mover), why: "" })),
      passed: 0,
    },
  };
}

import { crewKinds, type SeasonReason } from "../columns/plan-columns.ts";
import { readSeasonRun, type SeasonRun, saveSeasonRun } from "../program/season-runs.ts";
import { budgetPaysOf } from "../program/season-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { isoDate } from "../quantity/calendar.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type ExplainedSeason, seasonReasonsOf } from "../season/season-reasons.ts";
import { workAsEntered } from "../season/selection/held-laterals.ts";
import { sumChosen } from "../season/selection/selection-problem.ts";
import type { HeldStanding } from "../season/tracking.ts";
import { refuse } from "./change-decisions.ts";
import type { CommandIo } from "./command-io.ts";
import { savedAs, saveUnderLock } from "./save-under-lock.ts";
import { seasonInputs } from "./season-inputs.ts";
import { chosenRows, type Found } from "./season-shown.ts";
import { countedWords, type SeasonView, showGap, showWorth } from "./season-words.ts";

/** A planned program with its settings, seen as a season's problem. */
export interface ProgramInView {
  readonly program: PlannedProgram;
  readonly settings: Settings;
  readonly view: SeasonView;
}

/** Saves a season under a name; one that was stopped is saved with its gap and says so. False where it could not be saved. */
export async function saveOrSay(
  folder: string,
  name: string,
  { program, settings, view }: ProgramInView,
  { selection, explained }: { readonly selection: Found; readonly explained: ExplainedSeason | null },
  io: CommandIo,
): Promise<boolean> {
  const { works, mobilization } = sumChosen(view.season.problem, selection.chosen);
  const { worth, bound, gap, ended } = selection;
  const run: SeasonRun = {
    schema: 1,
    saved: { when: io.now(), who: io.who },
    as_of: isoDate(program.basis.program.asOf),
    season: settings.season,
    ended,
    worth,
    bound,
    gap,
    works,
    mobilization,
    chosen: chosenRows(program, view, selection.chosen),
    so_far: soFarRows(program, view),
    inputs: seasonInputs(program, view.rules),
    ...(explained === null ? {} : whyAsSaved(program, view, explained)),
  };
  const proof =
    ended === "proven" ? "" : `, ${ended === "packed" ? "which fits as packed" : ended}, gap ${showGap(gap)}`;
  return saveUnderLock(folder, io, async (lock) =>
    savedAs(`Saved as season ${name}${proof}.`, await saveSeasonRun(lock, name, run)),
  );
}

/** At the whole of what was spent: what a budget counts of it may be changed after. */
function soFarRows(
  program: PlannedProgram,
  { season: { ids } }: SeasonView,
): NonNullable<SeasonRun["so_far"]> {
  const { held, begun } = workAsEntered(program);
  return [
    ...held.map(({ lateral, standing, spent }) => ({ lateral: ids[lateral]!, standing, spent })),
    ...begun.map(({ lateral, spent, visited }) => ({
      lateral: ids[lateral]!,
      standing: "begun" as const,
      spent,
      visited: crewKinds.filter((_, c) => visited[c] !== null),
    })),
  ];
}

/** Ids by reason, in the order of the file, and the prices behind the reasons. */
function whyAsSaved(
  program: PlannedProgram,
  view: SeasonView,
  explained: ExplainedSeason,
): Pick<SeasonRun, "reasons" | "prices"> {
  const { ids } = view.season;
  const reasons: Partial<Record<SeasonReason, string[]>> = {};
  for (const [l, reason] of seasonReasonsOf(program, view.season, view.rules, explained).entries()) {
    reasons[reason] ??= [];
    reasons[reason].push(ids[l]!);
  }
  const { money, crewDays } = explained.prices;
  return { reasons, prices: { money, crew_days: crewDays } };
}

/** Says what moved against a saved season. False where that one cannot be read. */
export async function compareOrSay(
  folder: string,
  name: string,
  program: PlannedProgram,
  view: SeasonView,
  selection: Found,
  io: CommandIo,
): Promise<boolean> {
  const reading = await readSeasonRun(folder, name);
  if (!reading.ok) {
    refuse(io, reading.problems);
    return false;
  }
  const { run } = reading;
  const before = new Map(run.chosen.map((each) => [each.lateral, each.treatment]));
  const now = new Map(
    chosenRows(program, view, selection.chosen).map((each) => [each.lateral, each.treatment]),
  );
  const added = [...now.keys()].filter((id) => !before.has(id));
  const standing = new Map(view.season.held.map((each) => [view.season.ids[each.lateral]!, each.standing]));
  const gone = [...before.keys()].filter((id) => !now.has(id));
  /** What is done, refused or held back since is not chosen about: that is no falling out. */
  const goneAs = (as: HeldStanding | undefined) => gone.filter((id) => standing.get(id) === as);
  const changed = [...now].filter(([id, treatment]) => before.has(id) && before.get(id) !== treatment);
  const { works, mobilization } = sumChosen(view.season.problem, selection.chosen);
  const sameObjective =
    JSON.stringify((run.season as Settings["season"])?.objective) === JSON.stringify(objectiveWritten(view));
  const paid = budgetPaysOf(run.season);
  const label = run.ended === "proven" ? "" : ` (${run.ended}, gap ${showGap(run.gap)})`;
  io.out(
    `\n${[
      `Against season ${name}${label}`,
      sameObjective
        ? `  worth ${showWorth(run.worth, view)} → ${showWorth(selection.worth, view)}`
        : "  worth is not compared: the objective is another",
      paid !== view.pays
        ? `  money is not compared: that budget counted the ${countedWords[paid]}`
        : `  money ${showQuantity(run.works + run.mobilization, "money", view.style)} → ${showQuantity(works + mobilization, "money", view.style)}${view.season.spent > 0 ? `, still to be spent: ${showQuantity(view.season.spent, "money", view.style)} is spent already` : ""}`,
      `  come in: ${listed(added)}`,
      `  fall out: ${listed(goneAs(undefined))}`,
      ...(["done", "refused", "held back"] as const).flatMap((as) =>
        goneAs(as).length === 0 ? [] : [`  ${as} since: ${listed(goneAs(as))}`],
      ),
      `  other treatment: ${listed(changed.map(([id, treatment]) => `${id} (${before.get(id)} → ${treatment})`))}`,
    ].join("\n")}\n`,
  );
  return true;
}

function objectiveWritten({ rules: { objective } }: SeasonView): unknown {
  if (objective.infiltrationRemoved === 0 && objective.lossAvoided === 1) return "loss avoided";
  if (objective.lossAvoided === 0 && objective.infiltrationRemoved === 1) return "infiltration removed";
  return { loss_avoided: objective.lossAvoided, infiltration_removed: objective.infiltrationRemoved };
}

const SHOWN = 20;
const listed = (ids: readonly string[]): string =>
  ids.length === 0
    ? "none"
    : `${showCount(ids.length)}: ${ids.slice(0, SHOWN).join(", ")}${ids.length > SHOWN ? ", …" : ""}`;

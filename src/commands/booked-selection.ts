import type { SeasonRun } from "../program/season-runs.ts";
import { budgetPaysOf, seasonOf } from "../program/season-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { showWrittenDate } from "../quantity/show-date.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import { undividedLaterals } from "../season/budget-counts.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { programOfSeason } from "../season/season-program.ts";
import { workWhenSaved } from "../season/selection/held-laterals.ts";
import { rankedCut } from "../season/selection/ranked-cut.ts";
import { strangersIn } from "../season/selection/season-problem.ts";
import { totalSeason } from "../season/selection/season-totals.ts";
import type { Chosen } from "../season/selection/selection-problem.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import type { BookedSelection, SelectedWork } from "../workbook/season-sheet.ts";
import { viewOf } from "./season-view.ts";
import {
  countedWords,
  dearerSaid,
  describeObjective,
  lumpSumsSaid,
  payersSaid,
  rankedCutSaid,
  type SeasonView,
  showGap,
} from "./season-words.ts";

/**
 * A saved season as the planning book shows it, with the ranked cut under the rules of program.json as they are now. Null where program.json
 * has no season to select any more, or names what the city's file does not have.
 *
 * @param ofSeason the season's own plan, where somebody has made it already
 */
export function bookedSelection(
  whole: PlannedProgram,
  settings: Settings,
  name: string,
  run: SeasonRun,
  ofSeason = programOfSeason(whole, name, run.chosen).program,
): BookedSelection | null {
  const rules = seasonOf(settings);
  if (rules === null) return null;
  const strangers = strangersIn(whole, rules);
  if (strangers.laterals.length + strangers.districts.length > 0) return null;
  // As it was selected: what was recorded since is on the sheet of progress.
  const view = viewOf(whole, rules, whole.basis.calendar, workWhenSaved(whole, run.so_far ?? []));
  const { season, packed } = view;
  const { problem, ids, offerRows, moneyBefore, spent, begun } = season;
  const unentered = begun.filter((each) => each.spent === 0).length;
  const workOf = (chosen: Chosen, l: number): SelectedWork | null => {
    const j = chosen[l]!;
    return j < 0
      ? null
      : { treatment: textAt(whole.offers, "treatment", offerRows[j]!), cost: problem.cost[j]! };
  };
  const ours = chosenIn(whole, view, run);
  const gone = run.chosen.length - ours.reduce((sum, j) => sum + (j >= 0 ? 1 : 0), 0);
  const cut = rankedCut(problem, whole.order, season.plannedWork, packed);
  const inEither = [...whole.order].filter((l) => ours[l]! >= 0 || cut[l]! >= 0);
  const { program } = whole.basis;
  const totals = totalSeason(whole, season, ours);
  const lumpSums = lumpSumsSaid(totals.program.works, view);
  const dearer = dearerSaid(totals.program, view);
  return {
    name,
    said: [
      ...heldBackSaid(view.heldBack),
      `Greatest ${describeObjective(rules)}; budget ${showQuantity(rules.budget, "money", program)}, of it ${showQuantity(rules.budget - moneyBefore, "money", program)} kept back${spent === 0 ? "" : ` and ${showQuantity(spent, "money", program)} spent when it was selected`}.`,
      ...(begun.length === 0
        ? []
        : [
            `Costs are what was still to be spent: ${showCount(begun.length)} lateral(s) were under way, and what was spent on them is taken off${unentered === 0 ? "" : `: nothing on ${showCount(unentered)} of them`}.`,
          ]),
      ...staleSaid(whole, name, run),
      `${run.ended === "proven" ? "Proven" : run.ended === "packed" ? "Fits its crew-days as packed" : `NOT PROVEN (${run.ended})`} when it was selected, as of ${showWrittenDate(run.as_of, program.print.dates)}: no other season of the works that might be chosen was better by more than ${showGap(run.gap)}.`,
      ...(dearer === null ? [] : [dearer]),
      payersSaid(
        ofSeason.totals.program,
        { pays: view.pays, undividedLaterals: undividedLaterals(ofSeason) },
        program,
      ),
      ...(lumpSums === null ? [] : [lumpSums]),
      rankedCutSaid,
      ...(gone === 0
        ? []
        : [
            `${showCount(gone)} lateral(s) of the season are not here: not in the program, not offered any more, or held back.`,
          ]),
    ],
    laterals: inEither.map((l) => ({
      lateral: ids[l]!,
      district: textAt(whole.laterals, "district", l),
      rank: numberAt(whole.laterals, "rank", l),
      season: workOf(ours, l),
      rankedCut: workOf(cut, l),
    })),
    season: totals,
    rankedCut: totalSeason(whole, season, cut),
  };
}

/** What a saved season takes, as a choice in a view of the program; what is not offered any more, or held back, is out. */
export function chosenIn(
  { offers }: PlannedProgram,
  { season: { problem, ids, offerRows }, ...view }: SeasonView,
  run: SeasonRun,
): Chosen {
  const wanted = new Map(run.chosen.map((each) => [each.lateral, each.treatment]));
  const heldBack = new Set(view.heldBack);
  return Int32Array.from(ids, (id, l) => {
    const treatment = heldBack.has(id) ? undefined : wanted.get(id);
    if (treatment !== undefined)
      for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++)
        if (textAt(offers, "treatment", offerRows[j]!) === treatment) return j;
    return -1;
  });
}

/** Of a season that was selected from another plan: what it was saved at, for costs and sums here are those of the plan as it is. */
function staleSaid({ season, basis }: PlannedProgram, name: string, run: SeasonRun): readonly string[] {
  if (season === undefined || season.isFilled || season.name !== name) return [];
  const money = (cents: number) => showQuantity(cents, "money", basis.program);
  const paid = budgetPaysOf(run.season);
  const counted = paid === basis.budgetPays ? "" : `, when its budget counted the ${countedWords[paid]}`;
  return [
    `SELECTED FROM ANOTHER PLAN than this one: it was saved at works ${money(run.works)} and mobilization ${money(run.mobilization)}${counted}. Its laterals are shown at the costs of this plan, for which nothing is proven.`,
  ];
}

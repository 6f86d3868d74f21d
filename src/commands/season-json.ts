import { isoDate } from "../quantity/calendar.ts";
import { undividedLaterals } from "../season/budget-counts.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { fitSeason } from "../season/season-fit.ts";
import { brokenRules } from "../season/selection/broken-rules.ts";
import { type SelectionSums, sumChosen } from "../season/selection/selection-problem.ts";
import { inspectionsIn } from "../season/tracking.ts";
import { datedVisits } from "../season/visit-dates.ts";
import { visitedOf } from "./season-head-text.ts";
import { chosenRows, type ShownSeason } from "./season-shown.ts";
import { describeBroken, leftWithLumpSums, type SeasonView } from "./season-words.ts";

export function seasonAsJson(program: PlannedProgram, view: SeasonView, shown: ShownSeason) {
  const { selection, cut, totals } = shown;
  const { problem } = view.season;
  const { worth, bound, gap, ended } = selection;
  return {
    note: 'Money in cents, works less what is spent on laterals under way; where budgetPays is "city share", works, spent and mobilization are what that budget counts, and chosen and payers the whole cost; time in minutes, infiltration in µL/s; worth in cents or L/s, of a mix in parts of the most.',
    objective: view.rules.objective,
    budgetPays: view.pays,
    money: problem.money,
    ...moneyBehind(view, sumChosen(problem, selection.chosen)),
    worth,
    bound,
    gap,
    ended,
    packing: selection.packing,
    sums: sumChosen(problem, selection.chosen),
    payers: payersAsJson(shown.program),
    rankedCut: {
      ...sumChosen(problem, cut),
      breaks: brokenRules(problem, cut).map((each) => describeBroken(each, view)),
    },
    totals,
    calendar: fitAsJson(shown),
    leftOut: view.season.leftOut,
    /** Laterals that wait for an inspection, and those of them that other work may be, and is, chosen for. */
    inspections: {
      planned: shown.inspections,
      taken: inspectionsIn(shown.program),
      otherWork: shown.beforeInspection,
    },
    /** A cross-bore was found there that is not recorded as made safe: nobody is sent, not with a camera either. */
    heldBack: view.heldBack,
    chosen: chosenRows(program, view, selection.chosen),
  };
}

/** What stands behind the money there is: what is spent already, more than there was, and what the sums leave out. */
const moneyBehind = (view: SeasonView, { works, mobilization }: SelectionSums) => {
  const { season, rules, lumpSums } = view;
  const { begun, held, spent, opening, moneyBefore, problem } = season;
  return {
    budget: rules.budget,
    moneyBeforeSpending: moneyBefore,
    spent,
    spentOnBegun: begun.reduce((sum, each) => sum + each.spent, 0),
    spentOnOpening: opening.spent,
    overspent: Math.max(0, spent - moneyBefore),
    done: held.filter(({ standing }) => standing === "done").length,
    refused: held.filter(({ standing }) => standing === "refused").length,
    prepared: visitedOf(begun),
    /** The bid's lump sums at the program's unit prices are in no other sum here. */
    lumpSums,
    worksAndLumpSums: works + lumpSums,
    moneyLeft: problem.money - works - mobilization,
    /** Lump sums in place of mobilization; below 0 they take of the reserve, or more. */
    moneyLeftWithLumpSums: leftWithLumpSums(works, view),
  };
};

/** Cents of the works at their whole cost. */
const payersAsJson = (program: PlannedProgram) => {
  const { cityCost, ownerCost, undivided } = program.totals.program;
  return {
    city: cityCost,
    owners: ownerCost,
    notDivided: undivided,
    notDividedLaterals: undividedLaterals(program),
  };
};

/** When the selected laterals are done, and whether the calendar has room for them. */
const fitAsJson = ({ calendar, program }: ShownSeason) => {
  if (calendar === null) return null;
  const { expected } = calendar.calendars;
  const { finish, ...rest } = fitSeason(calendar);
  return {
    finish: finish === null ? null : isoDate(finish),
    districts: expected.districts.map((each) => ({
      district: each.district,
      finish: each.finish === null ? null : isoDate(each.finish),
    })),
    unpermitted: datedVisits(program, calendar).unpermitted.map(({ ends, on, until, ...of }) => ({
      ...of,
      ends: isoDate(ends),
      on: isoDate(on),
      until: until === null ? null : isoDate(until),
    })),
    ...rest,
  };
};

import type { SeasonReason } from "../columns/plan-columns.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import { asBudgetCounts } from "../season/budget-counts.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { brokenRules } from "../season/selection/broken-rules.ts";
import { excessOf, packChosen } from "../season/selection/packed-rule.ts";
import { gainsOf } from "../season/selection/season-problem.ts";
import { type Chosen, type SelectionProblem, sumChosen } from "../season/selection/selection-problem.ts";
import { judgeOffers, type OfferFate, offerFates } from "../season/selection/usable-offers.ts";
import { heldReasons } from "../season/tracking.ts";
import { isWork, type UnlookedBecause, whyUnlooked } from "../season/unlooked-offers.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { clashText } from "./clash-words.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { reasonSentences } from "./season-reason-words.ts";
import { costWords, type SeasonView, showOwnWorth, showWorth } from "./season-words.ts";
import { solveInThread } from "./solve-in-thread.ts";

/** Proven this closely, so that one lateral's difference is seen; the rest of the gap is said. */
const CLOSE = 1e-6;

/**
 * `wyeplan season FOLDER --why ID`: whether a lateral is in, and what the season would be with it the other way round: the best season that
 * leaves it out, or that must do it.
 */
export async function whyInSeason(
  program: PlannedProgram,
  view: SeasonView,
  id: string,
  gap: number,
  io: CommandIo,
): Promise<ExitCode> {
  const { season } = view;
  const { problem } = season;
  const l = season.ids.indexOf(id);
  if (l < 0) {
    io.err(`No lateral ${JSON.stringify(id)} in the city's file.\n`);
    return EXIT.notDone;
  }
  const stops = { gap: Math.min(gap, CLOSE) };
  const [solved] = await solveInThread([{ problem, packed: view.packed }], stops);
  if (solved === undefined || !solved.selection.ok) {
    io.err(
      `${(solved?.clash == null ? ["No season was found."] : clashText(solved.clash, view)).join("\n")}\n`,
    );
    return EXIT.notDone;
  }
  const { selection } = solved;
  const isIn = selection.chosen[l]! >= 0;
  const barred = whyBarred(view, l);
  const other = isIn
    ? withFlag(problem, "mustNot", l)
    : withFlag(withFlag(problem, "must", l), "mustNot", -1);
  const settled = isIn ? problem.must[l] === 1 : problem.mustNot[l] === 1;
  const [turned] = settled ? [] : await solveInThread([{ problem: other, packed: view.packed }], stops);
  io.out(
    `${[
      barred === "done already" ? `${id} is done already.` : `${id} is ${isIn ? "in" : "out"}.`,
      offersText(program, view, l, selection.chosen),
      begunText(view, l),
      isIn ? null : inspectionText(program, view, l),
      settled
        ? reasonSentences[barred ?? "must be done"]
        : turned === undefined
          ? ""
          : turnedText(turned, selection, isIn, view),
    ]
      .filter((said) => said !== null)
      .join("\n\n")}\n`,
  );
  return EXIT.done;
}

/** What keeps a lateral out that the season may not choose about: its status, a rule, or a refused one it follows. Null where nothing does. */
function whyBarred({ season, rules }: SeasonView, l: number): SeasonReason | null {
  const standing = season.held.find(({ lateral }) => lateral === l)?.standing;
  if (standing !== undefined) return heldReasons[standing];
  if (season.problem.mustNot[l] !== 1) return null;
  return rules.mustNot.includes(season.ids[l]!) ? "must not be done" : "waits for another lateral";
}

/** Nothing is said of one that may not be chosen at all, whose reason stands. */
function inspectionText({ laterals }: PlannedProgram, { season }: SeasonView, l: number): string | null {
  return season.problem.mustNot[l] === 1 || textAt(laterals, "treatment", l) !== "inspect first"
    ? null
    : "The plan inspects it first. A season takes no inspection for its worth: budget for it beside the season, or put it into season.must_do.";
}

/** What the costs of its offers leave out; null where nothing has been spent on it. */
function begunText({ season, style }: SeasonView, l: number): string | null {
  const spent = season.begun.find(({ lateral }) => lateral === l)?.spent ?? 0;
  return spent === 0
    ? null
    : `Costs are what is still to be spent: ${showQuantity(spent, "money", style)} has been spent on it already.`;
}

function turnedText(
  turned: Awaited<ReturnType<typeof solveInThread>>[number],
  selection: { readonly worth: number },
  isIn: boolean,
  view: SeasonView,
): string {
  const what = isIn ? "The best season without it" : "The best season that must do it";
  if (!turned.selection.ok)
    return turned.clash === null
      ? `${what}: there is none.`
      : [`${what}: there is none.`, ...clashText(turned.clash, view)].join("\n");
  const less = selection.worth - turned.selection.worth;
  // The bound holds for every season the other way round, found or not.
  const isSure = turned.selection.bound < selection.worth;
  return [
    `${what} is worth ${showWorth(turned.selection.worth, view)}, ${showOwnWorth(less, view)} less than this one's ${showWorth(selection.worth, view)}.`,
    ...(!isSure
      ? [
          less > 0
            ? `No season the other way round is worth more than ${showWorth(turned.selection.bound, view)}; whether one comes to that is not proven, so the lateral could as well be the other way round.`
            : "It makes no difference to the worth: the lateral could as well be the other way round.",
        ]
      : [
          isIn
            ? "It is in because nothing else makes that up within the rules."
            : "It is out because the money, crew-days or opening it takes gain more elsewhere.",
        ]),
  ].join("\n");
}

const fateWords: Readonly<Record<Exclude<OfferFate, "must not" | "usable">, string>> = {
  "fits no season": "alone over the money or the crew-days",
  "gains nothing": "gains nothing",
  dominated: "another offer gains no less and takes no more",
};

/** Why an offer that could be chosen is not, put into the season in the place of what is. */
function whyNotChosen({ season, packed }: SeasonView, selected: Chosen, l: number, j: number): string {
  const { problem } = season;
  const trial = selected.slice();
  trial[l] = j;
  const { works, mobilization } = sumChosen(problem, trial);
  const over = excessOf(packed, packChosen(problem, packed, trial)).flatMap((days, c) =>
    days > 0 ? [packed.crews[c]!] : [],
  );
  const gone = [
    ...(works + mobilization > problem.money ? ["money is"] : []),
    ...(over.length === 0 ? [] : [`${over.join(", ")} days are`]),
  ];
  if (gone.length > 0) return `its ${gone.join(" and its ")} gone`;
  if (brokenRules(problem, trial).length > 0) return "a rule of the season bars it";
  if (problem.worth[j]! <= 0) return "fits, and gains nothing";
  const had = selected[l]! < 0 ? 0 : problem.worth[selected[l]!]!;
  return problem.worth[j]! <= had
    ? "fits, and gains less than what is chosen"
    : "would fit: not found within the gap, or its days fit by a longer search only";
}

function offersText(program: PlannedProgram, view: SeasonView, l: number, selected: Chosen): string {
  const { problem, offerRows } = view.season;
  const chosen = selected[l]!;
  const fates = judgeOffers(problem);
  const fateOf = (fate: OfferFate, j: number) =>
    fate === "must not"
      ? whyBarred(view, l)!
      : fate === "usable"
        ? whyNotChosen(view, selected, l, j)
        : fateWords[fate];
  const rows = [];
  for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++)
    rows.push([
      textAt(program.offers, "treatment", offerRows[j]!),
      showQuantity(problem.cost[j]!, "money", view.style),
      showOwnWorth(problem.worth[j]!, view),
      problem.worth[j]! > 0 ? worthOverCost(problem.worth[j]!, problem.cost[j]!, view) : "",
      j === chosen ? "in the season" : fateOf(offerFates[fates[j]!]!, j),
    ]);
  rows.push(...unlookedRows(program, view, l));
  if (rows.length === 0) return "The rules of treatment allow no work on it.";
  return plainTable(
    [left("Offer"), right(costWords[view.pays]), right("worth"), right(worthOverCostHeading(view)), left("")],
    rows,
  );
}

const unlookedWords: Readonly<Record<UnlookedBecause, string>> = {
  "no permission that holds": "not looked at: work on a private part without a permission that holds",
  "waits for its main": "not looked at: it follows a main that is not lined in this season",
  "no price": "not looked at: an item of it has no unit price",
  "gain not known": "not looked at: its gain is not known",
};

/** Work that the rules of treatment allow and the season may not choose. */
function unlookedRows(program: PlannedProgram, view: SeasonView, l: number): readonly string[][] {
  const counted = asBudgetCounts(program);
  const { offers, laterals } = counted;
  const { worth } = gainsOf(offers, view.rules.objective, laterals.rows);
  const looked = new Set(view.season.offerRows);
  const known = (value: number, shown: (value: number) => string) =>
    Number.isNaN(value) ? "not known" : shown(value);
  return Array.from({ length: offers.rows }, (_, row) => row)
    .filter((row) => numberAt(offers, "lateral_row", row) === l && isWork(offers, row) && !looked.has(row))
    .map((row) => [
      textAt(offers, "treatment", row),
      known(numberAt(offers, "cost", row), (cost) => showQuantity(cost, "money", view.style)),
      known(worth[row]!, (gain) => showOwnWorth(gain, view)),
      "",
      unlookedWords[whyUnlooked(counted, row)],
    ]);
}

/** Worth over cost is a number where both are money; else it is what so much money buys. */
const PER_MONEY = 1000;
const worthOverCostHeading = ({ rules, style }: SeasonView): string =>
  rules.objective.infiltrationRemoved === 0
    ? "worth ÷ cost"
    : `worth for ${showCount(PER_MONEY)} ${style.currency}`;

function worthOverCost(worth: number, cost: number, view: SeasonView): string {
  const share = worth / Math.max(1, cost);
  return view.rules.objective.infiltrationRemoved === 0
    ? share.toFixed(2)
    : showOwnWorth(share * PER_MONEY * 100, view);
}

/** The season with one lateral flagged; −1 changes nothing. */
function withFlag(problem: SelectionProblem, key: "must" | "mustNot", l: number): SelectionProblem {
  if (l < 0) return problem;
  const flagged = Uint8Array.from(problem[key]);
  flagged[l] = 1;
  return { ...problem, [key]: flagged };
}

import { seasonReasons } from "../columns/plan-columns.ts";
import { stripOf } from "../pictures/season-strip.ts";
import { basisForSettings } from "../program/basis-for-settings.ts";
import { seasonSchema } from "../program/season-schema.ts";
import { budgetPaysOf, seasonOf } from "../program/season-settings.ts";
import { readSettings } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { readSnapshot, snapshotNames } from "../program/snapshots.ts";
import { isoDate } from "../quantity/calendar.ts";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import {
  type MovedLateral,
  type RankingMoved,
  type SavedSeason,
  type SeasonFate,
  type SeasonSeen,
  seasonFates,
  type Worked,
} from "../screen/pane-data.ts";
import { wholeShares } from "../season/attribution.ts";
import { compareRankings } from "../season/compare-rankings.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../season/planned-program.ts";
import { rescoreProgram } from "../season/rescored-program.ts";
import { planSeason } from "../season/season-calendar.ts";
import { programOfSeason } from "../season/season-program.ts";
import { strangersIn } from "../season/selection/season-problem.ts";
import { judgeOffers, type OfferFate, offerFates } from "../season/selection/usable-offers.ts";
import { heldBackIn } from "../season/tracking.ts";
import { knownDay } from "../season/work-days.ts";
import { textAt } from "../sheet/table.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { planAlike } from "./basis-data.ts";
import { compareRuns, selectedRanking } from "./compare-runs.ts";
import { ownWords, signed } from "./compare-text.ts";
import { latestSeason } from "./current-season.ts";
import { prepareBasis } from "./prepare-basis.ts";
import { reasonSentences } from "./season-reason-words.ts";
import { viewOf } from "./season-view.ts";
import { countedWords, describeObjective, showWorth } from "./season-words.ts";
import { rankingOf, takeRun } from "./take-run.ts";

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

const none = (because: string) => ({ kind: "none", because }) as const;
const inWords = (problems: readonly Problem[]): string => problems.map(describeProblem).join(" ");

async function seeSeason(folder: string, program: PlannedProgram): Promise<Worked<SeasonSeen>> {
  const reading = await readSettings(folder);
  if (!reading.ok) return none(inWords(reading.problems));
  const { calendar } = program.basis;
  // Where the columns are of a saved season, so are the weeks: its visits have the days of the columns.
  const latest = program.season?.isFilled === true ? await latestSeason(folder) : null;
  const worked =
    latest === null
      ? program
      : programOfSeason(program, latest.name, latest.run.chosen, latest.run.so_far).program;
  const planned = planSeason(worked);
  const expected = planned?.calendars.expected;
  return {
    kind: "known",
    value: {
      heldBack: heldBackSaid(heldBackIn(program)),
      calendar:
        calendar === null || expected === undefined
          ? null
          : {
              strip: stripOf(expected, knownDay(calendar.starts), knownDay(calendar.ends)),
              of: latest === null ? "all that may be scheduled" : `season ${latest.name}`,
              workingDays: expected.days,
              finish: expected.finish === null ? null : isoDate(expected.finish),
              crewDaysLeft: expected.districts
                .flatMap(({ crews }) => crews)
                .reduce((sum, { left }) => sum + left, 0),
            },
      ...(await seeSaved(folder, program, reading.settings)),
    },
  };
}

/** The season saved last, judged by the rules it was saved with and by the offers as they are now. */
async function seeSaved(
  folder: string,
  program: PlannedProgram,
  settings: Settings,
): Promise<Pick<SeasonSeen, "saved" | "notShown">> {
  const latest = await latestSeason(folder);
  if (latest === null)
    return notShown(
      "No season is saved yet. wyeplan season FOLDER --save NAME selects one and keeps it; then this pane says who is in, who is out and why.",
    );
  const { name, run } = latest;
  const again = `Select and save it again: wyeplan season FOLDER --save NAME.`;
  const written = seasonSchema.safeParse(run.season);
  const rules = written.success ? seasonOf({ season: written.data }) : null;
  if (rules === null)
    return notShown(`The rules that season ${name} was saved with cannot be read. ${again}`);
  const { laterals, districts } = strangersIn(program, rules);
  const strangers = [...laterals.map(([, id]) => id), ...districts];
  if (strangers.length > 0)
    return notShown(
      `The rules that season ${name} was saved with name what the program does not have any more: ${strangers.join(", ")}. ${again}`,
    );
  const paid = budgetPaysOf(run.season);
  if (paid !== program.basis.budgetPays)
    return notShown(
      `The budget of season ${name} counted the ${countedWords[paid]}, and that of program.json counts otherwise now. ${again}`,
    );
  const view = viewOf(program, rules);
  const { problem, ids, offerRows } = view.season;
  const judged = judgeOffers(problem);
  const chosen = new Map(run.chosen.map(({ lateral, treatment }) => [lateral, treatment]));
  const heldBack = new Set(view.heldBack);
  const fates = new Uint8Array(ids.length);
  const ratios = new Float64Array(ids.length).fill(Number.NaN);
  const money: { cost: number; worth: number }[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const [l, id] of ids.entries()) {
    if (heldBack.has(id)) {
      fates[l] = seasonFates.indexOf("held back");
      continue;
    }
    const treatment = chosen.get(id);
    const offers = [];
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) offers.push(j);
    const ratioOf = (j: number) => problem.worth[j]! / Math.max(1, problem.cost[j]!);
    const own = offers.find((j) => textAt(program.offers, "treatment", offerRows[j]!) === treatment);
    if (treatment !== undefined && own !== undefined) {
      least = Math.min(least, ratioOf(own));
      money.push({ cost: problem.cost[own]!, worth: problem.worth[own]! });
    }
    const considered = treatment === undefined ? offers : own === undefined ? [] : [own];
    if (considered.length > 0) ratios[l] = Math.max(...considered.map(ratioOf));
    fates[l] = seasonFates.indexOf(
      treatment === undefined ? fateOf(offers.map((j) => offerFates[judged[j]!]!)) : "in",
    );
  }
  money.sort((a, b) => b.worth / Math.max(1, b.cost) - a.worth / Math.max(1, a.cost));
  let [cost, worth] = [0, 0];
  const curve = [
    { cost, worth },
    ...money.map((each) => {
      cost += each.cost;
      worth += each.worth;
      return { cost, worth };
    }),
  ];
  const proof =
    run.ended === "proven"
      ? `proven: no other season of the works that may be chosen is better by more than ${(run.gap * 100).toFixed(3)} %`
      : `${run.ended === "packed" ? "it fits its crew-days as packed" : run.ended}: another season may be better by up to ${(run.gap * 100).toFixed(3)} %`;
  const saved: SavedSeason = {
    name,
    when: `${run.saved.when} by ${run.saved.who}`,
    head: [
      `Selected for ${describeObjective(rules)}: ${showCount(run.chosen.length)} of ${showCount(ids.length)} laterals are in.`,
      `Worth ${showWorth(run.worth, view)}; works${view.pays === "city share" ? " at the city's share of cost" : ""} ${showQuantity(run.works, "money", view.style)}, mobilization ${showQuantity(run.mobilization, "money", view.style)}; ${proof}.`,
      ...(program.season === undefined || program.season.name !== name ? [] : [program.season.said]),
      ...(JSON.stringify(run.season) === JSON.stringify(settings.season)
        ? []
        : [
            "The season in program.json has been changed since. Here it is judged by the rules it was saved with; to go by those of now, select and save it again.",
          ]),
    ],
    curve: curve.length < 3 ? [...curve, ...curve] : curve,
    chosen,
    fates,
    reasons: reasonsSeen(program, name),
    ratios: ratios.map((ratio) => ratio / least),
  };
  return { saved, notShown: "" };
}

/** The reasons of the sheet's columns, where those are of this season. */
function reasonsSeen({ laterals, season }: PlannedProgram, name: string): SavedSeason["reasons"] {
  const column = laterals.columns.get("season_reason");
  if (season?.isFilled !== true || season.name !== name || column?.kind !== "code") return null;
  return {
    sentences: seasonReasons.map((reason) => reasonSentences[reason]),
    of: Uint8Array.from(column.codes),
  };
}

const notShown = (because: string) => ({ saved: null, notShown: because });

/** Why a lateral that is out is out: what its most hopeful offer came to. */
function fateOf(offers: readonly OfferFate[]): SeasonFate {
  if (offers.length === 0) return "no offer that counts";
  if (offers.includes("usable") || offers.includes("dominated")) return "others gain more";
  if (offers.includes("must not")) return "must not";
  return offers.includes("gains nothing") ? "gains nothing" : "fits no season";
}

const MOST_MOVERS = 200;

async function seeMoved(folder: string, program: PlannedProgram): Promise<Worked<RankingMoved>> {
  const settings = await readSettings(folder);
  if (!settings.ok) return none(inWords(settings.problems));
  const latest = await latestSnapshot(folder);
  if (latest === null)
    return none(
      "No run is saved yet. wyeplan plan FOLDER --save NAME saves one; then this pane says what has moved since.",
    );
  const now = { name: "now", run: await takeRun(folder, { program, settings: settings.settings }) };
  const compared = await compareRuns(latest, now, null);
  if (!compared.ok) return none(inWords(compared.problems));
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
async function seeTrial(
  folder: string,
  program: PlannedProgram,
  path: readonly string[],
  text: string,
): Promise<Worked<RankingMoved>> {
  const { changedSettings } = await import("./change-recipe.ts");
  const changed = await changedSettings(folder, path, text);
  if (!changed.ok) return none(changed.because);
  const prepared = await prepareBasis(basisForSettings(changed.settings));
  if (!prepared.ok)
    return none(prepared.faults.map(({ expected, remedy }) => `Expected ${expected}. ${remedy}`).join("\n"));
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

import { seasonReasons } from "../columns/plan-columns.ts";
import { stripOf } from "../pictures/season-strip.ts";
import { seasonSchema } from "../program/season-schema.ts";
import { budgetPaysOf, seasonOf } from "../program/season-settings.ts";
import { readSettings } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { isoDate } from "../quantity/calendar.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import {
  type SavedSeason,
  type SeasonFate,
  type SeasonSeen,
  seasonFates,
  type Worked,
} from "../screen/pane-data.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { planSeason } from "../season/season-calendar.ts";
import { programOfSeason } from "../season/season-program.ts";
import { strangersIn } from "../season/selection/season-problem.ts";
import { judgeOffers, type OfferFate, offerFates } from "../season/selection/usable-offers.ts";
import { heldBackIn } from "../season/tracking.ts";
import { knownDay } from "../season/work-days.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { chosenIn } from "./booked-selection.ts";
import { latestSeason } from "./current-season.ts";
import { nothingSeen } from "./nothing-seen.ts";
import { reasonSentences } from "./season-reason-words.ts";
import { viewOf } from "./season-view.ts";
import { countedWords, describeObjective, lumpSumsSaid, showGap, showWorth } from "./season-words.ts";

/** What the pane of the season shows: the weeks of the crews, and the season saved last. */
export async function seeSeason(folder: string, program: PlannedProgram): Promise<Worked<SeasonSeen>> {
  const reading = await readSettings(folder);
  if (!reading.ok) return nothingSeen(reading.problems);
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
  const { problem, ids } = view.season;
  const judged = judgeOffers(problem);
  const chosen = new Map(run.chosen.map(({ lateral, treatment }) => [lateral, treatment]));
  const ours = chosenIn(program, view, run);
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
    const own = ours[l]!;
    if (own >= 0) {
      least = Math.min(least, ratioOf(own));
      money.push({ cost: problem.cost[own]!, worth: problem.worth[own]! });
    }
    const considered = treatment === undefined ? offers : own < 0 ? [] : [own];
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
      ? `proven: no other season of the works that may be chosen is better by more than ${showGap(run.gap)}`
      : `${run.ended === "packed" ? "it fits its crew-days as packed" : run.ended}: another season may be better by up to ${showGap(run.gap)}`;
  const lumpSums = lumpSumsSaid(run.works, view);
  const saved: SavedSeason = {
    name,
    when: `${run.saved.when} by ${run.saved.who}`,
    head: [
      `Selected for ${describeObjective(rules)}: ${showCount(run.chosen.length)} of ${showCount(ids.length)} laterals are in.`,
      `Worth ${showWorth(run.worth, view)}; works${view.pays === "city share" ? " at the city's share of cost" : ""} ${showQuantity(run.works, "money", view.style)}, mobilization ${showQuantity(run.mobilization, "money", view.style)}; ${proof}.`,
      ...(lumpSums === null ? [] : [lumpSums]),
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

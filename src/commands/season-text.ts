import { isoDate } from "../quantity/calendar.ts";
import { showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { litresOf, showFlowSums } from "../quantity/summed-flow.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { SeasonPlan } from "../season/season-calendar.ts";
import { fitSeason } from "../season/season-fit.ts";
import { brokenRules } from "../season/selection/broken-rules.ts";
import { packChosen } from "../season/selection/packed-rule.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import { type Chosen, openedBy, sumChosen } from "../season/selection/selection-problem.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { finishTable } from "./calendar.ts";
import { plainTable } from "./plain-table.ts";
import {
  describeBroken,
  describeObjective,
  lumpSumsSaid,
  type SeasonView,
  showWorth,
} from "./season-words.ts";

export type Found = Extract<PackedSelection, { readonly ok: true }>;

export interface ShownSeason {
  readonly selection: Found;
  readonly cut: Chosen;
  /** Null where the program has no calendar. */
  readonly calendar: { readonly program: PlannedProgram; readonly plan: SeasonPlan } | null;
  readonly totals: { readonly districts: readonly SeasonTotals[]; readonly program: SeasonTotals };
}

const right = (heading: string) => ({ heading, align: "right" as const });
const left = (heading: string) => ({ heading, align: "left" as const });
const percent = (part: number): string => `${(part * 100).toFixed(3)} %`;

/** How far a season is proven, in words. */
export const describeProof = ({ ended, gap }: Found): string =>
  ended === "proven"
    ? `proven: no other season is better by more than ${percent(gap)}`
    : ended === "packed"
      ? `no other season that fits is better by more than ${percent(gap)}: the bound knows only part of what packing costs`
      : ended === "stopped"
        ? `STOPPED before it was proven: another season may be better by up to ${percent(gap)}`
        : `NOT PROVEN to the gap asked for (search limit): another season may be better by up to ${percent(gap)}`;

export function seasonText(view: SeasonView, shown: ShownSeason): string {
  return [
    headText(view, shown),
    besideText(view, shown),
    districtsText(view, shown),
    calendarFitText(view, shown),
    [unknownText(shown), leftOutText(view)].filter((line) => line !== "").join("\n"),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

const money = (view: SeasonView, cents: number): string => showQuantity(cents, "money", view.style);

function headText(view: SeasonView, { selection }: ShownSeason): string {
  const { rules } = view;
  return [
    `Season: ${describeObjective(rules)}`,
    `  budget ${money(view, rules.budget)}, of it ${money(view, rules.budget - view.season.moneyBefore)} kept back`,
    ...heldText(view),
    `  bound ${showWorth(selection.bound, view)}; ${describeProof(selection)}`,
    ...unpackedText(view, selection),
  ].join("\n");
}

/** What days counted at their least would select, where it does not fit as packed. */
function unpackedText(view: SeasonView, { packing: { unpacked, rounds } }: Found): readonly string[] {
  const over = unpacked.excess.flatMap((days, c) => (days > 0 ? [`${days} of ${view.packed.crews[c]}`] : []));
  return over.length === 0
    ? []
    : [
        `  with days counted at their least it would be ${showWorth(unpacked.worth, view)}, but packed it needs more crew-days than there are: ${over.join(", ")}; solved ${rounds} times for one that fits`,
      ];
}

/** What is done or refused, and is chosen about no more; and what was spent on work that is not finished. */
function heldText(view: SeasonView): readonly string[] {
  const { held, begun, moneyBefore, spent: gone } = view.season;
  const done = held.filter(({ standing }) => standing === "done").length;
  const spent = begun.reduce((sum, each) => sum + each.spent, 0);
  return [
    ...(held.length === 0
      ? []
      : [
          `  held fixed: ${done} lateral(s) done, ${held.length - done} refused; ${money(view, gone - spent)} of it spent on them and on opening their districts`,
        ]),
    ...(begun.length === 0
      ? []
      : [
          `  begun: ${begun.length} lateral(s), ${money(view, spent)} spent on them: gone from the budget, and taken off what their work still costs`,
        ]),
    ...(gone > moneyBefore
      ? [`  overspent: ${money(view, gone - moneyBefore)} more is spent than the budget less its reserve`]
      : []),
  ];
}

/** The season beside the ranked cut. */
function besideText(view: SeasonView, { selection, cut }: ShownSeason): string {
  const { problem, crews } = view.season;
  const best = sumChosen(problem, selection.chosen);
  const ranked = sumChosen(problem, cut);
  const ours = selection.packing;
  const cuts = packChosen(problem, view.packed, cut);
  const opened = (chosen: Chosen) => String(openedBy(problem, chosen).reduce((sum, one) => sum + one, 0));
  const rows: string[][] = [
    ["laterals in", String(best.laterals), String(ranked.laterals)],
    ["laterals out", String(cut.length - best.laterals), String(cut.length - ranked.laterals)],
    ["worth", showWorth(best.worth, view), showWorth(ranked.worth, view)],
    ["works", money(view, best.works), money(view, ranked.works)],
    ["mobilization", money(view, best.mobilization), money(view, ranked.mobilization)],
    [
      "money left",
      money(view, problem.money - best.works - best.mobilization),
      money(view, problem.money - ranked.works - ranked.mobilization),
    ],
    ["districts opened", opened(selection.chosen), opened(cut)],
    ...crews.map((crew, i) => {
      const limit = view.packed.crewDays[i]!;
      return [
        `crew-days, ${crew}${limit === Infinity ? "" : limit === view.rules.crewDays[crew] ? ` (of ${limit})` : ` (calendar: ${limit})`}`,
        ...[ours, cuts].map(({ packed, mobilised }) => String(packed[i]! + mobilised[i]!)),
      ];
    }),
  ];
  const table = plainTable([left(""), right("this season"), right("ranked cut")], rows);
  const less = best.worth - ranked.worth;
  const share = best.worth > 0 ? ` (${((less / best.worth) * 100).toFixed(1)} %)` : "";
  const broken = brokenRules(problem, cut);
  const lumpSums = lumpSumsSaid(best.works, view);
  return [
    table,
    "Ranked cut: down the ranking, each lateral's planned treatment, passing over what no longer fits.",
    "Crew-days are whole days as packed, with those of mobilisation.",
    ...(broken.length === 0
      ? [`It leaves ${showWorth(less, view)}${share} on the table.`]
      : [
          "It does not keep every rule, so the two cannot be compared by worth alone:",
          ...broken.slice(0, 5).map((each) => `  ${describeBroken(each, view)}`),
        ]),
    ...(lumpSums === null ? [] : [lumpSums]),
  ].join("\n");
}

function districtsText(view: SeasonView, { totals }: ShownSeason): string {
  const flows = (key: "infiltrationBefore" | "infiltrationRemoved") => {
    const known = totals.districts.map((t) => (t.withoutInfiltration === t.laterals ? 0 : litresOf(t[key])));
    const unit = unitLabel("flow", view.style);
    return showFlowSums(known, litresOf(totals.program[key]), view.style).map((shown) => `${shown} ${unit}`);
  };
  const [before, removed] = [flows("infiltrationBefore"), flows("infiltrationRemoved")];
  const row = (t: SeasonTotals, name: string, i: number) => [
    name,
    `${t.chosen} of ${t.laterals}`,
    money(view, t.works + t.mobilization),
    ...(t.withoutLoss === t.laterals
      ? ["not known", "not known"]
      : [money(view, t.lossBefore), money(view, t.lossBefore - t.lossAvoided)]),
    ...(t.withoutInfiltration === t.laterals ? ["not known", "not known"] : [before[i]!, removed[i]!]),
  ];
  return plainTable(
    [
      left("District"),
      right("in"),
      right("cost"),
      right("loss before"),
      right("loss after"),
      right("infiltration"),
      right("removed"),
    ],
    [
      ...totals.districts.map((t, i) => row(t, t.district || "(no district)", i)),
      null,
      row(totals.program, "all", totals.districts.length),
    ],
  );
}

/** When the selected laterals are done, and whether the calendar has room for them. */
function calendarFitText(view: SeasonView, { calendar }: ShownSeason): string {
  if (calendar === null) return "";
  const { plan, program } = calendar;
  const limitOf = (crew: string): number | undefined => view.rules.crewDays[crew];
  const dates = program.basis.calendar;
  const { crews, slips, finish } = fitSeason(plan);
  const table = plainTable(
    [left("Crew"), right("counted"), right("packed"), right("mobilization"), right("crew_days")],
    crews.map(({ crew, countedHundredths, packed, mobilised }) => [
      crew,
      (countedHundredths / 100).toFixed(1),
      String(packed),
      String(mobilised),
      limitOf(crew) === undefined ? "" : String(limitOf(crew)),
    ]),
  );
  const verdict =
    finish !== null
      ? `It fits the calendar: done on ${isoDate(finish)}, the season ends ${dates?.ends}.`
      : [
          `It does NOT fit the calendar, which ends ${dates?.ends}, in the expected weather:`,
          ...slips.map(
            ({ district, crew, left: days }) =>
              `  ${district || "(no district)"}: ${days} crew-day(s) of ${crew} not done`,
          ),
          "More crews, a later end or fewer crew-days under crew_days mend it.",
        ].join("\n");
  return [
    finishTable(plan, Number.POSITIVE_INFINITY),
    `Crew-days: "counted" are minutes over the shift; packed are whole days of whole visits with travel.\n${table}`,
    verdict,
  ].join("\n\n");
}

/** The same for JSON. */
const fitAsJson = ({ calendar }: ShownSeason) => {
  if (calendar === null) return null;
  const { expected } = calendar.plan.calendars;
  const { finish, ...rest } = fitSeason(calendar.plan);
  return {
    finish: finish === null ? null : isoDate(finish),
    districts: expected.districts.map((each) => ({
      district: each.district,
      finish: each.finish === null ? null : isoDate(each.finish),
    })),
    ...rest,
  };
};

/** Laterals that a sum of the table lacks are said below it. */
function unknownText({ totals: { program } }: ShownSeason): string {
  const said = [];
  if (program.withoutLoss > 0) said.push(`loss of ${program.withoutLoss} lateral(s)`);
  if (program.withoutInfiltration > 0) said.push(`infiltration of ${program.withoutInfiltration} lateral(s)`);
  return said.length === 0 ? "" : `Not known, and in no sum: ${said.join(", ")}.`;
}

function leftOutText({ season: { leftOut } }: SeasonView): string {
  const said = [];
  if (leftOut.withoutPrice > 0) said.push(`${leftOut.withoutPrice} offer(s) without a price`);
  if (leftOut.doneWithoutCost > 0)
    said.push(`the cost of ${leftOut.doneWithoutCost} done lateral(s): nothing is known of it`);
  if (leftOut.withoutPermission > 0)
    said.push(`${leftOut.withoutPermission} offer(s) on private parts without a permission that holds`);
  if (leftOut.mainNotLined > 0)
    said.push(
      `${leftOut.mainNotLined} offer(s) that follow a main which is to be lined and, by season.mains_lined, is not in this season`,
    );
  if (leftOut.withoutWorth > 0) said.push(`${leftOut.withoutWorth} offer(s) whose gain is not known`);
  return said.length === 0 ? "" : `Not looked at: ${said.join(", ")}.`;
}

/** Who is in, for JSON and for saving, each at the whole cost of its work. */
export const chosenRows = (program: PlannedProgram, view: SeasonView, chosen: Chosen) =>
  Array.from(chosen).flatMap((j, l) =>
    j < 0
      ? []
      : [
          {
            lateral: view.season.ids[l]!,
            treatment: textAt(program.offers, "treatment", view.season.offerRows[j]!),
            cost: numberAt(program.offers, "cost", view.season.offerRows[j]!),
          },
        ],
  );

export function seasonAsJson(program: PlannedProgram, view: SeasonView, shown: ShownSeason) {
  const { selection, cut, totals } = shown;
  const { problem } = view.season;
  const { worth, bound, gap, ended } = selection;
  return {
    note: "Money in cents, works less what is spent on laterals already begun; time in minutes, infiltration in µL/s; worth in cents or L/s, of a mix in parts of the most.",
    objective: view.rules.objective,
    money: problem.money,
    spentOnBegun: view.season.begun.reduce((sum, { spent }) => sum + spent, 0),
    worth,
    bound,
    gap,
    ended,
    packing: selection.packing,
    sums: sumChosen(problem, selection.chosen),
    rankedCut: {
      ...sumChosen(problem, cut),
      breaks: brokenRules(problem, cut).map((each) => describeBroken(each, view)),
    },
    totals,
    calendar: fitAsJson(shown),
    leftOut: view.season.leftOut,
    chosen: chosenRows(program, view, selection.chosen),
  };
}

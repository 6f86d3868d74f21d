import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { grouped, showCount, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { litresOf, showFlowSums } from "../quantity/summed-flow.ts";
import { countedTotal, undividedLaterals } from "../season/budget-counts.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { SeasonPlan } from "../season/season-calendar.ts";
import { fitSeason } from "../season/season-fit.ts";
import { brokenRules } from "../season/selection/broken-rules.ts";
import { packChosen } from "../season/selection/packed-rule.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import { type Chosen, openedBy, sumChosen } from "../season/selection/selection-problem.ts";
import { type HeldStanding, inspectionsIn } from "../season/tracking.ts";
import { datedVisits } from "../season/visit-dates.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { unpermittedSaid } from "../workbook/notices-sheet.ts";
import { finishTable } from "./calendar.ts";
import { plainTable } from "./plain-table.ts";
import {
  costWords,
  dearerSaid,
  describeBroken,
  describeObjective,
  inspectionsSaid,
  lumpSumsSaid,
  payersSaid,
  rankedCutSaid,
  type SeasonView,
  showPackedDays,
  showWorth,
} from "./season-words.ts";

export type Found = Extract<PackedSelection, { readonly ok: true }>;

export interface ShownSeason {
  readonly selection: Found;
  readonly cut: Chosen;
  /** The plan of the selected laterals. */
  readonly program: PlannedProgram;
  /** Null where the program has no calendar. */
  readonly calendar: SeasonPlan | null;
  /** Laterals of the whole plan that wait for an inspection. */
  readonly inspections: number;
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
    ...heldBackSaid(view.heldBack),
    besideText(view, shown),
    districtsText(view, shown),
    calendarFitText(view, shown),
    [unknownText(shown), inspectionsText(shown), leftOutText(view)].filter((line) => line !== "").join("\n"),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

const money = (view: SeasonView, cents: number): string => showQuantity(cents, "money", view.style);

function headText(view: SeasonView, { selection }: ShownSeason): string {
  const { rules } = view;
  return [
    `Season: ${describeObjective(rules)}`,
    `  budget ${money(view, rules.budget)}, of it ${money(view, rules.budget - view.season.moneyBefore)} kept back${view.pays === "city share" ? "; it counts the city's share of cost" : ""}`,
    ...heldText(view),
    `  bound ${showWorth(selection.bound, view)}; ${describeProof(selection)}`,
    ...unpackedText(view, selection),
  ].join("\n");
}

/** What days counted at their least would select, where it does not fit as packed. */
function unpackedText(view: SeasonView, { packing: { unpacked, rounds } }: Found): readonly string[] {
  const over = unpacked.excess.flatMap((days, c) =>
    days > 0 ? [`${showPackedDays(days)} of ${view.packed.crews[c]}`] : [],
  );
  return over.length === 0
    ? []
    : [
        `  with days counted at their least it would be ${showWorth(unpacked.worth, view)}, but packed it needs more crew-days than there are: ${over.join(", ")}; solved ${rounds} times for one that fits`,
      ];
}

/** Laterals under way whose preparation is over. */
export const visitedOf = (begun: SeasonView["season"]["begun"]): number =>
  begun.filter((each) => each.visited.some((minutes) => minutes !== null)).length;

/** What is done or refused, and is chosen about no more; and what was spent on work that is not finished. */
function heldText(view: SeasonView): readonly string[] {
  const { held, begun, moneyBefore, spent: gone, opening } = view.season;
  const as = (which: HeldStanding) => held.filter(({ standing }) => standing === which);
  const sumOf = (works: readonly { readonly spent: number }[]) =>
    works.reduce((sum, each) => sum + each.spent, 0);
  const [done, refused, heldBack] = [as("done"), as("refused"), as("held back")];
  const spent = sumOf(begun);
  const unentered = begun.filter((each) => each.spent === 0).length;
  const visited = visitedOf(begun);
  return [
    ...(done.length + refused.length === 0
      ? []
      : [
          `  held fixed: ${showCount(done.length)} lateral(s) done, ${showCount(refused.length)} refused; ${money(view, sumOf([...done, ...refused]))} spent on them`,
        ]),
    ...(sumOf(heldBack) === 0
      ? []
      : [
          `  held back: ${money(view, sumOf(heldBack))} was spent on such laterals, and is gone from the budget`,
        ]),
    ...(begun.length === 0
      ? []
      : [
          `  under way: ${showCount(begun.length)} lateral(s), ${money(view, spent)} spent on them: gone from the budget, and taken off what their work still costs${unentered === 0 ? "" : `; ${view.pays === "city share" ? "nothing that the budget counts" : "nothing"} is entered (installed_cost) for ${showCount(unentered)} of them`}`,
        ]),
    ...(view.pays === "whole cost" || gone === opening.spent
      ? []
      : [
          "  of what is entered as spent (installed_cost), which is taken to be the whole cost, the city's share by the lateral's plan counts; all of it where that is not divided",
        ]),
    ...(opening.spent === 0
      ? []
      : [
          `  opened: ${showCount(opening.districts)} district(s) where work has begun: ${money(view, opening.spent)} of mobilization is gone whatever is chosen there`,
        ]),
    ...(visited === 0
      ? []
      : [
          `  prepared: ${showCount(visited)} lateral(s) cleaned or measured: that visit counts as done, in crew_days too, and is not planned again`,
        ]),
    ...(gone > moneyBefore
      ? [`  overspent: ${money(view, gone - moneyBefore)} more is spent than the budget less its reserve`]
      : []),
  ];
}

/** The season beside the ranked cut. */
function besideText(view: SeasonView, { selection, cut, program, totals }: ShownSeason): string {
  const { problem, crews } = view.season;
  const best = sumChosen(problem, selection.chosen);
  const ranked = sumChosen(problem, cut);
  const ours = selection.packing;
  const cuts = packChosen(problem, view.packed, cut);
  const opened = (chosen: Chosen) => showCount(openedBy(problem, chosen).reduce((sum, one) => sum + one, 0));
  const rows: string[][] = [
    ["laterals in", showCount(best.laterals), showCount(ranked.laterals)],
    ["laterals out", showCount(cut.length - best.laterals), showCount(cut.length - ranked.laterals)],
    ["worth", showWorth(best.worth, view), showWorth(ranked.worth, view)],
    [
      view.pays === "city share" ? "works, city's share" : "works",
      money(view, best.works),
      money(view, ranked.works),
    ],
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
        `crew-days, ${crew}${limit === Infinity ? "" : limit === view.rules.crewDays[crew] ? ` (of ${showPackedDays(limit)})` : ` (calendar: ${showPackedDays(limit)})`}`,
        ...[ours, cuts].map(({ packed, mobilised }) => showCount(packed[i]! + mobilised[i]!)),
      ];
    }),
  ];
  const table = plainTable([left(""), right("this season"), right("ranked cut")], rows);
  const less = best.worth - ranked.worth;
  const share = best.worth > 0 ? ` (${((less / best.worth) * 100).toFixed(1)} %)` : "";
  const broken = brokenRules(problem, cut);
  const lumpSums = lumpSumsSaid(best.works, view);
  const dearer = dearerSaid(totals.program, view);
  return [
    table,
    rankedCutSaid,
    `Crew-days are whole days as packed, with those of mobilization${view.packed.done.length === 0 ? "" : "; those of work that is done, and of visits that are over, are in them, and not in the table of crews below"}.`,
    ...(broken.length === 0
      ? [`The ranked cut leaves ${showWorth(less, view)}${share} on the table.`]
      : [
          "The ranked cut does not keep every rule, so the two cannot be compared by worth alone:",
          ...broken.slice(0, 5).map((each) => `  ${describeBroken(each, view)}`),
        ]),
    ...(dearer === null ? [] : [dearer]),
    payersSaid(
      program.totals.program,
      { pays: view.pays, undividedLaterals: undividedLaterals(program) },
      view.style,
      countedTotal(program.totals.program, view.pays) - best.works,
    ),
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
    `${showCount(t.chosen)} of ${showCount(t.laterals)}`,
    money(view, t.works + t.mobilization),
    ...(t.withoutLoss === t.laterals
      ? ["not known", "not known"]
      : [money(view, t.lossBefore), money(view, t.lossBefore - t.lossAvoided)]),
    ...(t.withoutInfiltration === t.laterals ? ["not known", "not known"] : [before[i]!, removed[i]!]),
  ];
  const done = view.season.held.filter(({ standing }) => standing === "done").length;
  const table = plainTable(
    [
      left("District"),
      right("in"),
      right(costWords[view.pays]),
      right("loss before"),
      right("loss after"),
      right("infiltration"),
      right("removed"),
    ],
    [
      ...totals.districts.map((t, i) => row(t, districtName(t.district), i)),
      null,
      row(totals.program, "all", totals.districts.length),
    ],
  );
  return done === 0
    ? table
    : `${table}\nLoss and infiltration of the ${showCount(done)} lateral(s) done are those after their work.`;
}

/** When the selected laterals are done, and whether the calendar has room for them. */
function calendarFitText(view: SeasonView, { calendar: plan, program }: ShownSeason): string {
  if (plan === null) return "";
  const limitOf = (crew: string): number | undefined => view.rules.crewDays[crew];
  const dates = program.basis.calendar;
  const { crews, slips, finish } = fitSeason(plan);
  const table = plainTable(
    [left("Crew"), right("counted"), right("packed"), right("mobilization"), right("limit")],
    crews.map(({ crew, countedHundredths, packed, mobilised }) => [
      crew,
      grouped(countedHundredths / 100, 1),
      showCount(packed),
      showCount(mobilised),
      limitOf(crew) === undefined ? "" : showPackedDays(limitOf(crew)!),
    ]),
  );
  const verdict =
    finish !== null
      ? `It fits the calendar: done on ${isoDate(finish)}, the season ends ${dates?.ends}.`
      : [
          `It does NOT fit the calendar, which ends ${dates?.ends}, in the expected weather:`,
          ...slips.map(
            ({ district, crew, left: days }) =>
              `  ${districtName(district)}: ${showCount(days)} crew-day(s) of ${crew} not done`,
          ),
          "More crews, a later end or fewer crew-days under crew_days mend it.",
        ].join("\n");
  return [
    finishTable(plan, Number.POSITIVE_INFINITY),
    `Crew-days: "counted" are minutes over the shift; packed are whole days of whole visits with travel; "limit" is season.crew_days of program.json${view.packed.done.length === 0 ? "" : ", for work that is done too, whose days are not in this table"}.\n${table}`,
    [verdict, ...unpermittedSaid(datedVisits(program, plan).unpermitted)].join("\n"),
  ].join("\n\n");
}

/** Laterals that a sum of the table lacks are said below it. */
function unknownText({ totals: { program } }: ShownSeason): string {
  const said = [];
  if (program.withoutLoss > 0) said.push(`loss of ${showCount(program.withoutLoss)} lateral(s)`);
  if (program.withoutInfiltration > 0)
    said.push(`infiltration of ${showCount(program.withoutInfiltration)} lateral(s)`);
  return said.length === 0 ? "" : `Not known, and in no sum: ${said.join(", ")}.`;
}

function inspectionsText({ program, inspections }: ShownSeason): string {
  return inspectionsSaid(inspections, inspectionsIn(program)) ?? "";
}

function leftOutText({ season: { leftOut } }: SeasonView): string {
  const said = [];
  if (leftOut.withoutPrice > 0) said.push(`${showCount(leftOut.withoutPrice)} offer(s) without a price`);
  if (leftOut.doneWithoutCost > 0)
    said.push(`the cost of ${showCount(leftOut.doneWithoutCost)} done lateral(s): nothing is known of it`);
  if (leftOut.withoutPermission > 0)
    said.push(
      `${showCount(leftOut.withoutPermission)} offer(s) on private parts without a permission that holds`,
    );
  if (leftOut.mainNotLined > 0)
    said.push(
      `${showCount(leftOut.mainNotLined)} offer(s) that follow a main which is to be lined and, by season.mains_lined, is not in this season`,
    );
  if (leftOut.withoutWorth > 0)
    said.push(`${showCount(leftOut.withoutWorth)} offer(s) whose gain is not known`);
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

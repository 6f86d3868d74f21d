import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { showPercent } from "../quantity/percent.ts";
import { grouped, showCount, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { litresOf, showFlowSums } from "../quantity/summed-flow.ts";
import { countedTotal, undividedLaterals } from "../season/budget-counts.ts";
import { fitSeason } from "../season/season-fit.ts";
import { brokenRules } from "../season/selection/broken-rules.ts";
import { packChosen } from "../season/selection/packed-rule.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import { type Chosen, openedBy, sumChosen } from "../season/selection/selection-problem.ts";
import { inspectionsIn } from "../season/tracking.ts";
import { datedVisits } from "../season/visit-dates.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { unpermittedSaid } from "../workbook/notices-sheet.ts";
import { finishTable } from "./calendar.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { headText } from "./season-head-text.ts";
import type { ShownSeason } from "./season-shown.ts";
import {
  costWords,
  dearerSaid,
  describeBroken,
  inspectionsSaid,
  leftWithLumpSums,
  lumpSumsSaid,
  payersSaid,
  rankedCutSaid,
  type SeasonView,
  showPackedDays,
  showWorth,
} from "./season-words.ts";

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
      view.lumpSums === 0 ? "money left" : "money left, without lump sums",
      money(view, problem.money - best.works - best.mobilization),
      money(view, problem.money - ranked.works - ranked.mobilization),
    ],
    ...lumpSumRows(view, best.works, ranked.works),
    ["districts opened", opened(selection.chosen), opened(cut)],
    ...crews.map((crew, i) => {
      const limit = view.packed.crewDays[i]!;
      return [
        `crew-days, ${crew}${limit === Infinity ? "" : limit === view.rules.crewDays[crew] ? ` (of ${showPackedDays(limit)})` : ` (calendar: ${showPackedDays(limit)})`}`,
        ...[ours, cuts].map(({ packed, mobilized }) => showCount(packed[i]! + mobilized[i]!)),
      ];
    }),
  ];
  const table = plainTable([left(""), right("this season"), right("ranked cut")], rows);
  const less = best.worth - ranked.worth;
  const share = best.worth > 0 ? ` (${showPercent(less / best.worth, 1)})` : "";
  const broken = brokenRules(problem, cut);
  const lumpSums = lumpSumsSaid(best.works, view);
  const nowhere = totals.districts.find(({ district }) => district === "")?.chosen ?? 0;
  const dearer = dearerSaid(totals.program, view);
  return [
    table,
    rankedCutSaid,
    `Crew-days are whole days as packed, with those of mobilization${view.packed.done.length === 0 ? "" : "; those of work that is done, and of visits that are over, are in them, and not in the table of crews below"}.`,
    ...(nowhere === 0
      ? []
      : [
          `Districts opened: ${showCount(nowhere)} lateral(s) in without a district count as one of their own, with its mobilization and its crews' days of coming there. With a district in the city's file they would share what it takes.`,
        ]),
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

/** The estimate has the bid's lump sums in place of mobilization by district, and takes what is left of the same money. */
function lumpSumRows(view: SeasonView, ...works: readonly number[]): string[][] {
  if (view.lumpSums === 0) return [];
  return [
    ["lump sums of the bid", ...works.map(() => money(view, view.lumpSums))],
    [
      "money left, lump sums instead of mobilization",
      ...works.map((each) => money(view, leftWithLumpSums(each, view))),
    ],
  ];
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
    crews.map(({ crew, countedHundredths, packed, mobilized }) => [
      crew,
      grouped(countedHundredths / 100, 1),
      showCount(packed),
      showCount(mobilized),
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

function inspectionsText({ program, inspections, beforeInspection }: ShownSeason): string {
  return inspectionsSaid(inspections, inspectionsIn(program), beforeInspection) ?? "";
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
  return said.length === 0
    ? ""
    : `Not looked at, and in nothing that is said to be proven: ${said.join(", ")}.`;
}

import { lateralMap } from "../../pictures/lateral-map.ts";
import { districtName } from "../../quantity/district-name.ts";
import { showDate } from "../../quantity/show-date.ts";
import { showCount, unitLabel } from "../../quantity/show-quantity.ts";
import type { Day } from "../../quantity/si.ts";
import { litresOf, showFlowSums } from "../../quantity/summed-flow.ts";
import { fitSeason } from "../../season/season-fit.ts";
import type { SeasonTotals } from "../../season/selection/season-totals.ts";
import { inspectionsIn, trackProgress } from "../../season/tracking.ts";
import { datedVisits } from "../../season/visit-dates.ts";
import { inspectionsSaid, showGap } from "../season-words.ts";
import { certaintyBody, inBriefSaid } from "./certainty-section.ts";
import { basisBody, cautionBody } from "./closing-sections.ts";
import type { ReportSection } from "./contents.ts";
import { bullets, figure, figureList, type Html, html, numeric, table } from "./html.ts";
import type { ReportedSeason } from "./reported-season.ts";
import { type Fate, fates, fatesIn } from "./season-fates.ts";
import { remainderBody, urgentBody } from "./season-left.ts";
import { treatmentTable } from "./treatment-table.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";

/** What a council decides about: what is done this season, where and when, for what money, what it spares, and what it leaves. */
export function seasonSections(season: ReportedSeason): readonly ReportSection[] {
  const fateOf = fatesIn(season.whole, season.run);
  const progress = progressBody(season);
  return [
    { key: "season", heading: "What the season does", body: moneyBody(season) },
    ...(progress === null ? [] : [{ key: "progress", heading: "What of it is done so far", body: progress }]),
    { key: "certainty", heading: "How sure cost and dates are", body: certaintyBody(season, "season") },
    { key: "districts", heading: "Where and when", body: districtBody(season) },
    { key: "map", heading: "Map of the season", body: mapBody(season, fateOf) },
    { key: "urgent", heading: "What is urgent, and what becomes of it", body: urgentBody(season, fateOf) },
    { key: "left", heading: "What is left, and why", body: remainderBody(season, fateOf) },
    { key: "cautions", heading: "Cautions", body: cautionBody(season) },
    { key: "basis", heading: "Basis and sources", body: basisBody(season) },
  ];
}

/** The figures everybody asks for first. */
export function seasonFigures({ program, whole, money, totals, missing, plan }: ReportedSeason): Html {
  const { currency, print } = program.basis.program;
  const { cost, laterals, unpriced } = program.totals.program;
  const finish = plan?.calendars.expected.finish ?? null;
  return figureList([
    [showCount(laterals), `of ${showCount(whole.laterals.rows)} laterals are in the season`],
    [`${wholeMoney(cost, currency)}${markIf(unpriced)}`, "estimated cost of their work"],
    [wholeMoney(money.budget, currency), "budget of the season"],
    ...(whole.basis.failureCosts === null
      ? []
      : [
          [
            `${wholeMoney(totals.program.lossAvoided, currency)}${markIf(missing)}`,
            `less for failures over ${whole.basis.life.horizonYears} years, as money of today`,
          ] as const,
        ]),
    ...(plan === null
      ? []
      : [
          [
            finish === null ? "not in time" : showDate(finish, print.dates),
            "the work is done, in the expected weather",
          ] as const,
        ]),
  ]);
}

function moneyBody(season: ReportedSeason): Html {
  const { program, whole, run, objective, money, missing, beforeInspection } = season;
  const { currency } = program.basis.program;
  const brief = inBriefSaid(season);
  const inspections = inspectionsSaid(inspectionsIn(whole), inspectionsIn(program), beforeInspection);
  const amount = (cents: number) => showCount(Math.round(cents / 100));
  const rows: readonly (readonly [string, string])[] = [
    ["Budget", amount(money.budget)],
    ...(money.reserve === 0 ? [] : [["Kept back as a reserve", amount(money.reserve)] as const]),
    ...(money.spent === 0 ? [] : [["Spent before the season was selected", amount(money.spent)] as const]),
    [
      program.basis.budgetPays === "city share" ? "Works, the city's share" : "Works",
      `${amount(money.works)}${markIf(missing)}`,
    ],
    ["Moving crews into districts", amount(money.mobilization)],
  ];
  return html`${bullets([
    `It has the greatest ${objective} that budget, crews and rules allow: ${proofSaid(run)}.`,
    ...sparedSaid(season),
    ...(brief === null ? [] : [brief]),
    ...(inspections === null ? [] : [inspections]),
  ])}
${table(
  program.basis.budgetPays === "city share"
    ? "The season's budget, which counts the city's share of cost"
    : "The season's budget, which counts works at their whole cost",
  [{ text: "Part" }, { text: currency, numeric: true }],
  rows,
  ["Left over", `${amount(money.left)}${markIf(missing)}`],
)}
${money.lumpSums === null ? html`` : html`<p>${money.lumpSums}</p>`}
${treatmentTable(program, "Treatments of this season, the dearest first")}`;
}

/** How far it is proven that no other season was better. */
function proofSaid({ ended, gap }: ReportedSeason["run"]): string {
  const percent = showGap(gap);
  if (ended !== "proven" && ended !== "packed")
    return `that is NOT PROVEN (${ended}), another may be better by up to ${percent}`;
  return percent === showGap(0)
    ? "when it was selected no other season was better"
    : `when it was selected no other season was better by more than ${percent}`;
}

/** What the season removes of loss and water, as the terminal's table of it has it. */
function sparedSaid({ whole, program, totals, missing }: ReportedSeason): readonly string[] {
  const { currency } = program.basis.program;
  const { lossBefore, lossAvoided, withoutLoss, withoutInfiltration, laterals } = totals.program;
  const { infiltrationBefore, infiltrationRemoved } = totals.program;
  const [before, removed] = [infiltrationBefore, infiltrationRemoved].map(
    (flow) =>
      `${showFlowSums([], litresOf(flow), program.basis.program)[0]} ${unitLabel("flow", program.basis.program)}`,
  );
  const lacks = (unknown: number) =>
    unknown === 0 ? "" : ` (${showCount(unknown)} lateral(s) not counted: theirs is not known)`;
  return [
    whole.basis.failureCosts === null || withoutLoss === laterals
      ? "What failures cost is not known: no loss is stated."
      : `Failures of the whole city's laterals are expected to cost ${wholeMoney(lossBefore, currency)} over ${whole.basis.life.horizonYears} years, as money of today, if nothing more is done, and ${wholeMoney(lossBefore - lossAvoided, currency)} after this season: it spares ${wholeMoney(lossAvoided, currency)}${markIf(missing)}${lacks(withoutLoss)}.`,
    withoutInfiltration === laterals
      ? "How much groundwater enters is not known."
      : `Of ${before} of groundwater that enters in the wet season it keeps out ${removed}${markIf(missing)}${lacks(withoutInfiltration)}.`,
  ];
}

function districtBody({ program, totals, missing, plan, money }: ReportedSeason): Html {
  const { basis } = program;
  const { currency, print } = basis.program;
  const whole = (cents: number) => showCount(Math.round(cents / 100));
  const onDay = (day: Day | null): string => (day === null ? "after the season" : showDate(day, print.dates));
  const doneBy = new Map(
    plan?.calendars.expected.districts.map(({ district, finish }) => [district, onDay(finish)]),
  );
  const removed = showFlowSums(
    totals.districts.map((of) =>
      of.withoutInfiltration === of.laterals ? 0 : litresOf(of.infiltrationRemoved),
    ),
    litresOf(totals.program.infiltrationRemoved),
    basis.program,
  );
  const known = (unknown: number, of: SeasonTotals, shown: string) =>
    unknown === of.laterals ? "not known" : shown;
  const row = (of: SeasonTotals, name: string, i: number, done: string) => [
    name,
    `${showCount(of.chosen)} of ${showCount(of.laterals)}`,
    whole(of.works + of.mobilization),
    known(of.withoutLoss, of, whole(of.lossBefore)),
    known(of.withoutLoss, of, whole(of.lossBefore - of.lossAvoided)),
    known(of.withoutInfiltration, of, removed[i]!),
    ...(plan === null ? [] : [done]),
  ];
  const cost = basis.budgetPays === "city share" ? "City's share of cost" : "Cost";
  return html`${table(
    "The season by district",
    [
      { text: "District" },
      ...numeric(
        "In the season",
        `${cost} (${currency})`,
        `Failures before (${currency})`,
        `Failures after (${currency})`,
        `Water kept out (${unitLabel("flow", basis.program)})`,
        ...(plan === null ? [] : ["Done"]),
      ),
    ],
    totals.districts.map((of, i) =>
      row(of, districtName(of.district), i, doneBy.get(of.district) ?? "no work"),
    ),
    row(
      totals.program,
      `All${markIf(missing)}`,
      totals.districts.length,
      plan === null ? "" : onDay(plan.calendars.expected.finish),
    ),
  )}
<p class="small">Costs are of works${money.mobilization > 0 ? " and of moving crews into the district" : ""}, without lump sums. Failures: what they are expected to cost, as money of today.
${plan === null ? "There are no days: program.json has no calendar of a season." : "Days are those of the calendar in the expected weather."}</p>
${bullets(calendarSaid({ program, plan }))}`;
}

/** What of the season has no room in its calendar, what weather does to it, and permissions that end too early. */
function calendarSaid({ program, plan }: Pick<ReportedSeason, "program" | "plan">): readonly string[] {
  if (plan === null) return [];
  const { dates } = program.basis.program.print;
  const { slips } = fitSeason(plan);
  const { twice } = plan.calendars;
  const { unpermitted } = datedVisits(program, plan);
  return [
    ...slips.map(
      ({ district, crew, left }) =>
        `In ${districtName(district)} ${showCount(left)} crew-day(s) of ${crew} do NOT fit the calendar.`,
    ),
    `Were twice as many days lost to weather as expected, the work would be done ${twice.finish === null ? "after the season" : `on ${showDate(twice.finish, dates)}`}.`,
    ...(unpermitted.length === 0
      ? []
      : [
          `${showCount(unpermitted.length)} owner's permission(s) end before the work there does: they are to be renewed.`,
        ]),
    ...(plan.leftOut === 0
      ? []
      : [
          `${showCount(plan.leftOut)} lateral(s) of the season have no day: they may not be scheduled yet, or their main is to be lined first.`,
        ]),
  ];
}

function mapBody({ places, program }: ReportedSeason, fateOf: readonly Fate[]): Html {
  if ("none" in places) return html`<p>No map: ${places.none}</p>`;
  const shown = fates.filter(({ name }) => fateOf.includes(name));
  const marks = places.flatMap((place, row) =>
    place === null
      ? []
      : [
          {
            longitude: place[0],
            latitude: place[1],
            of: shown.findIndex(({ name }) => name === fateOf[row]),
          },
        ],
  );
  const without = places.length - marks.length;
  const map = lateralMap(marks, shown, program.basis.program.units, "what becomes of the laterals");
  return html`${figure(map, "Each mark is a lateral (marks that would lie on one another are drawn once, what is in the season on top).", "map")}
${without > 0 ? html`<p>${showCount(without)} lateral(s) have no usable coordinates and are not on the map.</p>` : html``}`;
}

/** How far the season's own laterals have come; null where nothing is recorded of them. */
function progressBody({ program }: ReportedSeason): Html | null {
  const { program: all } = trackProgress(program);
  const { byStanding } = all;
  if (byStanding.done + byStanding["under way"] + byStanding.refused === 0 && all.spent === 0) return null;
  const { currency } = program.basis.program;
  return bullets([
    `Of the season's ${showCount(all.laterals)} laterals ${showCount(byStanding.done)} are done, ${showCount(byStanding["under way"])} are under way, ${showCount(byStanding["to do"])} are to do, and ${showCount(byStanding.refused)} are refused since: no work is done there.`,
    `${wholeMoney(all.spent, currency)} is spent on them${
      all.spentAsPlanned === 0
        ? ""
        : `, of which ${wholeMoney(all.spentAsPlanned, currency)} is the planned cost of work done whose cost is not entered yet`
    }; what is left would cost ${wholeMoney(all.stillToSpend, currency)}${markIf(all.unpriced)}.`,
    "The other parts of this report are of the season as it was selected.",
  ]);
}

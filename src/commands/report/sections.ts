import { treatmentKinds } from "../../columns/plan-columns.ts";
import { lateralMap } from "../../pictures/lateral-map.ts";
import { backlogChart, barsChart, matrixChart } from "../../pictures/plan-charts.ts";
import { crewDayColumn, showCrewDays } from "../../quantity/crew-days.ts";
import { districtName } from "../../quantity/district-name.ts";
import { showCount, showQuantity } from "../../quantity/show-quantity.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import type { RiskPicture } from "../../season/risk-picture.ts";
import { textAt } from "../../sheet/table.ts";
import { capital } from "../../workbook/book-contents.ts";
import { certaintyBody, inBriefSaid } from "./certainty-section.ts";
import { basisBody, cautionBody, gapBody } from "./closing-sections.ts";
import type { ReportContents, ReportSection } from "./contents.ts";
import { bullets, figure, figureList, type Html, html, numeric, table } from "./html.ts";
import { progressBody } from "./progress-section.ts";
import { classesByRank, riskClasses } from "./risk-classes.ts";
import { treatmentTable, unpricedSaid } from "./treatment-table.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";
import { workedOn } from "./worked-on.ts";

export function reportSections(contents: ReportContents): readonly ReportSection[] {
  const progress = progressBody(contents);
  return [
    { key: "money", heading: "What the money buys", body: moneyBody(contents) },
    ...(progress === null ? [] : [{ key: "progress", heading: "What has been done so far", body: progress }]),
    {
      key: "certainty",
      heading: "How sure cost and dates are",
      body: certaintyBody(contents, "plan"),
    },
    { key: "districts", heading: "District by district", body: districtBody(contents) },
    { key: "map", heading: "Map of the laterals", body: mapBody(contents) },
    { key: "risk", heading: "Where the risk is", body: riskBody(contents) },
    { key: "plan", heading: "What the plan does, and the years after", body: planBody(contents) },
    { key: "cautions", heading: "Cautions", body: cautionBody(contents) },
    { key: "gaps", heading: "What is not known", body: gapBody(contents) },
    { key: "basis", heading: "Basis and sources", body: basisBody(contents) },
  ];
}

/** The figures everybody asks for first. */
export function keyFigures({ program }: ReportContents): Html {
  const { totals, basis } = program;
  const { currency } = basis.program;
  const all = totals.program;
  const { laterals } = program;
  let unseen = 0;
  for (let row = 0; row < laterals.rows; row++)
    if (textAt(laterals, "condition_state", row) === "not inspected") unseen++;
  return figureList([
    [showCount(all.laterals), "laterals in the program"],
    [showCount(unseen), "of them never inspected"],
    [showCount(workedOn(all)), "to be worked on"],
    [showCount(all.byTreatment["inspect first"]), "to be inspected first"],
    [
      `${wholeMoney(all.cost, currency)}${markIf(all.unpriced)}`,
      all.unpriced === 0
        ? "estimated cost of the work"
        : `estimated cost of the work, without ${showCount(all.unpriced)} that have no price`,
    ],
    [showCrewDays(all.crewMinutes, basis.steps.shiftMinutes), "crew-days"],
  ]);
}

function planBody({ program, picture }: ReportContents): Html {
  const { byTreatment } = program.totals.program;
  const { doNothing, asPlanned, notGraded } = picture.forecast;
  const used = treatmentKinds
    .filter((kind) => byTreatment[kind] > 0)
    .map((kind) => ({ name: capital(kind), value: byTreatment[kind] }));
  return html`<p>Every lateral was ranked by how likely it is to fail and what a failure would do, and given the treatment
that fits its condition. Where a lateral has not been seen well enough to decide, it is inspected first.</p>
${figure(barsChart(used, "laterals", "laterals by treatment", showCount), "Number of laterals by planned treatment.", "treatments")}
<p>What that does to the backlog of poor pipes is shown for the whole city: a forecast for totals, no better than chance for
any one pipe. ${showCount(notGraded)} lateral(s) without a grade were spread over the grades by their like.</p>
${figure(backlogChart(doNothing.years, asPlanned.years), "Expected number of laterals of grade 4 or 5, left alone and with this plan done in the first year and nothing after it.", "backlog")}
${doNothing.verdict.kind === "usable" ? html`` : html`<p><strong>The wear assumed takes ${Math.round(doNothing.verdict.yearsToWorst)} years from best to worst: it is of no use for planning.</strong></p>`}`;
}

function riskBody({ picture, program }: ReportContents): Html {
  const { matrix, money } = picture;
  const { currency } = program.basis.program;
  const lost =
    program.basis.failureCosts === null
      ? html`<p>What failures cost is not known in ${currency}: no expected loss is stated.</p>`
      : html`<p>${lossSaid(money, currency)}</p>`;
  return html`<p>Likelihood and consequence run from 1 to 5; 5 is worst. The number in a field is how many laterals lie
there. Risk orders laterals; it is no measure of danger by itself.</p>
${figure(matrixChart(matrix.counts), "Laterals by likelihood and consequence of failure.", "matrix")}
${table(
  "The same in figures; C is consequence",
  [{ text: "Likelihood" }, ...numeric(...matrix.counts.map((_, i) => `C ${i + 1}`))],
  matrix.counts.map((row, i) => [String(i + 1), ...row.map(showCount)]).toReversed(),
)}
${matrix.unplaced > 0 ? html`<p>${showCount(matrix.unplaced)} lateral(s) have no likelihood or no consequence from 1 to 5 and are not in it.</p>` : html``}${lost}`;
}

function mapBody({ program, places }: ReportContents): Html {
  if ("none" in places) return html`<p>No map: ${places.none}</p>`;
  const classes = classesByRank(program.order);
  const marks = places.flatMap((place, row) =>
    place === null ? [] : [{ longitude: place[0], latitude: place[1], of: classes[row]! }],
  );
  const without = places.length - marks.length;
  const map = lateralMap(
    marks,
    riskClasses,
    program.basis.program.units,
    "laterals by place in the ranking of risk",
  );
  return html`${figure(map, "Each mark is a lateral (marks that would lie on one another are drawn once). Shapes and colours are parts of the ranking, not levels of danger.", "map")}
${without > 0 ? html`<p>${showCount(without)} lateral(s) have no usable coordinates and are not on the map.</p>` : html``}`;
}

function districtBody({ program }: ReportContents): Html {
  const { basis, totals } = program;
  const { currency } = basis.program;
  const crewDays = crewDayColumn(
    totals.districts.map(({ crewMinutes }) => crewMinutes),
    basis.steps.shiftMinutes,
  );
  const row = (name: string, of: (typeof totals)["program"], i: number) => [
    name,
    showCount(of.laterals),
    showCount(workedOn(of)),
    showCount(of.byTreatment["inspect first"]),
    crewDays[i]!,
    `${showCount(Math.round(of.cost / 100))}${markIf(of.unpriced)}`,
  ];
  const costs = totals.districts.map((of) => ({
    name: `${districtName(of.district)}${markIf(of.unpriced)}`,
    value: Math.round(of.cost / 100),
  }));
  return html`${figure(barsChart(costs, currency, "estimated cost by district", showCount), "Estimated cost of the work by district.", "costs")}
${table(
  "Districts",
  [
    { text: "District" },
    ...numeric("Laterals", "To be worked on", "Inspect first", "Crew-days", `Cost (${currency})`),
  ],
  totals.districts.map((of, i) => row(districtName(of.district), of, i)),
  row("Program", totals.program, totals.districts.length),
)}
<p class="small">Prices: ${basis.priceSource}. Lump sums such as mobilization are not in the districts' costs.${unpricedSaid(totals.program.unpriced)} Crew-days rest on step times, one crew, one lateral after another.</p>`;
}

/** The front page: each treatment with its laterals and its money, and what all of it does. */
function moneyBody(contents: ReportContents): Html {
  const { program, picture } = contents;
  const brief = inBriefSaid(contents);
  const said = [...effectsOf(picture, program), ...(brief === null ? [] : [brief])];
  return html`${bullets(said)}
${treatmentTable(program, "Treatments of this plan, the dearest first")}`;
}

/** How far the front page looks ahead. */
const YEARS_AHEAD = 10;

/** What the work does, each in a sentence with its figure. */
function effectsOf({ forecast, water, money }: RiskPicture, { basis }: PlannedProgram): readonly string[] {
  const { currency } = basis.program;
  const kept = water.removed.reduce((sum, { removed }) => sum + removed.best, 0);
  const poorIn = (years: typeof forecast.doNothing.years): number | null => {
    const then = years.find(({ year }) => year === YEARS_AHEAD)?.expected;
    return then === undefined ? null : then[4]! + then[5]!;
  };
  const [left, planned] = [poorIn(forecast.doNothing.years), poorIn(forecast.asPlanned.years)];
  return [
    ...(left === null || planned === null || forecast.doNothing.verdict.kind !== "usable"
      ? []
      : [
          `In ${YEARS_AHEAD} years about ${showCount(Math.round(planned))} laterals are expected to be in poor condition (grade 4 or 5) with this plan, and ${showCount(Math.round(left))} if nothing is done.`,
        ]),
    basis.failureCosts === null
      ? `What failures cost is not known in ${currency}: no loss is stated.`
      : lossSaid(money, currency),
    ...(kept > 0
      ? [
          `About ${showQuantity(kept, "flow", basis.program)} of groundwater is kept out of the sewer in the wet season.`,
          ...againstInfiltration(water.worth, basis),
        ]
      : ["No groundwater is counted as kept out."]),
  ];
}

/** What is left undone is what costs: work that is done counts as what it leaves. */
const lossSaid = ({ annualLoss, done, without }: RiskPicture["money"], currency: string): string =>
  `${lossWith({ annualLoss, done }, currency)} in the coming year${
    without === 0 ? "" : ` (${showCount(without)} lateral(s) not counted: their loss is not known)`
  }.`;

const lossWith = (
  { annualLoss, done }: Pick<RiskPicture["money"], "annualLoss" | "done">,
  currency: string,
): string =>
  done.laterals === 0
    ? `If nothing is done, failures are expected to cost about ${wholeMoney(annualLoss, currency)}`
    : `With ${showCount(done.laterals)} lateral(s) done, which spares about ${wholeMoney(done.annualLoss, currency)} a year, and nothing more, failures are expected to cost about ${wholeMoney(annualLoss, currency)}`;

/** Cost, saving and verdict together: what is kept out at a price, alone, reads as a gain. */
const againstInfiltration = (
  worth: RiskPicture["water"]["worth"],
  { life, program: { currency } }: PlannedProgram["basis"],
): readonly string[] =>
  worth === null
    ? []
    : [
        `Kept up for ${life.horizonYears} years, the work that does so comes to ${wholeMoney(worth.programPerYear, currency)} a year; to transport and treat that water would cost ${wholeMoney(worth.savedPerYear, currency)} a year. Against infiltration alone it is ${worth.verdict}; what else the work is for is not in that.`,
      ];

import { cohortCautions } from "../cohort/cautions.ts";
import type { Cohort } from "../cohort/cohort-lives.ts";
import { gradeBars } from "../pictures/grade-bars.ts";
import { inBand } from "../plan/explain-failure.ts";
import { SETTINGS_FILE } from "../program/program-files.ts";
import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { showPercent } from "../quantity/percent.ts";
import { grouped, showCount, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { showFlowSums } from "../quantity/summed-flow.ts";
import type { FailureCostTable } from "../reference/failure-costs.ts";
import { isEmptyRecipe } from "../reference/recipe.ts";
import { describeSource } from "../reference/source.ts";
import type { CityForecast } from "../season/city-forecast.ts";
import type { ClearWater } from "../season/clear-water.ts";
import { backlogOf, type Forecast } from "../season/forecast.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { RiskMatrix } from "../season/risk-matrix.ts";
import { pictureRisk, type RiskPicture } from "../season/risk-picture.ts";
import { type SelectionStability, selectionStability } from "../season/selection-stability.ts";
import type { ScreenedSewershed } from "../season/sewershed-screening.ts";
import { textAt } from "../sheet/table.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, loadOrSay } from "./load-program.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** `wyeplan risk FOLDER [--json]`: where the risk is, what it costs, how it grows, and how sure the order is. */
export async function riskOf(
  folder: string,
  options: { readonly json?: boolean },
  io: CommandIo,
): Promise<ExitCode> {
  const program = await loadOrSay(folder, io);
  if (program === null) return EXIT.notDone;
  const picture = pictureRisk(program);
  const stability = selectionStability(program);
  io.out(
    options.json === true
      ? `${JSON.stringify(riskAsJson(program, picture, stability), null, 2)}\n`
      : `${riskText(program, picture, stability, io.columns ?? 100)}\n`,
  );
  return exitCodeOf(program);
}

function riskText(
  program: PlannedProgram,
  picture: RiskPicture,
  stability: SelectionStability,
  columns: number,
): string {
  const { name, asOf } = program.basis.program;
  const parts = [
    `${name}, as of ${isoDate(asOf)}`,
    matrixText(picture.matrix),
    moneyText(program, picture),
    forecastText(picture.forecast, Math.max(20, Math.min(72, columns - 10))),
    stabilityText(program, stability),
    fitsText(program),
    waterText(program, picture.water),
    ...(picture.screening.length === 0 ? [] : [screeningText(picture.screening)]),
    ["How the picture bends", ...cohortCautions.map(({ code, says }) => `  ${code}: ${says}`)].join("\n"),
  ];
  return parts
    .join("\n\n")
    .split("\n")
    .map((line) =>
      isProse(line) ? wrapped(line.trimStart(), line.startsWith(" ") ? "  " : "", "    ", columns) : line,
    )
    .join("\n");
}

/** A line of words, which may be broken: rows of tables hold runs of spaces or rules, and bars hold no word. */
const isProse = (line: string): boolean => !/\S {2,}\S|─|\d{20}/.test(line);

const percent = (share: number): string => showPercent(share, 1);

function matrixText({ counts, unplaced }: RiskMatrix): string {
  const table = plainTable(
    [left("Likelihood"), ...[1, 2, 3, 4, 5].map((level) => right(`consequence ${level}`))],
    [5, 4, 3, 2, 1].map((level) => [String(level), ...counts[level - 1]!.map(showCount)]),
  );
  return `Laterals by likelihood and consequence (scores: they order, they are not probabilities)\n${table}${unplaced > 0 ? `\n${showCount(unplaced)} without a place: no likelihood or no consequence from 1 to 5` : ""}`;
}

function moneyText({ basis, laterals }: PlannedProgram, { money }: RiskPicture): string {
  if (basis.failureCosts === null)
    return `Money at risk: not computed. The table of failure costs is in another currency than the program. Give them in ${basis.program.currency} under criteria.failure_costs of program.json.`;
  const shown = (cents: number) => showQuantity(cents, "money", basis.program);
  const { horizonYears, discountRate } = basis.life;
  return [
    `Money at risk (${whoseCosts(basis.failureCosts)}; see wyeplan why for one lateral's)`,
    `  expected loss ${shown(money.annualLoss)} a year over ${showCount(laterals.rows - money.without)} laterals`,
    ...(money.done.laterals === 0
      ? []
      : [
          `  ${showCount(money.done.laterals)} of them done: after their work, which spares ${shown(money.done.annualLoss)} a year; scores, grades and infiltration here are those before it`,
        ]),
    `  left as they are for ${horizonYears} years at ${percent(discountRate)}: ${shown(money.presentLoss)} of today, structural failure once, the others every year`,
  ].join("\n");
}

/** Where the failure costs are from: the table's assumptions, program.json, or some of both. */
function whoseCosts(costs: FailureCostTable): string {
  const { digUp, backupClaim, spill, clearing, backsUp, spills, treatment } = costs;
  const groups = [digUp, backupClaim, spill, clearing, backsUp, spills, treatment];
  const own = groups.filter(({ source }) => source.document === SETTINGS_FILE).length;
  if (own === 0) return "failure costs are assumptions of the table";
  return own === groups.length
    ? `failure costs of ${SETTINGS_FILE}`
    : `failure costs of ${SETTINGS_FILE} and, for the rest, assumptions of the table`;
}

function forecastText(
  { doNothing, asPlanned, renewed, counted, notGraded }: CityForecast,
  width: number,
): string {
  const { verdict } = doNothing;
  const years = Math.round(verdict.yearsToWorst);
  const warning =
    verdict.kind === "usable"
      ? `The chain takes ${years} years from grade 1 to 5 on average.`
      : `WARNING: the chain takes ${years} years from grade 1 to 5 on average, more than ${verdict.limit}: it is of no use for planning.`;
  const backlog = ({ years: list }: Forecast) => {
    const first = list[0]!;
    const last = list.at(-1)!;
    return `grade 4 or 5: ${showCount(backlogOf(first, 4))} today, ${showCount(backlogOf(last, 4))} expected in year ${last.year}`;
  };
  return [
    "Expected grades over 20 years (a cell is a share of all laterals, its digit the grade)",
    `Left alone: ${backlog(doNothing)}`,
    ...gradeBars(doNothing.years, width),
    `As planned, ${showCount(renewed)} treated in year 1 that count as ${grouped(counted, 1)} renewed: ${backlog(asPlanned)}`,
    ...gradeBars(asPlanned.years, width),
    "A section counts as a share of the pipes it is put into, an assumption of the table of renewal.",
    `${warning} ${showCount(notGraded)} lateral(s) without a grade are spread over the grades by their cohort.`,
    "For totals only: published evidence says that such a chain is no better than chance for a single pipe.",
  ].join("\n");
}

function stabilityText({ laterals, order, basis }: PlannedProgram, stability: SelectionStability): string {
  const { cut, draws, stays, overlap, selected } = stability;
  if (cut === 0 || overlap === null) return "How sure the order is: the plan works on no lateral.";
  const share = (row: number) => stays[row]!;
  const { surveyed, notSurveyed, assumedPoints, weights, source } = basis.rankSpreads;
  const chosen = [...order].filter((row) => selected[row] === 1);
  const sure = chosen.filter((row) => share(row) >= 0.9).length;
  const shaky = chosen.filter((row) => share(row) < 0.5);
  const nearlyIn = [...order].filter((row) => selected[row] === 0 && share(row) >= 0.5);
  const names = (rows: readonly number[]) =>
    rows
      .slice(0, 8)
      .map((row) => `${textAt(laterals, "lateral", row)} (${percent(share(row))})`)
      .join(", ");
  return [
    `How sure the order is (${showCount(draws)} possible worlds, seed ${stability.seed})`,
    `  The first ${cut} of the ranking, as many as the plan has paid work for (not a season's choice, which is by money): ${percent(overlap)} of them are above that cut again on average.`,
    `  ${showCount(sure)} stay in nine worlds of ten or more; ${showCount(shaky.length)} in fewer than half${shaky.length > 0 ? `: ${names(shaky)}` : ""}.`,
    `  ${showCount(nearlyIn.length)} outside would come in in half or more${nearlyIn.length > 0 ? `: ${names(nearlyIn)}` : ""}.`,
    `  Drawn: likelihood ± ${surveyed} surveyed, ± ${notSurveyed} not; assumed building or surface ± ${assumedPoints}; weights ± ${percent(weights)}. ${describeSource(source)}`,
    ...(isEmptyRecipe(basis.recipe)
      ? []
      : [
          "  The program's own recipe moves in proportion to the usual score, which is the one that is drawn.",
        ]),
  ].join("\n");
}

function fitsText({ basis }: PlannedProgram): string {
  const { lives, blockages } = basis.fits;
  const { assumedLife } = basis.deterioration;
  const name = ({ by, material, era }: Omit<Cohort, "fit">) =>
    by === "all" ? "all laterals" : [material === "" ? "material unknown" : material, era].join(" ").trim();
  const rows = lives.cohorts.map((cohort) => {
    const { fit } = cohort;
    const head = [name(cohort), showCount(fit.inspected), showCount(fit.bad)];
    return fit.kind === "fitted"
      ? [...head, inBand(fit.scale, (x) => x.toFixed(0)), inBand(fit.shape, (x) => x.toFixed(2))]
      : [...head, fit.because, ""];
  });
  const factors = blockages.flatMap(({ material, fit }) =>
    fit.kind === "prior"
      ? [
          `  ${material === "" ? "all laterals" : material}: ${fit.prior.factor.toFixed(2)} times the table's rates, from ${showCount(fit.events)} blockages of ${showCount(fit.laterals)} laterals where it expects ${grouped(fit.expected, 2)}`,
        ]
      : [],
  );
  return [
    `Lives fitted to the city's own surveys: age by which a lateral is found in grade ${basis.failureModes.reading.poorFrom} or worse`,
    plainTable(
      [left("Cohort"), right("Surveys"), right("Bad"), left("Scale, years (95 %)"), left("Shape (95 %)")],
      rows,
    ),
    ...(lives.cohorts.some(({ fit }) => fit.kind === "not fitted" && fit.because === "too few bad")
      ? [
          "A cohort with too few bad takes the next wider cohort's life, which may be too short for it: none bad has no likeliest curve.",
        ]
      : []),
    `Where none could be fitted: scale ${assumedLife.scale}, shape ${assumedLife.shape}. ${describeSource(assumedLife.source)}`,
    `Blockages beside the table's rates${factors.length === 0 ? ": too few in the record; the table's assumed rates stand" : ""}`,
    ...factors,
  ].join("\n");
}

function waterText({ basis }: PlannedProgram, { before, removed, worth }: ClearWater): string {
  const flow = (value: number) => showQuantity(value, "flow", basis.program);
  const { infiltration } = basis.failureModes;
  const money = (cents: number) => showQuantity(Math.round(cents), "money", basis.program);
  const ofDistricts = before.map(({ flow: all }) => all);
  const flows = showFlowSums(
    ofDistricts,
    ofDistricts.reduce((sum, each) => sum + each, 0),
    basis.program,
  );
  const unit = unitLabel("flow", basis.program);
  const rows = before.map(({ district, unsized, treatment }, i) => {
    const kept = removed.find(({ sewershed }) => sewershed === district);
    return [
      districtName(district),
      `${flows[i]} ${unit}`,
      showCount(unsized),
      treatment === null ? "not known" : money(treatment),
      kept === undefined ? "" : showCount(kept.laterals),
      kept === undefined ? "" : inBand(kept.removed, flow),
    ];
  });
  const judged = before.flatMap(({ district, worth: own }) =>
    own === null
      ? []
      : [
          [
            districtName(district),
            money(own.programPerYear),
            money(own.savedPerYear),
            money(own.breakEven),
            own.verdict,
          ],
        ],
  );
  return [
    "Infiltration by district, mean of the season of high groundwater (assumed unit rate; never a peak)",
    plainTable(
      [
        left("District"),
        right("All laterals"),
        right("Unknown size"),
        right("To treat, a year"),
        right("Sealed"),
        left("Kept out, after migration"),
      ],
      rows,
    ),
    `Rate: ${describeSource(infiltration.unitRate.source)}`,
    `Migration: ${describeSource(infiltration.migration.source)}`,
    ...(worth === null
      ? ["Whether it pays is not known: a price or the failure costs in this currency are missing."]
      : [
          "",
          `As a measure against infiltration alone, with what else it is for left out; work with its renewals over ${basis.life.horizonYears} years at ${percent(basis.life.discountRate)}`,
          plainTable(
            [
              left("District"),
              right("Work, a year"),
              right("Saved, a year"),
              right("Pays up to, in all"),
              left("Verdict"),
            ],
            [
              ...judged,
              null,
              [
                "Program",
                money(worth.programPerYear),
                money(worth.savedPerYear),
                money(worth.breakEven),
                worth.verdict,
              ],
            ],
          ),
          "Rule: 40 CFR 35.2005(b)(16) and (28): excessive is what is cheaper to remove than to transport and treat.",
        ]),
  ].join("\n");
}

/** A limit of a whole sewershed; no form of it judges a lateral. */
function screeningText(screening: readonly ScreenedSewershed[]): string {
  const shown = (found: ScreenedSewershed["inflow"]) =>
    found === null ? ["not given", ""] : [found.gpcd.toFixed(1), found.says];
  const table = (heading: string, of: (screened: ScreenedSewershed) => ScreenedSewershed["inflow"]) =>
    plainTable(
      [left("Sewershed"), right("People"), right(heading), left("Screening")],
      screening.map((each) => [each.district, showCount(each.population), ...shown(of(each))]),
    );
  return [
    "Flow per person against the published screening limits, gallons per person and day (whole sewersheds; never one lateral)",
    table("High groundwater", ({ infiltration }) => infiltration),
    "",
    table("Storm", ({ inflow }) => inflow),
    "Limits: 40 CFR 35.2120: 120 in high groundwater, a mean of 7 to 14 days without large industry; 275 in a storm.",
    ...screening
      .filter(({ laterals }) => laterals === 0)
      .map(
        ({ district }) =>
          `No lateral is in the district ${JSON.stringify(district)} of criteria.sewersheds: correct the name there if it should be one of the list.`,
      ),
    ...new Set(screening.map(({ source }) => `Flows: ${source.note ?? source.document}`)),
  ].join("\n");
}

/** SI, money in cents, chances as fractions. */
function riskAsJson(program: PlannedProgram, picture: RiskPicture, stability: SelectionStability): unknown {
  const { laterals, basis } = program;
  const { selected, stays, standardError, ...summary } = stability;
  return {
    program: { name: basis.program.name, as_of: isoDate(basis.program.asOf) },
    ...picture,
    lives: basis.fits.lives,
    blockages: basis.fits.blockages,
    cautions: cohortCautions,
    stability: {
      rule: `above the cut of the ranking: its first ${summary.cut}, as many as the plan has paid work for; not a season's choice`,
      ...summary,
      laterals: Array.from(program.order, (row) => ({
        lateral: textAt(laterals, "lateral", row),
        selected: selected[row] === 1,
        stays_selected: stays[row],
        standard_error: standardError[row],
      })),
    },
  };
}

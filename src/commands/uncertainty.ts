import { rangeBar, shareBar } from "../pictures/range-bar.ts";
import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { showPercent } from "../quantity/percent.ts";
import { grouped, showCount, showQuantity } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import { describeSource } from "../reference/source.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { calendarFinish } from "../season/uncertainty/calendar-finish.ts";
import {
  type Driver,
  type Outcome,
  type SeasonUncertainty,
  seasonUncertainty,
  type UncertainDistrict,
} from "../season/uncertainty/season-uncertainty.ts";
import { lumpSumsBeside } from "../workbook/uncertainty-sheet.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, loadOrSay } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** `wyeplan uncertainty FOLDER [--draws N] [--season NAME] [--json]`: how sure cost and finish are, what drives them, and what contingency that asks for. */
export async function uncertaintyOf(
  folder: string,
  options: { readonly json?: boolean; readonly draws?: string; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const draws = options.draws === undefined ? undefined : Number(options.draws);
  if (draws !== undefined && !(Number.isInteger(draws) && draws >= 100 && draws <= 100_000)) {
    io.err(`--draws ${options.draws}: expected a whole number from 100 to 100000.\n`);
    return EXIT.notDone;
  }
  const program =
    options.season === undefined
      ? await loadOrSay(folder, io)
      : ((await loadSeasonOrSay(folder, options.season, io))?.program ?? null);
  if (program === null) return EXIT.notDone;
  const found = seasonUncertainty(program, draws === undefined ? {} : { draws }, calendarFinish(program));
  io.out(
    options.json === true
      ? `${JSON.stringify(uncertaintyAsJson(program, found), null, 2)}\n`
      : `${uncertaintyText(program, found, io.columns ?? 80)}\n`,
  );
  return exitCodeOf(program);
}

export function uncertaintyText(
  { basis }: PlannedProgram,
  found: SeasonUncertainty,
  columns: number,
): string {
  const { program: head, uncertainty: table } = basis;
  const prose = (lines: readonly string[]) =>
    lines.map((line) => wrapped(line, "", "  ", columns)).join("\n");
  const lumpSums = lumpSumsBeside(found, basis);
  return [
    `${head.name}, as of ${isoDate(head.asOf)}`,
    prose([
      `${found.draws} possible seasons, ${found.shape} distributions, seed ${found.seed}. P10: one season in ten comes to no more, or is done by then; P80: four of five. What is done counts as it was.`,
      plannedLine(found, head),
    ]),
    `${basis.budgetPays === "city share" ? "City's share of cost" : "Cost"}, whole ${head.currency}\n${costTable(found, columns)}`,
    `Range of the cost over the plan's: ─ P10 to P90, █ P50 to P80, │ planned\n${ranges(found, columns)}`,
    timeTable(found, columns),
    driversText("What moves the cost (rank correlation)", found.drivers.cost, columns),
    driversText(
      found.program.finish === null
        ? "What moves the crew time (rank correlation)"
        : "What moves the finish (rank correlation)",
      found.drivers.time,
      columns,
    ),
    prose([
      contingencyLine(found, basis),
      ...(lumpSums === null ? [] : [lumpSums]),
      classLine(basis),
      `Through ${found.otherShape.shape} distributions of the same three points the mean cost is ${showQuantity(found.otherShape.mean, "money", head)} and P80 ${showQuantity(found.otherShape.p80, "money", head)}: the choice moves the answer.`,
      `${grouped(found.meanChanged, 1)} lateral(s) a season turn out on opening to need another treatment.`,
      ...found.notes,
      `Prices: ${basis.priceSource}`,
      `Spreads: ${describeSource(table.time.source)} All spreads are on the Basis sheet and change in program.json under criteria.uncertainty.`,
    ]),
  ].join("\n\n");
}

const whole = (cents: number): string => showCount(cents / 100);

function costTable({ districts, program }: SeasonUncertainty, columns: number): string {
  const row = (name: string, { cost }: UncertainDistrict) => [
    name,
    ...[cost.planned, cost.p10, cost.p50, cost.p80, cost.p90].map(whole),
  ];
  return plainTable(
    [left("District"), right("Planned"), right("P10"), right("P50"), right("P80"), right("P90")],
    [...districts.map((own) => row(districtName(own.district), own)), null, row("Program", program)],
    columns,
  );
}

/** Cost over planned cost, on one scale for all. */
function ranges({ districts, program }: SeasonUncertainty, columns: number): string {
  const priced = [...districts.map((own) => [districtName(own.district), own.cost] as const)].filter(
    ([, cost]) => cost.planned > 0,
  );
  if (program.cost.planned === 0) return "No cost is planned.";
  const rows = [...priced, ["Program", program.cost] as const];
  const over = ({ planned, p10, p50, p80, p90 }: Outcome) => ({
    planned: 1,
    p10: p10 / planned,
    p50: p50 / planned,
    p80: p80 / planned,
    p90: p90 / planned,
  });
  const shares = rows.map(([, cost]) => over(cost));
  const STEP = 10;
  const from = Math.floor(Math.min(1, ...shares.map(({ p10 }) => p10)) * STEP) / STEP;
  const to = Math.ceil(Math.max(1, ...shares.map(({ p90 }) => p90)) * STEP) / STEP;
  const width = Math.max(...rows.map(([name]) => name.length));
  const letters = Math.max(10, Math.min(60, columns - width - 2));
  const percent = (share: number) => showPercent(share, 0);
  const ends = `${percent(from)}${percent(to).padStart(letters - percent(from).length)}`;
  return [
    `${" ".repeat(width)}  ${ends}`,
    ...rows.map(([name], i) => `${name.padEnd(width)}  ${rangeBar(shares[i]!, { from, to }, letters)}`),
  ].join("\n");
}

const onDay = (day: Day | null): string => (day === null ? "after season" : isoDate(day));

function timeTable({ districts, program }: SeasonUncertainty, columns: number): string {
  if (program.finish === null) {
    const row = (name: string, { crewDays }: UncertainDistrict) => [
      name,
      ...[crewDays.planned, crewDays.p10, crewDays.p50, crewDays.p80, crewDays.p90].map((days) =>
        grouped(days, 1),
      ),
    ];
    const table = plainTable(
      [left("District"), right("Planned"), right("P10"), right("P50"), right("P80"), right("P90")],
      [...districts.map((own) => row(districtName(own.district), own)), null, row("Program", program)],
      columns,
    );
    return `Crew-days (no dates: program.json has no calendar, or nothing may be scheduled)\n${table}`;
  }
  const row = (name: string, { finish }: UncertainDistrict) =>
    finish === null
      ? [name, "", "", "", "", ""]
      : [
          name,
          onDay(finish.p10),
          onDay(finish.p50),
          onDay(finish.p80),
          onDay(finish.p90),
          showPercent(finish.inSeason, 0),
        ];
  const table = plainTable(
    [left("District"), right("P10"), right("P50"), right("P80"), right("P90"), right("In season")],
    [...districts.map((own) => row(districtName(own.district), own)), null, row("Program", program)],
    columns,
  );
  return `Finish of the laterals that may be scheduled\n${table}`;
}

/** Which percentile the plan itself is: work surprises upwards, so nearly always a low one. */
function plannedLine({ program }: SeasonUncertainty, head: PlannedProgram["basis"]["program"]): string {
  const { cost, crewDays, finish } = program;
  const holds = (share: number) => `${Math.round(share * 100)} seasons of 100`;
  const planned = [
    `the planned cost of ${showQuantity(cost.planned, "money", head)} holds in ${holds(cost.plannedHolds)}`,
    `the planned ${grouped(crewDays.planned, 1)} crew-days in ${holds(crewDays.plannedHolds)}`,
    ...(finish === null || finish.planned === null
      ? []
      : [`the planned finish, ${isoDate(finish.planned)}, in ${holds(finish.plannedHolds)}`]),
  ];
  return `The plan among them: ${planned.join("; ")}.`;
}

function driversText(title: string, drivers: readonly Driver[], columns: number): string {
  const width = Math.max(0, ...drivers.map(({ words }) => words.length));
  const bar = Math.max(4, columns - width - INDENT_AND_NUMBER);
  return [
    title,
    ...(drivers.length === 0 ? ["  Nothing that is told from chance."] : []),
    ...drivers.map(({ words, rho }) =>
      `  ${words.padEnd(width)} ${rho.toFixed(2).padStart(5)} ${shareBar(Math.abs(rho), bar)}`.trimEnd(),
    ),
  ].join("\n");
}

const INDENT_AND_NUMBER = 9;

function contingencyLine(
  { contingency, program: { cost } }: SeasonUncertainty,
  { uncertainty: { contingencyLevel }, program }: PlannedProgram["basis"],
): string {
  const share = cost.planned === 0 ? "" : ` (${showPercent(contingency / cost.planned, 1)})`;
  return `Contingency: ${showQuantity(contingency, "money", program)}${share} over the planned cost holds in ${Math.round(contingencyLevel * 100)} seasons of 100.`;
}

function classLine({ uncertainty: table }: PlannedProgram["basis"]): string {
  const { estimateClass, estimateClassSource, classAccuracy, classAccuracySource } = table;
  const accuracy = classAccuracy.find((each) => each.class === estimateClass);
  const signed = (share: number) => `${share > 0 ? "+" : "−"}${Math.abs(share * 100)} %`;
  const range =
    accuracy === undefined ? "" : `, ${signed(accuracy.low)} to ${signed(accuracy.high)} at its widest`;
  return `Estimate class ${estimateClass}${range} (${describeSource(classAccuracySource)}). ${describeSource(estimateClassSource)}`;
}

/** Money in cents, not rounded; days as 2026-03-01, null after the season. */
export function uncertaintyAsJson({ basis }: PlannedProgram, found: SeasonUncertainty) {
  const iso = (day: Day | null) => (day === null ? null : isoDate(day));
  const asJson = ({ district, cost, crewDays, finish }: UncertainDistrict) => ({
    district,
    cost_cents: outcomeAsJson(cost),
    crew_days: outcomeAsJson(crewDays),
    finish:
      finish === null
        ? null
        : {
            planned: iso(finish.planned),
            planned_holds: finish.plannedHolds,
            p10: iso(finish.p10),
            p50: iso(finish.p50),
            p80: iso(finish.p80),
            p90: iso(finish.p90),
            in_season: finish.inSeason,
          },
  });
  const { district: _, ...program } = asJson(found.program);
  return {
    budget_pays: basis.budgetPays,
    shape: found.shape,
    draws: found.draws,
    seed: found.seed,
    districts: found.districts.map(asJson),
    program,
    drivers_of_cost: found.drivers.cost,
    drivers_of_time: found.drivers.time,
    contingency_cents: found.contingency,
    lump_sums_cents: found.lumpSums.cents,
    contingency_level: basis.uncertainty.contingencyLevel,
    estimate_class: basis.uncertainty.estimateClass,
    other_shape: found.otherShape,
    mean_laterals_changed: found.meanChanged,
    not_drawn: found.left,
  };
}

const outcomeAsJson = ({ plannedHolds, ...outcome }: Outcome) => ({
  ...outcome,
  planned_holds: plannedHolds,
});

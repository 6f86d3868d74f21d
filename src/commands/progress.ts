import { workStatuses } from "../columns/plan-columns.ts";
import { seasonOf } from "../program/season-settings.ts";
import { priceInCents } from "../program/unit-prices.ts";
import { isoDate } from "../quantity/calendar.ts";
import { crewDayColumn, crewDayHundredths, crewDayParts } from "../quantity/crew-days.ts";
import { districtName } from "../quantity/district-name.ts";
import { firstOf } from "../quantity/first-of.ts";
import { readNumber } from "../quantity/quantity-text.ts";
import { showCount, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import { type MoneySoFar, moneySoFar, type Openings, type SeasonMoney } from "../season/budget-counts.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type HeldRow, heldBackIn, heldRows, type Progress, trackProgress } from "../season/tracking.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, loadWholeOrSay } from "./load-program.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** `wyeplan progress FOLDER [--budget AMOUNT] [--json]`: how far the season has come, by district; the budget is that of program.json unless one is given. */
export async function progressOf(
  folder: string,
  options: { readonly json?: boolean; readonly budget?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const budget = options.budget === undefined ? null : readBudget(options.budget);
  if (options.budget !== undefined && budget === null) {
    io.err(
      `--budget ${options.budget}: expected an amount in the program's currency, such as 1500000 or 1500000.50.\n`,
    );
    return EXIT.notDone;
  }
  const loaded = await loadWholeOrSay(folder, io);
  if (loaded === null) return EXIT.notDone;
  const { program, settings } = loaded;
  const season = seasonOf(settings);
  const money = { budget: budget ?? season?.budget ?? null, mobilization: season?.mobilization ?? 0 };
  io.out(
    options.json === true
      ? `${JSON.stringify(progressAsJson(program, money), null, 2)}\n`
      : `${progressText(program, money, io.columns ?? 80)}\n`,
  );
  return exitCodeOf(program);
}

function readBudget(written: string): number | null {
  const number = readNumber(written, ".");
  return number.ok && number.value >= 0 ? priceInCents(number.value) : null;
}

/**
 * What is done, under way and still to do by district, with what is left of the budget.
 *
 * @param columns of the terminal
 */
export function progressText(program: PlannedProgram, season: SeasonMoney, columns: number): string {
  const { basis } = program;
  const tracked = trackProgress(program);
  const { districts, program: all } = tracked;
  const soFar = moneySoFar(program, season, tracked);
  const money = (amount: number) => showNumber(amount, "money", basis.program);
  const { shiftMinutes } = basis.steps;
  const crewDays = crewDayColumn(
    districts.map((of) => of.crewMinutesLeft),
    shiftMinutes,
  );
  const cells = (name: string, of: Progress, i: number) => [
    name,
    showCount(of.byStanding.done),
    showCount(of.byStanding["under way"]),
    showCount(of.byStanding["to do"]),
    showCount(of.byStanding["held back"]),
    showCount(of.byStanding.refused),
    money(of.spent),
    money(of.stillToSpend) + (of.unpriced > 0 ? "*" : ""),
    crewDays[i]!,
  ];
  const table = plainTable(
    [
      left("District"),
      right("Done"),
      right("Under way"),
      right("To do"),
      right("Held back"),
      right("Refused"),
      right(`Spent ${basis.program.currency}`),
      right(`Still planned ${basis.program.currency}`),
      right("Crew-days left"),
    ],
    [
      ...districts.map((of, i) => cells(districtName(of.district), of, i)),
      null,
      cells("Program", all, districts.length),
    ],
    columns,
  );
  const statuses = workStatuses.filter((status) => all.byStatus[status] > 0);
  const shown = (amount: number) => showQuantity(amount, "money", basis.program);
  return [
    `${basis.program.name}, as of ${isoDate(basis.program.asOf)}`,
    table,
    [
      statuses.length === 0
        ? "No lateral has a status yet: wyeplan decide FOLDER ID status accepted --reason …"
        : `By status: ${statuses.map((status) => `${all.byStatus[status]} ${status}`).join(", ")}.`,
      ...(all.installedMillimetres === 0
        ? []
        : [`Installed: ${showQuantity(all.installedMillimetres / 1000, "length", basis.program)}.`]),
      ...(season.budget === null || basis.budgetPays === "whole cost"
        ? []
        : [
            `The budget counts the city's share of cost: ${shown(soFar.spent)} of what is spent, by the share of each lateral's plan, and ${shown(soFar.stillToSpend)} of what is still planned; the whole where that is not divided.`,
          ]),
      ...budgetLines(soFar, shown),
      ...(all.spentAsPlanned > 0
        ? [
            `${shown(all.spentAsPlanned)} of what is spent is the planned cost of laterals done whose installed_cost nobody has entered.`,
          ]
        : []),
      ...(all.unpriced > 0
        ? [`* ${showCount(all.unpriced)} lateral(s) not in it: an item of their work has no unit price.`]
        : []),
      ...heldBackSaid(heldBackIn(program)),
      ...refusedLines(heldRows(program)),
      `Prices: ${basis.priceSource}`,
      "Crew-days from assumed step times, one lateral after another. A lateral that is done is held fixed when the season is planned again; undo takes a status back.",
    ]
      .map((line) => wrapped(line, "", "  ", columns))
      .join("\n"),
  ].join("\n\n");
}

function budgetLines(
  { stillToSpend, opened, toOpen, budget }: MoneySoFar,
  shown: (amount: number) => string,
): readonly string[] {
  if (budget === null)
    return ["Remaining budget: not known; give it with --budget, or as season.budget in program.json."];
  const { whole, left } = budget;
  const short = stillToSpend + toOpen.cost - left;
  const opening = ({ cost, districts }: Openings, where: string) =>
    cost === 0 ? "" : `, with ${shown(cost)} of mobilization in ${showCount(districts)} ${where}`;
  const isGone = opening(opened, "district(s) where work has begun");
  const comes = opening(toOpen, "more district(s)");
  return [
    left < 0
      ? `Remaining budget: overspent by ${shown(-left)} of ${shown(whole)}${isGone}.`
      : `Remaining budget: ${shown(left)} of ${shown(whole)}${isGone}.`,
    short > 0
      ? `The work still planned, of the whole plan and not of a season alone${comes}, costs ${shown(short)} more than that.`
      : `After the work still planned, of the whole plan and not of a season alone${comes}, ${shown(-short)} would be left.`,
  ];
}

const LISTED = 8;

/** What is done or refused: a person's status says so, and holds it fixed. */
const fixedRows = (program: PlannedProgram): readonly HeldRow[] =>
  heldRows(program).filter(({ standing }) => standing !== "held back");

function refusedLines(held: readonly HeldRow[]): readonly string[] {
  const refused = held.filter(({ standing }) => standing === "refused");
  if (refused.length === 0) return [];
  const words = refused.map(({ id, reason }) => `${id} (${reason})`);
  return [`Refused: ${firstOf(words, LISTED, "; ")}.`];
}

/** Money in cents, lengths in millimetres. */
export function progressAsJson(program: PlannedProgram, season: SeasonMoney) {
  const tracked = trackProgress(program);
  const { districts, program: all } = tracked;
  const { spent, stillToSpend, opened, toOpen, budget } = moneySoFar(program, season, tracked);
  const { shiftMinutes } = program.basis.steps;
  const asJson = (of: Progress, hundredths: number) => ({
    laterals: of.laterals,
    done: of.byStanding.done,
    under_way: of.byStanding["under way"],
    to_do: of.byStanding["to do"],
    held_back: of.byStanding["held back"],
    refused: of.byStanding.refused,
    no_work: of.noWork,
    by_status: of.byStatus,
    spent_cents: of.spent,
    spent_as_planned_cents: of.spentAsPlanned,
    still_planned_cents: of.stillToSpend,
    without_price: of.unpriced,
    crew_minutes_left: of.crewMinutesLeft,
    crew_day_hundredths_left: hundredths,
    installed_mm: of.installedMillimetres,
  });
  const parts = crewDayParts(
    districts.map((of) => of.crewMinutesLeft),
    shiftMinutes,
  );
  return {
    budget_cents: season.budget,
    budget_pays: program.basis.budgetPays,
    counted_spent_cents: spent,
    counted_still_planned_cents: stillToSpend,
    mobilization_spent_cents: opened.cost,
    mobilization_still_planned_cents: toOpen.cost,
    remaining_budget_cents: budget?.left ?? null,
    districts: districts.map((of, i) => ({ district: of.district, ...asJson(of, parts[i]!) })),
    program: asJson(all, crewDayHundredths(all.crewMinutesLeft, shiftMinutes)),
    held_back: heldBackIn(program),
    held: fixedRows(program).map(({ id, standing, status, reason, cost, costIsPlanned }) => ({
      lateral: id,
      standing,
      status,
      reason,
      cost_cents: cost,
      cost_is_planned: costIsPlanned,
    })),
  };
}

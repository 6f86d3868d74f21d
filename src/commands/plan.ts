import { treatmentKinds } from "../columns/plan-columns.ts";
import { sizeLabel } from "../plan/bid-lines.ts";
import { BIAS } from "../plan/explain-failure.ts";
import { isoDate } from "../quantity/calendar.ts";
import { crewDayColumn } from "../quantity/crew-days.ts";
import { districtName } from "../quantity/district-name.ts";
import { showCount, showHundredths, showNumber, showParts, showQuantity } from "../quantity/show-quantity.ts";
import { millimetres } from "../quantity/si.ts";
import { listChosen } from "../reference/basis.ts";
import { cautionNamed } from "../reference/cautions.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { selectRows } from "../season/select-rows.ts";
import type { Totals } from "../season/totals.ts";
import { countCrossBores, plannedCautions } from "../workbook/planned-cautions.ts";
import { batchesText } from "./batches-text.ts";
import { breakdownText } from "./breakdown-text.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { withCurrentSeason } from "./current-season.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { filterOrSay } from "./named-filter.ts";
import { columnsFor } from "./occupant-columns.ts";
import { sayOwnWords, withoutFound } from "./occupant-words.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { planAsJson } from "./plan-json.ts";
import type { PlanThread } from "./plan-thread.ts";
import { saveRun } from "./take-run.ts";
import { wrapped } from "./wrapped.ts";

/**
 * `wyeplan plan FOLDER [--json [--with-addresses]] [--filter NAME] [--season NAME] [--save NAME]`: plans the program and prints what it, or
 * a part of it, comes to.
 *
 * @param second the thread beside this one, where one was started for the program
 */
export async function planFolder(
  folder: string,
  options: {
    readonly json?: boolean;
    readonly withAddresses?: boolean;
    readonly filter?: string;
    readonly season?: string;
    readonly save?: string;
  },
  io: CommandIo,
  second?: PlanThread,
): Promise<ExitCode> {
  if (options.season !== undefined && options.save !== undefined) {
    io.err("--save keeps the whole run, --season shows a part of it: ask for one at a time.\n");
    return EXIT.notDone;
  }
  if (options.withAddresses === true && options.json !== true) {
    io.err("--with-addresses is for --json: the page shows totals and no address.\n");
    return EXIT.notDone;
  }
  const { season, save } = options;
  // The page shows totals; a season and a saved run look at what else is offered, and so do the columns of the season.
  const withColumns = options.json === true || options.filter !== undefined;
  const wanted = season !== undefined || save !== undefined || withColumns ? "everything" : "totals";
  const loaded = await loadSeasonOrSay(
    folder,
    season,
    io,
    (whole, settings, named) =>
      withColumns
        ? withCurrentSeason(folder, { program: whole, settings }, options.json === true ? null : io, named)
        : whole,
    { wanted, ...(second === undefined ? {} : { second }) },
  );
  if (loaded === null) return EXIT.notDone;
  const whole = loaded.program;
  const filter = options.filter === undefined ? undefined : filterOrSay(whole, options.filter, io);
  if (filter === null) return EXIT.notDone;
  if (options.save !== undefined && !(await saveRun(folder, options.save, loaded, io))) return EXIT.notDone;
  const program = filter === undefined ? whole : selectRows(whole, filter.met);
  if (filter !== undefined && options.json !== true)
    io.out(
      `Only "${filter.name}" (${filter.text}): ${showCount(filter.count)} of ${showCount(whole.laterals.rows)} laterals\n\n`,
    );
  io.out(
    options.json === true
      ? `${JSON.stringify(planAsJson(toHandOn(program, options.withAddresses === true, io)), null, 2)}\n`
      : `${planText(program, io.columns)}\n`,
  );
  return exitCodeOf(program);
}

/** The program without what may tell of occupants, unless it is asked for; says which. */
function toHandOn(program: PlannedProgram, withAddresses: boolean, io: CommandIo): PlannedProgram {
  const columns = columnsFor(program.columns, withAddresses, io);
  if (program.problems.length > 0) sayOwnWords(withAddresses, io);
  const problems = withAddresses ? program.problems : program.problems.map(withoutFound);
  return { ...program, columns, problems };
}

/**
 * The plan on a page: districts, materials, rows and problems, cautions.
 *
 * @param columns letters a line of the terminal holds; without it lines are as long as they are
 */
export function planText(program: PlannedProgram, columns = Number.POSITIVE_INFINITY): string {
  const { name, asOf } = program.basis.program;
  return [
    `${name}, as of ${isoDate(asOf)}`,
    districtTable(program, columns),
    materialsTable(program),
    ...batchesText(program, columns),
    ...breakdownText(program, columns),
    accounting(program),
    cautions(program, columns),
  ].join("\n\n");
}

function districtTable({ totals, basis, laterals }: PlannedProgram, width: number): string {
  const { currency, units } = basis.program;
  const used = treatmentKinds.filter((kind) => totals.program.byTreatment[kind] > 0);
  const resins = showParts(
    totals.districts.map(({ resinMillilitres }) => resinMillilitres / 1000),
    totals.program.resinMillilitres / 1000,
    "volume",
    basis.program,
  );
  const crewDays = crewDayColumn(
    totals.districts.map(({ crewMinutes }) => crewMinutes),
    basis.steps.shiftMinutes,
  );
  const row = (name: string, of: Totals, resin: string, days: string) => [
    name,
    showCount(of.laterals),
    ...used.map((kind) => showCount(of.byTreatment[kind])),
    showHundredths(sum(of.linerLengthByDiameter)),
    resin,
    days,
    showNumber(of.cost, "money", basis.program) + (of.unpriced > 0 ? "*" : ""),
  ];
  const table = plainTable(
    [
      left("District"),
      right("Laterals"),
      ...used.map((kind) => right(shortName[kind])),
      right(`Liner ${units === "us" ? "ft" : "m"}`),
      right(`Resin ${units === "us" ? "gal" : "L"}`),
      right("Crew-days"),
      right(`Cost ${currency}`),
    ],
    [
      ...totals.districts.map((of, i) => row(districtName(of.district), of, resins[i]!, crewDays[i]!)),
      null,
      row(
        "Program",
        totals.program,
        showNumber(totals.program.resinMillilitres / 1000, "volume", basis.program),
        crewDays.at(-1)!,
      ),
    ],
    width,
  );
  const notes = [
    `Prices: ${basis.priceSource}`,
    "Cost of the laterals' own work; lump sums such as mobilization are in the planning book's estimate.",
    "Crew-days from assumed step times, visit after visit; wyeplan calendar packs them into days.",
    "Liner is that along the pipe; connection liners are counted, in the materials below, not measured.",
    ...ownershipNotes(totals.program, countCrossBores(laterals), basis.program),
    ...(totals.program.unpriced > 0
      ? [`* ${showCount(totals.program.unpriced)} lateral(s) not in the cost: an item has no unit price.`]
      : []),
  ];
  return `${table}\n${notes.join("\n")}`;
}

/** Who pays, and what waits for a signature; nothing where no owner is stated. */
function ownershipNotes(
  of: Totals,
  crossBores: number,
  style: PlannedProgram["basis"]["program"],
): readonly string[] {
  const { may, mayNot, notKnown } = of.schedule;
  if (of.cityCost + of.ownerCost === 0) return [];
  const money = (amount: number) => showQuantity(amount, "money", style) + (of.unpriced > 0 ? "*" : "");
  const unsafe =
    crossBores === 0 ? "" : `, ${showCount(crossBores)} of them only when a cross-bore is made safe`;
  return [
    `City pays ${money(of.cityCost)}, owners ${money(of.ownerCost)}; ${money(of.undivided)} is not divided: owners, lengths or shares not stated.`,
    `${showCount(may)} lateral(s) may be scheduled${unsafe}; ${showCount(mayNot)} wait for a permission that holds; of ${showCount(notKnown)} the owner is not stated.`,
  ];
}

/** Treatments in few letters, for a table that must fit. */
const shortName = {
  "inspect first": "Inspect",
  "leave and re-inspect": "Leave",
  "clean and cut roots": "Clean",
  "sectional liner": "Section",
  "full-length liner": "Full",
  "connection liner": "Connect",
  "open-cut replacement": "Open cut",
  "joint grouting": "Grout",
  "one-piece liner": "One piece",
  "pipe bursting": "Burst",
  "clean and grout": "Clean+grout",
  "sectional and connection liner": "Sect.+conn.",
  "full-length and connection liner": "Full+conn.",
} as const;

/** The resins of the chosen systems, each once. */
const resinLabels = ({ liners }: PlannedProgram["basis"]): string =>
  [...new Set(listChosen(liners).map(({ resin }) => resin.label))].join(", ");

function materialsTable({ totals, basis }: PlannedProgram): string {
  const { program } = totals;
  const { units } = basis.program;
  const lengths = [...program.linerLengthByDiameter].sort(([a], [b]) => a - b);
  const walls = [...program.linersByWall].sort(([a], [b]) => a - b);
  const onePieces = program.byTreatment["one-piece liner"];
  return [
    "Materials (takeoff; not bid quantities)",
    ...lengths.map(
      ([size, length]) =>
        `  liner ${sizeLabel(millimetres(size), units)}: ${showHundredths(length)} ${units === "us" ? "ft" : "m"} installed`,
    ),
    ...walls.map(([wall, count]) => `  liners of ${wall} mm wall in the lateral: ${showCount(count)}`),
    ...(program.connectionLiners + onePieces === 0
      ? []
      : ["  their parts in the main may be of a thicker wall: wyeplan takeoff gives both walls of each kit"]),
    `  mixed resin: ${showNumber(program.resinMillilitres / 1000, "volume", basis.program)} ${units === "us" ? "gal" : "L"} (${resinLabels(basis)}, with excess)`,
    `  end seals: ${showCount(program.endSeals)}`,
    `  connection liners: ${showCount(program.connectionLiners)}`,
    ...(onePieces === 0
      ? []
      : [`  one-piece liners, each with its part in the main: ${showCount(onePieces)}`]),
    `  ${cautionNamed("field measure").text}`,
  ].join("\n");
}

function accounting({ tallies, problems }: PlannedProgram): string {
  const rejected = problems.filter((problem) => problem.severity === "rejected").length;
  return [
    "Rows",
    ...tallies.map(
      (t) =>
        `  ${t.file}: ${showCount(t.read)} read = ${showCount(t.kept)} kept + ${showCount(t.duplicates)} duplicates + ${showCount(t.rejected)} rejected`,
    ),
    `  ${showCount(problems.length)} problem(s), ${showCount(rejected)} of them rejected values or rows; wyeplan check lists them`,
  ].join("\n");
}

function cautions(program: PlannedProgram, width: number): string {
  const texts = [
    ...plannedCautions(program).map(({ text }) => text),
    `Risk bends: ${BIAS}. See wyeplan risk.`,
  ];
  return ["Cautions", ...texts.map((text) => wrapped(text, "  ", "    ", width))].join("\n");
}

const sum = (of: ReadonlyMap<number, number>): number => [...of.values()].reduce((a, b) => a + b, 0);

import type { Column } from "../columns/column.ts";
import { columnOf, headingWithUnit } from "../columns/dictionary.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { isoDate } from "../quantity/calendar.ts";
import { isNumeric } from "../quantity/measure.ts";
import { day } from "../quantity/si.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { programOfSeason } from "../season/season-program.ts";
import { selectRows } from "../season/select-rows.ts";
import { withStability } from "../season/selection-stability.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { buildBidBook } from "../workbook/bid-book.ts";
import { ITEM_FORMAT, ITEM_HEADING, itemNumber } from "../workbook/bid-schedule.ts";
import { type DividedBid, readBidView } from "../workbook/bid-view.ts";
import type { BookContents } from "../workbook/book-contents.ts";
import { DAY_ZERO, formatOf, ISO_DATE, numberCell } from "../workbook/number-format.ts";
import { buildPlanningBook } from "../workbook/planning-book.ts";
import type { Cell, Row, SheetModel } from "../workbook/sheet-model.ts";
import { dividedBid } from "./bid-extras.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { csvLine } from "./csv-text.ts";
import { askedSeason, type NamedRun, withCurrentSeason } from "./current-season.ts";
import { exitCodeOf, loadWholeOrSay, sayProblems } from "./load-program.ts";
import { filterOrSay } from "./named-filter.ts";
import { columnsFor, tellsOfOccupants } from "./occupant-columns.ts";
import { sayOwnWords, withoutFound, withoutWords } from "./occupant-words.ts";
import { writeOut } from "./write-out.ts";
import { bookContents } from "./write-workbook.ts";

/** The sheet of the terminal, with every column: not a sheet of a workbook. */
const LATERALS = "Laterals";
/** Before the name of a sheet of the bid book, where the planning book has one of the same name. */
const BID = "bid:";

/** Sheets that say what was found in the city's files, or why somebody decided or stopped. */
const SHEETS_OF_WORDS = /^(Problems|Reasons)$/;

interface Listed {
  readonly name: string;
  /** The column of addresses; -1 where there is none, or it was left out. */
  readonly location: number;
  readonly headings: readonly string[];
  readonly formats: readonly (string | undefined)[];
  readonly rows: Iterable<Row>;
}

/** `wyeplan table FOLDER [SHEET] [--filter NAME] [--season NAME] [--with-addresses] [--out FILE]`: a sheet as CSV. Without a name it lists the sheets. */
export async function tableOf(
  folder: string,
  sheet: string | undefined,
  options: {
    readonly filter?: string;
    readonly season?: string;
    readonly out?: string;
    readonly withAddresses?: boolean;
  },
  io: CommandIo,
): Promise<ExitCode> {
  const season = await askedSeason(folder, options.season, io);
  if (season === undefined) return EXIT.notDone;
  const whole = await loadWholeOrSay(folder, io);
  if (whole === null) return EXIT.notDone;
  const { settings } = whole;
  const placed = await withCurrentSeason(folder, whole, sheet === undefined ? null : io, season);
  const isSheet = sheet !== undefined && !isCalled(LATERALS, sheet);
  const loaded = isSheet && season !== null ? seasonOrSay(placed, season, io) : placed;
  const divided = await dividedBid(folder, loaded, placed, settings);
  if (!divided.ok) return refuse(io, divided.problems);
  const filter = options.filter === undefined ? undefined : filterOrSay(loaded, options.filter, io);
  if (filter === null) return EXIT.notDone;
  if (filter !== undefined && (sheet === undefined || !isCalled(LATERALS, sheet))) {
    io.err(`--filter is for the table "${LATERALS}": sheets of the workbooks hold the whole program.\n`);
    return EXIT.notDone;
  }
  // How sure the order is, is of all laterals: those of a season have it from the whole plan.
  const program = inIso(isSheet && season === null ? withStability(loaded) : loaded);
  const columns =
    options.withAddresses === true
      ? program.columns
      : program.columns.filter((column) => !tellsOfOccupants(column));
  const tables = [
    lateralTable(filter === undefined ? program : selectRows(program, filter.met), columns),
    ...sheetTables(program, divided.bid, options.withAddresses === true),
  ];
  const found = tables.find(({ name }) => sheet !== undefined && isCalled(name, sheet));
  if (found === undefined) {
    const say = sheet === undefined ? io.out : io.err;
    if (sheet !== undefined) say(`There is no sheet ${JSON.stringify(sheet)}. The sheets:\n`);
    say(tables.map(({ name }) => `${name}\n`).join(""));
    return sheet === undefined ? EXIT.done : EXIT.notDone;
  }
  const withAddresses = options.withAddresses === true;
  columnsFor(
    found.name === LATERALS ? program.columns : found.location >= 0 ? [columnOf("location")] : [],
    withAddresses,
    io,
  );
  if (SHEETS_OF_WORDS.test(found.name)) sayOwnWords(withAddresses, io);
  const given = withAddresses || found.location < 0 ? found : without(found, found.location);
  await writeOut(csvOf(given, options.out !== undefined), options.out, io);
  return exitCodeOf(program);
}

/** The season's own plan, as its workbooks have it; what keeps a lateral out of it is said. */
function seasonOrSay(whole: PlannedProgram, { name, run }: NamedRun, io: CommandIo): PlannedProgram {
  const { program, problems } = programOfSeason(withStability(whole), name, run.chosen, run.so_far);
  sayProblems(problems, io);
  return program;
}

/** CSV is for programs to read: dates are ISO in it, whatever is printed. */
function inIso(program: PlannedProgram): PlannedProgram {
  const { program: head } = program.basis;
  const print = { ...head.print, dates: "ISO" as const };
  return { ...program, basis: { ...program.basis, program: { ...head, print } } };
}

const isCalled = (name: string, asked: string): boolean => name.toLowerCase() === asked.trim().toLowerCase();

/** Every column of the laterals in the order of risk, ids and words as they are, numbers in the program's units. */
function lateralTable({ laterals, order, basis }: PlannedProgram, columns: readonly Column[]): Listed {
  const style = basis.program;
  return {
    name: LATERALS,
    location: -1,
    headings: columns.map((column) => headingWithUnit(column, style)),
    formats: columns.map(({ measure }) => formatOf(measure, style)),
    rows: Array.from(order, (row) =>
      columns.map(({ key, measure }) =>
        isNumeric(measure)
          ? numberCell(numberAt(laterals, key, row), measure, style.units)
          : textAt(laterals, key, row),
      ),
    ),
  };
}

/** Every sheet of both books, long lists whole: a CSV file has no last row. */
function sheetTables(
  program: PlannedProgram,
  divided: DividedBid,
  withAddresses: boolean,
): readonly Listed[] {
  const whole = bookContents(program, Number.POSITIVE_INFINITY);
  const contents = withAddresses ? whole : withoutOwnWords(whole);
  const planning = buildPlanningBook(contents, divided).sheets;
  const bid = buildBidBook(readBidView(contents, divided)).sheets;
  const names = new Set(planning.map(({ name }) => name));
  return [
    ...planning.map((sheet) => listed(sheet, sheet.name)),
    ...bid.map((sheet) => listed(sheet, names.has(sheet.name) ? `${BID}${sheet.name}` : sheet.name)),
  ];
}

/** The same contents without what people and the city's files say in words of their own. */
const withoutOwnWords = (contents: BookContents): BookContents => ({
  ...contents,
  program: { ...contents.program, problems: contents.program.problems.map(withoutFound) },
  recordAt: (row) => planLateral(withoutWords(contents.lateralAt(row)), contents.program.basis),
});

/** Rows are worked out when the sheet is the one that is asked for. */
const listed = ({ columns, rows, foot }: SheetModel, name: string): Listed => ({
  name,
  location: columns.findIndex(({ heading }) => heading === columnOf("location").heading),
  headings: columns.map(({ heading }) => heading),
  formats: columns.map(({ format }) => format),
  rows: {
    *[Symbol.iterator]() {
      yield* rows;
      yield* foot ?? [];
    },
  },
});

/** A table without one of its columns. */
function without(table: Listed, column: number): Listed {
  const cut = <Cell>(cells: readonly Cell[]): Cell[] => cells.filter((_, i) => i !== column);
  const { headings, formats, rows } = table;
  return {
    ...table,
    headings: cut(headings),
    formats: cut(formats),
    rows: {
      *[Symbol.iterator]() {
        for (const row of rows) yield cut(row);
      },
    },
  };
}

/** One sheet of a workbook as CSV, without addresses unless they are asked for. */
export function sheetAsCsv(sheet: SheetModel, withAddresses: boolean, isFile: boolean): string {
  const whole = listed(sheet, sheet.name);
  return csvOf(withAddresses || whole.location < 0 ? whole : without(whole, whole.location), isFile);
}

/**
 * Headings, rows, totals. The number of a line is its name, written alike on every sheet: 5.10 is not 5.1. A file begins with a byte-order mark, by which
 * spreadsheets know that it is UTF-8.
 */
function csvOf({ headings, formats, rows }: Listed, isFile: boolean): string {
  const lines = [csvLine(headings)];
  const written = (heading: string, cell: Cell, format: string | undefined) => {
    const value = plainValue(cell, format);
    const isItem = heading === ITEM_HEADING && formatIn(cell, format) === ITEM_FORMAT;
    return isItem && typeof value === "number" ? itemNumber(value) : value;
  };
  for (const row of rows)
    lines.push(csvLine(headings.map((heading, i) => written(heading, row[i] ?? null, formats[i]))));
  return (isFile ? "\ufeff" : "") + lines.join("");
}

/** The format of its own, else that of its column. */
const formatIn = (cell: Cell, format: string | undefined): string | undefined =>
  typeof cell === "object" && cell !== null && cell.kind === "number" ? cell.format : format;

/** What a cell holds: of a formula its value, of a date its day. */
function plainValue(cell: Cell, format: string | undefined): string | number | null {
  if (cell === null || typeof cell === "string") return cell;
  if (typeof cell === "number") {
    if (Number.isNaN(cell)) return null;
    return format === ISO_DATE ? isoDate(day(cell - DAY_ZERO)) : cell;
  }
  switch (cell.kind) {
    case "number":
    case "pick":
      return plainValue(cell.value, cell.kind === "number" ? cell.format : undefined);
    case "formula":
      return cell.result;
    case "section":
      return cell.text;
    case "unit price":
    case "answer":
      return null;
    default:
      return cell satisfies never;
  }
}

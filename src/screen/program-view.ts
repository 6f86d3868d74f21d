import { type Column, totalKind } from "../columns/column.ts";
import type { ColumnKey } from "../columns/dictionary.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import { isoDate } from "../quantity/calendar.ts";
import { showCrewDays } from "../quantity/crew-days.ts";
import { isNumeric } from "../quantity/measure.ts";
import type { Problem } from "../quantity/problem.ts";
import {
  type NumberStyle,
  showCount,
  showNumber,
  showQuantity,
  unitLabel,
} from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { Totals } from "../season/totals.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import { numberAt, pickRows, rowOfText, type Table, textAt } from "../sheet/table.ts";
import { bidLines } from "./bid-pane.ts";
import { visible, widthOf, wrap } from "./cell-text.ts";
import { type CellTest, cellsWith } from "./column-search.ts";
import { districtLines } from "./districts-pane.ts";
import { firstStepsLines } from "./first-steps-pane.ts";
import { helpLines } from "./help-pane.ts";
import { lineOf } from "./line.ts";
import { mapDrawer } from "./map-pane.ts";
import { movedLines } from "./moved-pane.ts";
import type { PaneData, Worked } from "./pane-data.ts";
import { problemLines } from "./problems-pane.ts";
import { recipeLines } from "./recipe-pane.ts";
import { riskLines } from "./risk-pane.ts";
import { seasonLines } from "./season-pane.ts";
import type {
  FormulaCheck,
  FormulaHelp,
  Groups,
  PaneName,
  PaneRoom,
  PaneText,
  SheetColumn,
  SheetView,
  SortKey,
  ToPrepare,
  ValueCheck,
} from "./sheet-view.ts";
import {
  finished,
  placesOf,
  placesOfBytes,
  ROWS_A_STEP,
  type Steps,
  stableOrderInSteps,
  within,
} from "./sort-rows.ts";
import { whyLines } from "./why-pane.ts";

/** Why the plan says what it says of the lateral in this row of the table. */
export type Explain = (row: number) => readonly ExplainedStage[];

/** What the sheet asks of the program folder and of the formula language. */
export interface SheetEdge {
  /** Whether the program is not planned yet: it is looked at while that is done, and `show` brings the plan. */
  readonly unplanned: boolean;
  readonly closedBecause: string | null;
  check(column: Column, text: string): ValueCheck;
  /** For the columns of the program as it is now. */
  formula(program: PlannedProgram): FormulaHelp;
  readonly panes: PaneData;
  readonly isNew: boolean;
  /** Does a few milliseconds of work after the next look at the keyboard; null does it at once. The sheet is drawn again after the last. */
  readonly soon: ((work: () => void) => void) | null;
}

const closedFormula: FormulaCheck = { ok: false, at: 0, words: "No formula can be read here." };
/** A sheet over a program without a folder. */
const onlyShowing: SheetEdge = {
  unplanned: false,
  closedBecause: "This sheet only shows; nothing can be decided in it.",
  check: () => ({ ok: false, words: "Nothing can be decided here." }),
  formula: () => ({
    check: () => closedFormula,
    complete: () => [],
    keeps: () => new Uint32Array(0),
    nameProblem: () => closedFormula.words,
  }),
  panes: {
    matrix: () => ({ kind: "none", because: "This sheet has no program folder." }),
    schedule: () => ({ lines: [], total: "", unpriced: 0, priceSource: "" }),
    season: () => ({ kind: "none", because: "This sheet has no program folder." }),
    moved: () => ({ kind: "none", because: "This sheet has no program folder." }),
    recipe: () => ({ parts: [], trial: null }),
  },
  isNew: false,
  soon: null,
};

/** The pane of what is worked out beside the sheet. */
function worked<T>(
  found: Worked<T>,
  width: number,
  shown: (value: T) => Omit<PaneText, "title">,
): Omit<PaneText, "title"> {
  switch (found.kind) {
    case "known":
      return shown(found.value);
    case "working":
      return { lines: [lineOf("working …", "dim")] };
    case "none":
      return { lines: wrap(found.because, width).map((text) => lineOf(text)) };
    default:
      return found satisfies never;
  }
}

/** Levels of a lateral as the matrix counts them; null where it lies in no field. */
function levelsOf({ laterals }: PlannedProgram, row: number) {
  const level = (key: string) => Math.round(numberAt(laterals, key, row));
  const [likelihood, consequence] = [level("likelihood"), level("consequence")];
  const id = textAt(laterals, "lateral", row);
  return Number.isNaN(likelihood + consequence) ? null : { id, likelihood, consequence };
}

/**
 * Leads from a problem to its lateral: by the row of the lateral file, of the observation file, of an inspection file where there is
 * only one; by the id in the log of decisions. Null where the row was rejected or the problem is about the file.
 */
function rowsOfProblems({ tables, tallies, problems }: PlannedProgram) {
  const { laterals, inspections, observations } = tables;
  const [lateralFile, ...others] = tallies.map(({ file }) => file);
  const seenFile = observations === undefined ? null : others.pop();
  const [surveyFile, anotherSurveyFile] = others;
  // Of a million rows only those with a problem are kept.
  const byRow = (of: string | null | undefined, table: Table, target: (row: number) => number) => {
    const wanted = new Set(problems.flatMap(({ file, row }) => (file === of && row !== null ? [row] : [])));
    const found = new Map<number, number>();
    const column = table.columns.get("file_row");
    if (wanted.size === 0 || column?.kind !== "number") return found;
    for (let row = 0; row < table.rows; row++) {
      const at = column.values[row]!;
      if (wanted.has(at)) found.set(at, target(row));
    }
    return found;
  };
  const rows = new Map<string | null | undefined, Map<number, number>>();
  if (surveyFile !== undefined && anotherSurveyFile === undefined) {
    const owners = new Uint32Array(inspections.rows);
    for (let row = 0; row < laterals.rows; row++)
      owners.fill(row, tables.firstInspection[row], tables.firstInspection[row + 1]);
    rows.set(
      surveyFile,
      byRow(surveyFile, inspections, (row) => owners[row]!),
    );
  }
  if (observations?.table.columns.has("lateral_row"))
    rows.set(
      seenFile,
      byRow(seenFile, observations.table, (row) => numberAt(observations.table, "lateral_row", row)),
    );
  rows.set(
    lateralFile,
    byRow(lateralFile, laterals, (row) => row),
  );
  return ({ file, row, lateral, found }: Problem, rowOf: (id: string) => number | null): number | null => {
    if (file === "decisions.csv") return rowOf(lateral ?? found);
    const known = row === null ? undefined : rows.get(file)?.get(row);
    if (known !== undefined && !Number.isNaN(known)) return known;
    // A row that repeats an id is not used: it leads to the one that is.
    return row !== null && file === lateralFile ? rowOf(found) : null;
  };
}

/** A planned program as the sheet shows it, and the way to show what became of it. */
export interface ProgramView extends SheetView {
  /** Shows the program after these rows have changed; null when any may have. `stale` says what is not up to date. */
  show(program: PlannedProgram, rows: readonly number[] | null, stale: string | null): void;
  /** What a pane shows has been worked out, or is out of date. */
  forgetPanes(): void;
  /** Says how far the first plan is, 0 to 1. */
  isPlanning(part: number): void;
}

const planning = (part: number): string => `planning, ${Math.floor(100 * part)} %`;
const NOT_YET = "The plan is being made; until then look at the city's own values.";
/** Panes that say nothing of a plan. */
const beforePlan: ReadonlySet<PaneName> = new Set(["problems", "help", "first steps"]);

/** A planned program as the sheet shows it. */
export function viewProgram(
  given: PlannedProgram,
  explain: Explain,
  edge: SheetEdge = onlyShowing,
): ProgramView {
  let program = given;
  let stale: string | null = edge.unplanned ? planning(0) : null;
  let planned = edge.unplanned ? -1 : 0;
  const style: NumberStyle = program.basis.program;
  const nothing = edge.unplanned ? pickRows(given.laterals, new Uint32Array(0)) : null;
  let columns = program.columns.map((column) =>
    viewColumn(column, nothing !== null && filledBy(column) !== "city" ? nothing : program.laterals, style),
  );
  let placesByKey = new Map(columns.map(({ key }, place) => [key, place]));
  const placeOf = (key: ColumnKey) => placesByKey.get(key) ?? -1;
  const rank = placeOf("rank");
  const firstSort: SortKey = { column: rank, descending: false };
  const shownAtFirst = firstColumns(program.columns, placeOf);
  const formulaHelp = forgetful(() => edge.formula(program));
  const sorted = sorter(() => program);
  const totals = totaller(() => program, style, edge.soon);
  const groups = grouper(() => program, style);
  const finder = finds(() => program, style);
  const map = mapDrawer(() => program);
  const problemRows = forgetful(() => rowsOfProblems(program));
  const rowOf = (id: string): number | null => {
    rowsById ??= rowOfEach(program.laterals, "lateral");
    return rowsById.get(id) ?? null;
  };
  const paneOf = remembered((name, row, room) => {
    const { problems, tallies, basis } = program;
    const width = room.columns;
    if (planned < 0 && !beforePlan.has(name))
      return { title: "Not planned yet", lines: wrap(NOT_YET, width).map((text) => lineOf(text)) };
    const id = row === null ? "" : textAt(program.laterals, "lateral", row);
    switch (name) {
      case "why":
        return row === null
          ? { title: "Why", lines: [lineOf("There is no lateral here.")] }
          : {
              title: `Why ${textAt(program.laterals, "lateral", row)}`,
              lines: whyLines(explain(row), width),
            };
      case "districts":
        return {
          title: "Districts",
          lines: districtLines(
            program.totals,
            style,
            { priceSource: basis.priceSource, shiftMinutes: basis.steps.shiftMinutes },
            width,
          ),
        };
      case "problems":
        return {
          title: `Problems (${showCount(problems.length)})`,
          ...problemLines(problems, tallies, (problem) => problemRows.get()(problem, rowOf), width),
        };
      case "risk": {
        const here = row === null ? null : levelsOf(program, row);
        return {
          title: "Likelihood and consequence",
          ...worked(edge.panes.matrix(program), width, (matrix) => ({
            lines: riskLines(matrix, here, width),
          })),
        };
      }
      case "map":
        return { title: "Map", lines: map.get(row, room) };
      case "season": {
        const season = edge.panes.season();
        const here = row === null ? null : { id, row };
        return {
          title: id === "" ? "Season" : `Season, and ${id}`,
          ...worked(season, width, (seen) => ({ lines: seasonLines(seen, here, width) })),
        };
      }
      case "bid":
        return {
          title: "Bid schedule of the whole plan",
          lines: bidLines(edge.panes.schedule(program), width),
        };
      case "moved":
        return {
          title: "Moved since the last saved run",
          ...worked(edge.panes.moved(), width, (seen) => movedLines(seen, rowOf, width)),
        };
      case "recipe":
        return { title: "Recipe of the ranking", ...recipeLines(edge.panes.recipe(program), rowOf, width) };
      case "first steps":
        return { title: "First steps", lines: firstStepsLines(width) };
      case "help":
        return { title: "Help", lines: helpLines(width) };
      case "refused":
        throw new RangeError("viewProgram: what was refused is the session's");
      default:
        return name satisfies never;
    }
  });
  let rowsById: ReadonlyMap<string, number> | null = null;
  const preparer = prepares(sorted.inSteps, groups.inSteps);
  return {
    title: [program.basis.program.name, `as of ${isoDate(program.basis.program.asOf)}`],
    rows: program.laterals.rows,
    get columns() {
      return columns;
    },
    shownAtFirst,
    firstSort,
    get filters() {
      return program.filters.map(({ name, met, count }) => ({
        name,
        count,
        keeps: (row: number) => met[row] === 1,
      }));
    },
    get totals() {
      if (planned < 0) return [`All ${showCount(program.laterals.rows)} laterals`, NOT_YET];
      return describeTotals(program.totals.program, program.basis.steps.shiftMinutes, style);
    },
    get stale() {
      return stale;
    },
    get planned() {
      return planned;
    },
    get closedBecause() {
      return edge.closedBecause ?? (planned < 0 ? NOT_YET : null);
    },
    get formula() {
      return formulaHelp.get();
    },
    check: (column, text) => edge.check(program.columns[column]!, text),
    cell: (row, column) => cellText(program.laterals, program.columns[column]!, row, style),
    cellsWith: finder.get,
    decided: (row, column) => {
      const { decisions } = program.tables;
      if (decisions.size === 0) return null;
      const { key } = program.columns[column]!;
      const own = decisions.get(textAt(program.laterals, "lateral", row))?.get(key);
      if (own === undefined) return null;
      const planned = key === "treatment" ? textAt(program.laterals, key, row) : "";
      return planned === "" || planned === own.value
        ? own.reason
        : `${own.value} (${own.reason}), which a rule forbids: the plan's own choice stands`;
    },
    prepare: preparer.get,
    sorted: sorted.get,
    total: totals.get,
    groups: groups.get,
    rowOf: (id) => rowOfText(program.laterals, "lateral", id),
    isNew: edge.isNew,
    pane: paneOf.get,
    forgetPanes: paneOf.forget,
    isPlanning: (part) => {
      stale = planning(part);
    },
    show: (now, rows, saidStale) => {
      program = now;
      stale = saidStale;
      if (rows === null && saidStale === null) planned++;
      for (const memory of [formulaHelp, sorted, totals, groups, finder, paneOf, map, problemRows, preparer])
        memory.forget();
      const known = columns;
      const later = edge.soon !== null && now.laterals.rows > TOTALLED_AT_ONCE ? edge.soon : null;
      columns = now.columns.map((column, place) => {
        const before = known[place];
        if (before === undefined) return viewColumn(column, now.laterals, style);
        if (rows === null && later !== null) {
          // Widths of a big sheet are measured column by column, between keys.
          later(() => {
            if (program === now) columns = columns.with(place, viewColumn(column, now.laterals, style));
          });
          return before;
        }
        if (rows === null) return viewColumn(column, now.laterals, style);
        const texts = rows.map((row) => cellText(now.laterals, column, row, style));
        return { ...before, width: Math.max(before.width, widthFor(column, texts)) };
      });
      placesByKey = new Map(columns.map(({ key }, place) => [key, place]));
    },
  };
}

/** A value worked out when it is first asked for, and again after it was forgotten. */
function forgetful<T>(make: () => T): { get(): T; forget(): void } {
  let made: { readonly value: T } | null = null;
  return {
    get: () => {
      made ??= { value: make() };
      return made.value;
    },
    forget: () => {
      made = null;
    },
  };
}

/**
 * The id and what the plan says of it, so that the smallest window answers what is done first, how and for how much;
 * then the others in their standing order.
 */
const front: readonly ColumnKey[] = ["lateral", "rank", "risk", "treatment", "cost"];

function firstColumns(columns: readonly Column[], placeOf: (key: ColumnKey) => number): readonly number[] {
  const places = front.map(placeOf);
  const others = columns.flatMap(({ shownAtFirst }, place) =>
    shownAtFirst === true && !places.includes(place) ? [place] : [],
  );
  return [...places, ...others];
}

function cellText(table: Table, { key, measure }: Column, row: number, style: NumberStyle): string {
  return isNumeric(measure) ? showNumber(numberAt(table, key, row), measure, style) : textAt(table, key, row);
}

/** Long text is cut in its column and shown in full below the totals; numbers get the room they need. */
const WIDEST_TEXT = 22;
/** Rows looked at for the width of text, and of numbers that are not printed with fixed decimals. */
const ROWS_MEASURED = 500;

/** What a formula makes of the city's columns alone is of the stage `given` as they are, and yet not the city's. */
const filledBy = ({ stage, formula }: Column): SheetColumn["filledBy"] =>
  formula !== undefined ? "formula" : stage === "given" || stage === "inspection" ? "city" : "plan";

function viewColumn(column: Column, table: Table, style: NumberStyle): SheetColumn {
  const { key, heading, measure, help, decidable, words } = column;
  const unit = unitLabel(measure, style);
  const filler = filledBy(column);
  const numeric = isNumeric(measure);
  const texts = numeric ? extremes(table, column, style) : wordsOf(table, key);
  for (let row = 0; row < Math.min(table.rows, ROWS_MEASURED); row++)
    texts.push(cellText(table, column, row, style));
  // Numbers that may be decided keep a cell behind them for the mark, and so does what stands over and under them.
  const mark = decidable === true && numeric ? 1 : 0;
  // The mean of some rows may be wider than that of all, but no wider than the widest of them.
  const means =
    totalKind(column) === "mean" ? 1 + Math.max(3, ...texts.map((text) => widthOf(visible(text)))) : 0;
  const counts = totalKind(column) === "count" ? widthOf(describeCount(table.rows)) : 0;
  const totals = numeric ? Math.max(widthOf(describeTotal(table, column, null, style)), means) : counts;
  // The unit's line also holds its brackets, the mark of the sorted column, and who fills it.
  const units = (unit === "" ? 1 : widthOf(visible(unit)) + 3) + (filler === "city" ? 0 : 1);
  return {
    key,
    heading,
    unit,
    help,
    align: numeric ? "right" : "left",
    width: Math.max(widthFor(column, texts), mark + Math.max(totals, units, widthOf(visible(heading)))),
    filledBy: filler,
    decidable: decidable === true,
    words: words ?? (measure === "flag" ? ["yes", "no"] : []),
  };
}

/** Cells that show these values, and the mark of a decision where one may be made. */
function widthFor({ measure, decidable }: Column, texts: readonly string[]): number {
  const widest = texts.reduce((most, text) => Math.max(most, widthOf(visible(text))), 1);
  return (isNumeric(measure) ? widest : Math.min(widest, WIDEST_TEXT)) + (decidable === true ? 1 : 0);
}

/** With fixed decimals no number is longer than the longer of the least and the greatest. */
function extremes(table: Table, { key, measure }: Column, style: NumberStyle): string[] {
  const column = table.columns.get(key);
  if (column?.kind !== "number") throw new RangeError(`extremes: no number column ${JSON.stringify(key)}`);
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  const { values } = column;
  // By place: iterating over a million values takes several times as long.
  for (let row = 0; row < values.length; row++) {
    const value = values[row]!;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return least > most ? [] : [showNumber(least, measure, style), showNumber(most, measure, style)];
}

/** The words that occur in a column of words. */
function wordsOf(table: Table, key: string): string[] {
  const column = table.columns.get(key);
  if (column?.kind !== "code") return [];
  const occurs = new Uint8Array(column.words.length);
  for (const code of column.codes) occurs[code] = 1;
  return column.words.filter((_, code) => code > 0 && occurs[code] === 1);
}

/**
 * Sorts the sheet's rows, and remembers each column as numbers that sort like it. No two laterals have the same rank, so
 * what comes after it decides nothing, not even the id: a million ids are put in order only when it matters.
 */
function sorter(of: () => PlannedProgram): {
  get: SheetView["sorted"];
  inSteps(keys: readonly SortKey[]): Steps<Uint32Array>;
  forget(): void;
} {
  const values = new Map<string, Float64Array>();
  let byId: Uint32Array | null = null;
  let last: { readonly asked: string; readonly order: Uint32Array } | null = null;
  function* valuesOf(key: string): Steps<Float64Array> {
    const known = values.get(key) ?? (yield* sortable(of().laterals, key));
    values.set(key, known);
    return known;
  }
  function* inSteps(keys: readonly SortKey[]): Steps<Uint32Array> {
    const asked = JSON.stringify(keys);
    if (last?.asked === asked) return last.order;
    const { laterals, columns } = of();
    const toRank = keys.findIndex(({ column }) => columns[column]!.key === "rank") + 1;
    const deciding = toRank > 0 ? keys.slice(0, toRank) : keys;
    const byIdFirst = toRank === 0 && byId === null;
    const parts = deciding.length + (byIdFirst ? 1 : 0);
    let part = 0;
    function* sortedBy(key: string, order: Uint32Array, descending: boolean): Steps<Uint32Array> {
      const start = part++;
      const by = yield* within(valuesOf(key), start / parts, (start + 0.5) / parts);
      return yield* within(stableOrderInSteps(by, order, descending), (start + 0.5) / parts, part / parts);
    }
    const rows = new Uint32Array(laterals.rows);
    for (let row = 0; row < rows.length; row++) rows[row] = row;
    if (byIdFirst) byId = yield* sortedBy("lateral", rows, false);
    let order = toRank === 0 && byId !== null ? byId : rows;
    for (const { column, descending } of deciding.toReversed())
      order = yield* sortedBy(columns[column]!.key, order, descending);
    last = { asked, order };
    return order;
  }
  return {
    get: (keys) => finished(inSteps(keys)),
    inSteps,
    forget: () => {
      values.clear();
      last = null;
    },
  };
}

/** Goes on with sorting and grouping, step by step, as long as the same is asked for. */
function prepares(
  sorted: (keys: readonly SortKey[]) => Steps<unknown>,
  groups: (column: number) => Steps<unknown>,
): { get: SheetView["prepare"]; forget(): void } {
  let work: { readonly asked: string; readonly steps: Steps<void> } | null = null;
  function* all(asked: ToPrepare): Steps<void> {
    for (const [i, column] of asked.groups.entries())
      yield* within(groups(column), (0.3 * i) / asked.groups.length, (0.3 * (i + 1)) / asked.groups.length);
    yield* within(sorted(asked.sort), asked.groups.length === 0 ? 0 : 0.3, 1);
  }
  return {
    get: (wanted) => {
      const asked = JSON.stringify(wanted);
      if (work?.asked !== asked) work = { asked, steps: all(wanted) };
      const step = work.steps.next();
      return step.done === true ? 1 : Math.min(step.value, 0.99);
    },
    forget: () => {
      work = null;
    },
  };
}

/** Totals over more rows than this are worked out after the frame. */
const TOTALLED_AT_ONCE = 5000;

/** What columns come to over rows, remembered by the list of rows: between two keys the same is asked again and again. */
function totaller(
  of: () => PlannedProgram,
  style: NumberStyle,
  soon: SheetEdge["soon"],
): { get: SheetView["total"]; forget(): void } {
  const all: object = {};
  let known = new WeakMap<object, Map<number, string>>();
  let before = known;
  return {
    get: (rows, column) => {
      const texts = known.get(rows ?? all) ?? new Map<number, string>();
      known.set(rows ?? all, texts);
      const told = texts.get(column);
      if (told !== undefined) return told;
      const work = () => {
        const { laterals, columns } = of();
        texts.set(column, describeTotal(laterals, columns[column]!, rows, style));
      };
      if (soon !== null && (rows?.length ?? of().laterals.rows) > TOTALLED_AT_ONCE) {
        // After an edit that of before stands for the moment it takes: a screen of signs would flicker.
        texts.set(column, before.get(rows ?? all)?.get(column) ?? "…");
        soon(work);
      } else work();
      return texts.get(column)!;
    },
    forget: () => {
      before = known;
      known = new WeakMap();
    },
  };
}

const describeCount = (rows: number): string => `n ${showCount(rows)}`;

/** Sums of these are marked where a lateral has none. */
const costs: ReadonlySet<string> = new Set(["cost", "city_cost", "owner_cost"]);

/** `12,345.00`, `0.00*` where some have no price, `ø3.2`, `n 57`, `12 yes`; "" where no row has a value, or nothing makes sense. */
function describeTotal(table: Table, column: Column, rows: Uint32Array | null, style: NumberStyle): string {
  const { measure, key } = column;
  const kind = totalKind(column);
  if (kind === "none") return "";
  const found = table.columns.get(key);
  if (found === undefined) throw new RangeError(`describeTotal: no column ${JSON.stringify(key)}`);
  const count = rows?.length ?? table.rows;
  const at = (i: number) => (rows === null ? i : rows[i]!);
  let have = 0;
  let sum = 0;
  if (found.kind === "number") {
    const { values } = found;
    for (let i = 0; i < count; i++) {
      const value = values[at(i)]!;
      if (Number.isNaN(value)) continue;
      have++;
      sum += value;
    }
  } else {
    for (let i = 0; i < count; i++) {
      const row = at(i);
      if (found.kind === "code" ? found.codes[row] !== 0 : found.ends[row] !== found.ends[row + 1]) have++;
    }
  }
  if (have === 0) return "";
  if (measure === "flag") return `${showCount(sum)} yes`;
  if (kind === "count") return describeCount(have);
  // A lateral without a cost has no price, or is not divided; that the others come to so much does not say that it costs nothing.
  if (kind === "sum") return showNumber(sum, measure, style) + (costs.has(key) && have < count ? "*" : "");
  // The mean of whole numbers is none; a year's is shown as one.
  const mean = sum / have;
  const isWhole = measure === "grade" || measure === "degrees" || measure === "points";
  return `ø${isWhole ? mean.toFixed(1) : showNumber(measure === "year" ? Math.round(mean) : mean, measure, style)}`;
}

/** Texts made between two looks at the keyboard. */
const TEXTS_A_STEP = 10_000;

/** The rows by what a column says. */
function grouper(
  of: () => PlannedProgram,
  style: NumberStyle,
): { get: SheetView["groups"]; inSteps(column: number): Steps<Groups>; forget(): void } {
  const known = new Map<number, Groups>();
  function* make(place: number): Steps<Groups> {
    const { laterals, columns } = of();
    const column = columns[place]!;
    const data = laterals.columns.get(column.key);
    if (data?.kind === "code") return { codes: data.codes, names: ["", ...data.words.slice(1)] };
    const names: string[] = [];
    const values: number[] = [];
    const codeOf = new Map<string, number>();
    const codes = new Uint32Array(laterals.rows);
    for (let row = 0; row < codes.length; row++) {
      const text = cellText(laterals, column, row, style);
      const code = codeOf.get(text) ?? names.push(text) - 1;
      codeOf.set(text, code);
      codes[row] = code;
      if (data?.kind === "number") values[code] ??= data.values[row]!;
      if (row % TEXTS_A_STEP === 0) yield row / codes.length;
    }
    return data?.kind === "number" ? { codes, names, values } : { codes, names };
  }
  function* inSteps(place: number): Steps<Groups> {
    const groups = known.get(place) ?? (yield* make(place));
    known.set(place, groups);
    return groups;
  }
  return { get: (place) => finished(inSteps(place)), inSteps, forget: () => known.clear() };
}

/** Tests of columns for the text looked for last: it is looked for in steps. */
function finds(
  of: () => PlannedProgram,
  style: NumberStyle,
): { get: SheetView["cellsWith"]; forget(): void } {
  const known = new Map<number, CellTest | null>();
  let asked = "";
  return {
    get: (place, wanted) => {
      if (wanted !== asked) known.clear();
      asked = wanted;
      const { laterals, columns } = of();
      const { key, measure } = columns[place]!;
      const test = known.get(place);
      const made = test === undefined ? cellsWith(laterals, key, measure, style, wanted) : test;
      known.set(place, made);
      return made;
    },
    forget: () => known.clear(),
  };
}

/** A column as numbers that sort as its values do: text by code points, missing is NaN. */
function* sortable(table: Table, key: string): Steps<Float64Array> {
  const column = table.columns.get(key);
  switch (column?.kind) {
    case "number":
      return column.values;
    case "code": {
      const places = placesOf(column.words);
      const values = new Float64Array(column.codes.length);
      for (let row = 0; row < values.length; row++) {
        const code = column.codes[row]!;
        values[row] = code === 0 ? Number.NaN : places[code]!;
        if (row % ROWS_A_STEP === 0) yield row / values.length;
      }
      return values;
    }
    case "text": {
      const values = yield* placesOfBytes(column);
      const { ends } = column;
      for (let row = 0; row < values.length; row++) if (ends[row] === ends[row + 1]) values[row] = Number.NaN;
      return values;
    }
    default:
      throw new RangeError(`sortable: no column ${JSON.stringify(key)}`);
  }
}

function describeTotals(program: Totals, shiftMinutes: number, style: NumberStyle): readonly string[] {
  return [
    `All ${showCount(program.laterals)} laterals`,
    `cost ${showQuantity(program.cost, "money", style)}${program.unpriced === 0 ? "" : "*"}`,
    `${showCrewDays(program.crewMinutes, shiftMinutes)} crew-days`,
    `resin ${showQuantity(program.resinMillilitres / 1000, "volume", style)}`,
    ...(program.unpriced === 0 ? [] : [`* ${showCount(program.unpriced)} without a price`]),
  ];
}

type PaneOf = (name: PaneName, row: number | null, room: PaneRoom) => PaneText;

/** Panes about the lateral under the cursor. */
const ofRow: ReadonlySet<PaneName> = new Set(["why", "map", "season", "risk"]);

/** The last pane drawn: between two keys the same text is asked for again and again. */
function remembered(paneOf: PaneOf): { get: PaneOf; forget(): void } {
  let last: { readonly asked: string; readonly text: PaneText } | null = null;
  return {
    get: (name, row, room) => {
      const asked = `${name} ${ofRow.has(name) ? row : ""} ${room.columns} ${name === "map" ? `${room.lines} ${room.zoomed}` : ""}`;
      if (last?.asked !== asked) last = { asked, text: paneOf(name, row, room) };
      return last.text;
    },
    forget: () => {
      last = null;
    },
  };
}

import type { Column } from "../columns/column.ts";
import type { ColumnKey } from "../columns/dictionary.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import { isoDate } from "../quantity/calendar.ts";
import { isNumeric } from "../quantity/measure.ts";
import { type NumberStyle, showNumber, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { Totals } from "../season/totals.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import { visible, widthOf } from "./cell-text.ts";
import { districtLines, showHundredths } from "./districts-pane.ts";
import { helpLines } from "./help-pane.ts";
import { lineOf } from "./line.ts";
import { problemLines } from "./problems-pane.ts";
import type { PaneName, PaneText, SheetColumn, SheetView, SortKey } from "./sheet-view.ts";
import { placesOf, stableOrder } from "./sort-rows.ts";
import { whyLines } from "./why-pane.ts";

/** Why the plan says what it says of the lateral in this row of the table. */
export type Explain = (row: number) => readonly ExplainedStage[];

/** A planned program as the sheet shows it. */
export function viewProgram(program: PlannedProgram, explain: Explain): SheetView {
  const { laterals, basis, totals, problems } = program;
  const style: NumberStyle = basis.program;
  const columns = program.columns.map((column) =>
    viewColumn(column, laterals, style, program.tables.decisions.size > 0),
  );
  const placeOf = (key: ColumnKey) => columns.findIndex((column) => column.key === key);
  const { decisions } = program.tables;
  const decided = (row: number, column: number): string | null =>
    decisions.size === 0
      ? null
      : (decisions.get(textAt(laterals, "lateral", row))?.get(program.columns[column]!.key)?.reason ?? null);
  const firstSort: SortKey = { column: placeOf("rank"), descending: false };
  return {
    title: [basis.program.name, `as of ${isoDate(basis.program.asOf)}`],
    rows: laterals.rows,
    columns,
    shownAtFirst: firstColumns(program.columns, placeOf),
    firstSort,
    filters: program.filters.map(({ name, met, count }) => ({
      name,
      count,
      keeps: (row: number) => met[row] === 1,
    })),
    totals: describeTotals(totals.program, style),
    cell: (row, column) => {
      const text = cellText(laterals, program.columns[column]!, row, style);
      return decided(row, column) === null ? text : `${text}*`;
    },
    decided,
    sorted: sorter(laterals, program.columns),
    pane: remembered((name, row, width) => {
      switch (name) {
        case "why":
          return row === null
            ? { title: "Why", lines: [lineOf("There is no lateral here.")] }
            : { title: `Why ${textAt(laterals, "lateral", row)}`, lines: whyLines(explain(row), width) };
        case "districts":
          return { title: "Districts", lines: districtLines(totals, style, basis.priceSource, width) };
        case "problems":
          return {
            title: `Problems (${showNumber(problems.length, "count", style)})`,
            lines: problemLines(problems, program.tallies, style, width),
          };
        case "help":
          return { title: "Help", lines: helpLines(width) };
        default:
          return name satisfies never;
      }
    }),
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

function viewColumn(column: Column, table: Table, style: NumberStyle, anyDecided: boolean): SheetColumn {
  const { key, heading, measure, help } = column;
  const unit = unitLabel(measure, style);
  const numeric = isNumeric(measure);
  const texts = numeric ? extremes(table, column, style) : wordsOf(table, key);
  for (let row = 0; row < Math.min(table.rows, ROWS_MEASURED); row++)
    texts.push(cellText(table, column, row, style));
  const widest = texts.reduce((most, text) => Math.max(most, widthOf(visible(text))), 1);
  // Room for the asterisk of a decided value.
  const values = (numeric ? widest : Math.min(widest, WIDEST_TEXT)) + (anyDecided ? 1 : 0);
  // The unit's line also holds its brackets and the mark of the sorted column.
  const width = Math.max(values, widthOf(visible(heading)), unit === "" ? 1 : widthOf(visible(unit)) + 3);
  return { key, heading, unit, help, align: numeric ? "right" : "left", width };
}

/** With fixed decimals no number is longer than the longer of the least and the greatest. */
function extremes(table: Table, { key, measure }: Column, style: NumberStyle): string[] {
  const column = table.columns.get(key);
  if (column?.kind !== "number") throw new RangeError(`extremes: no number column ${JSON.stringify(key)}`);
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of column.values) {
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

/** Sorts the table's rows, and remembers each column as numbers that sort like it. */
function sorter(table: Table, columns: readonly Column[]): SheetView["sorted"] {
  const values = new Map<string, Float64Array>();
  const valuesOf = (key: string): Float64Array => {
    const known = values.get(key) ?? sortable(table, key);
    values.set(key, known);
    return known;
  };
  let byId: Uint32Array | null = null;
  return (keys) => {
    byId ??= stableOrder(
      valuesOf("lateral"),
      Uint32Array.from({ length: table.rows }, (_, row) => row),
      false,
    );
    return keys.reduceRight(
      (order, { column, descending }) => stableOrder(valuesOf(columns[column]!.key), order, descending),
      byId,
    );
  };
}

/** A column as numbers that sort as its values do: text by code points, missing is NaN. */
function sortable(table: Table, key: string): Float64Array {
  const column = table.columns.get(key);
  switch (column?.kind) {
    case "number":
      return column.values;
    case "code": {
      const places = placesOf(column.words);
      return Float64Array.from(column.codes, (code) => (code === 0 ? Number.NaN : places[code]!));
    }
    case "text": {
      const texts = Array.from({ length: table.rows }, (_, row) => textAt(table, key, row));
      return placesOf(texts).map((place, row) => (texts[row] === "" ? Number.NaN : place));
    }
    default:
      throw new RangeError(`sortable: no column ${JSON.stringify(key)}`);
  }
}

function describeTotals(program: Totals, style: NumberStyle): readonly string[] {
  const count = (value: number) => showNumber(value, "count", style);
  return [
    `All ${count(program.laterals)} laterals`,
    `cost ${showQuantity(program.cost, "money", style)}`,
    `${showHundredths(program.crewDayHundredths, style)} crew-days`,
    `resin ${showQuantity(program.resinMillilitres / 1000, "volume", style)}`,
    ...(program.unpriced === 0 ? [] : [`${count(program.unpriced)} without a price`]),
  ];
}

type PaneOf = (name: PaneName, row: number | null, width: number) => PaneText;

/** The last pane drawn: between two keys the same text is asked for again and again. */
function remembered(paneOf: PaneOf): PaneOf {
  let last: { readonly asked: string; readonly text: PaneText } | null = null;
  return (name, row, width) => {
    // Only the reasons depend on the row.
    const asked = `${name} ${name === "why" ? row : ""} ${width}`;
    if (last?.asked !== asked) last = { asked, text: paneOf(name, row, width) };
    return last.text;
  };
}

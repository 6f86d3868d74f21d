import Papa from "papaparse";
import type { CityFile } from "../columns/city-file.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import type { DecimalMark } from "../quantity/quantity-text.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { DateOrder } from "./date-cell.ts";
import { type Encoding, findEncoding } from "./encoding.ts";
import { uniqueHeadings } from "./headings.ts";

export type Delimiter = CityFile<string>["delimiter"];

/** How a file is written, as far as its first bytes show; everything a person should check is in the notes. */
export interface FileFormat {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  readonly decimalMark: DecimalMark;
  readonly dateOrder: DateOrder;
  /** Row of the headings as a spreadsheet counts; null when no row looks like headings. */
  readonly headingRow: number | null;
  /** Unique names of the headings, as settings write them. */
  readonly headings: readonly string[];
  /** Lines above the headings. */
  readonly titles: readonly string[];
  /** A few rows below the headings, to show. */
  readonly sample: readonly (readonly string[])[];
  readonly rowsLookedAt: number;
  /** Of each heading the share of the rows looked at whose value no row before has: 1 of ids, little of districts. */
  readonly ownValues: readonly number[];
  readonly notes: readonly string[];
}

/** In this order when two fit equally well: a comma stands inside cells more often than the others. */
const DELIMITERS: readonly Delimiter[] = ["\t", ";", "|", ","];

const ROWS_LOOKED_AT = 200;
const HEADING_WITHIN = 20;
const ROWS_SHOWN = 5;

/**
 * Finds how a file is written. Pure: the caller reads the sample, 64 KiB from the start is plenty.
 *
 * @param system the program's units: `us` writes the month first when nothing in the sample shows the order
 */
export function findFormat(bytes: Uint8Array, system: UnitSystem): FileFormat {
  const { encoding, note } = findEncoding(bytes);
  const notes = note === null ? [] : [note];
  const text = new TextDecoder(encoding).decode(bytes, { stream: true }).replace(/\r\n?/g, "\n");

  const delimiter = findDelimiter(text);
  if (delimiter === null) notes.push("No separator found: read as a file of one column.");
  const records = recordsOf(text, delimiter ?? ",");

  const headingAt = findHeadingRow(records);
  const titles = records
    .slice(0, headingAt ?? 0)
    .filter((cells) => !isBlank(cells))
    .map((cells) => cells.filter((cell) => cell.trim() !== "").join(" "));
  if (headingAt === null) notes.push(`No row of headings found in the first ${HEADING_WITHIN} rows.`);
  if (titles.length > 0)
    notes.push(
      `${titles.length === 1 ? "A title line is" : `${titles.length} title lines are`} above the headings in row ${(headingAt ?? 0) + 1}: ${titles.map((title) => JSON.stringify(title)).join(", ")}.`,
    );

  const body = records.slice((headingAt ?? -1) + 1);
  const decimal = findDecimalMark(body, delimiter);
  if (decimal.note !== null) notes.push(decimal.note);
  const date = findDateOrder(body, delimiter === ";" || decimal.mark === "," ? "si" : system);
  if (date.note !== null) notes.push(date.note);

  const headings = headingAt === null ? [] : uniqueHeadings(records[headingAt] ?? []);
  const rows = body.filter((cells) => !isBlank(cells));
  return {
    encoding,
    delimiter: delimiter ?? ",",
    decimalMark: decimal.mark,
    dateOrder: date.order,
    headingRow: headingAt === null ? null : headingAt + 1,
    headings,
    titles,
    sample: rows.slice(0, ROWS_SHOWN),
    rowsLookedAt: rows.length,
    ownValues: headings.map((_, at) => ownShare(rows.map((cells) => cells[at]?.trim() ?? ""))),
    notes,
  };
}

/** Share of the cells with a value that no cell before has. */
const ownShare = (cells: readonly string[]): number =>
  new Set(cells.filter((cell) => cell !== "")).size / Math.max(1, cells.length);

/** The separator that cuts most rows into the same, greatest number of cells; null when none cuts anything. */
function findDelimiter(text: string): Delimiter | null {
  const named = /^sep=([,;\t|])\n/i.exec(text)?.[1];
  const byName = DELIMITERS.find((delimiter) => delimiter === named);
  if (byName !== undefined) return byName;
  let best: { delimiter: Delimiter; marks: number } | null = null;
  for (const delimiter of DELIMITERS) {
    const widths = new Map<number, number>();
    for (const { length } of recordsOf(text, delimiter))
      if (length > 1) widths.set(length, (widths.get(length) ?? 0) + 1);
    const marks = Math.max(0, ...[...widths].map(([width, rows]) => (width - 1) * rows));
    if (marks > (best?.marks ?? 0)) best = { delimiter, marks };
  }
  return best?.delimiter ?? null;
}

/** Records of the sample; the last of many is left out, because the sample may cut it. */
function recordsOf(text: string, delimiter: Delimiter): readonly (readonly string[])[] {
  const parser = new Papa.Parser({ delimiter, newline: "\n", preview: ROWS_LOOKED_AT });
  const { data } = parser.parse(text, 0, false) as Papa.ParseResult<string[]>;
  return data.length > HEADING_WITHIN && data.length < ROWS_LOOKED_AT ? data.slice(0, -1) : data;
}

/** The first row that fills at least half of the usual width, mostly with words. A title fills one or two cells. */
function findHeadingRow(records: readonly (readonly string[])[]): number | null {
  const widths = records.map(({ length }) => length).sort((a, b) => a - b);
  const usual = widths[Math.floor(widths.length / 2)] ?? 0;
  const least = usual === 1 ? 1 : Math.max(2, Math.ceil(usual / 2));
  for (const [i, cells] of records.slice(0, HEADING_WITHIN).entries()) {
    const filled = cells.filter((cell) => cell.trim() !== "");
    if (filled.length < least) continue;
    const numbers = filled.filter((cell) => /^\s*[+-]?[\d.,/:-]+\s*$/.test(cell)).length;
    return numbers * 2 > filled.length ? null : i;
  }
  return null;
}

function findDecimalMark(
  records: readonly (readonly string[])[],
  delimiter: Delimiter | null,
): { readonly mark: DecimalMark; readonly note: string | null } {
  let commas = 0;
  let points = 0;
  let either = 0;
  for (const cells of records) {
    for (const cell of cells) {
      const text = cell.trim();
      if (/^[+-]?[1-9]\d{0,2}(,\d{3})+$/.test(text)) either++;
      else if (/^[+-]?\d+,\d+$/.test(text)) commas++;
      else if (/^[+-]?\d*\.\d+$/.test(text)) points++;
    }
  }
  if (commas > 0 && points > 0)
    return {
      mark: commas > points ? "," : ".",
      note: `Decimals with a comma (${showCount(commas)} cells) and with a point (${showCount(points)} cells): the ${commas > points ? "comma" : "point"} is taken. Check "decimal_mark".`,
    };
  if (commas > 0) return { mark: ",", note: null };
  if (either > 0 && points === 0 && delimiter !== ",")
    return {
      mark: ".",
      note: 'Numbers like 1,234 are taken as thousands. If the comma marks decimals, set "decimal_mark" to ",".',
    };
  return { mark: ".", note: null };
}

function findDateOrder(
  records: readonly (readonly string[])[],
  habit: UnitSystem,
): { readonly order: DateOrder; readonly note: string | null } {
  let dayFirst = 0;
  let monthFirst = 0;
  let seen = 0;
  for (const cells of records) {
    for (const cell of cells) {
      const found = /^\s*(\d{1,2})([/-])(\d{1,2})\2\d{4}\b/.exec(cell);
      if (found === null) continue;
      seen++;
      if (Number(found[1]) > 12) dayFirst++;
      if (Number(found[3]) > 12) monthFirst++;
    }
  }
  const order: DateOrder = habit === "us" ? "month first" : "day first";
  if (dayFirst > 0 && monthFirst > 0)
    return {
      order,
      note: `Dates with the day first (${dayFirst}) and with the month first (${monthFirst}): ${order} is taken. Check "date_order".`,
    };
  if (dayFirst > 0) return { order: "day first", note: null };
  if (monthFirst > 0) return { order: "month first", note: null };
  return {
    order,
    note:
      seen === 0
        ? `No dates like 3/4/2025 in the sample: ${order} is taken if any come.`
        : `Dates like 3/4/2025 do not show whether day or month is first: ${order} is taken. Check "date_order".`,
  };
}

const isBlank = (cells: readonly string[]): boolean => cells.every((cell) => cell.trim() === "");

import { rememberByNumber } from "../quantity/remember-by-number.ts";

/**
 * A table by columns. Numbers are doubles with NaN for missing, words that repeat are codes into a list (0 for
 * missing), other text is one pool of UTF-8 bytes with an end offset a row. All of it lies in shared buffers, so a
 * worker thread can fill or read a column without a copy.
 */
export interface NumberColumn {
  readonly kind: "number";
  readonly values: Float64Array;
}
export interface CodeColumn {
  readonly kind: "code";
  readonly codes: Uint32Array;
  /** `words[code]`; `words[0]` stands for missing and is never shown. */
  readonly words: readonly string[];
}
export interface TextColumn {
  readonly kind: "text";
  readonly bytes: Uint8Array;
  /** Row r is `bytes[ends[r] … ends[r + 1])`. */
  readonly ends: Uint32Array;
}
export type ColumnData = NumberColumn | CodeColumn | TextColumn;

export interface Table {
  readonly rows: number;
  readonly columns: ReadonlyMap<string, ColumnData>;
}

const decoder = new TextDecoder();

/** Letters up to which text is put together letter by letter; of longer ones strings are chains, which is slower. */
const SHORT = 12;

/** Null unless it is all ASCII. Ids and ratings are: a decoder, and the copy it asks for, take twice as long for them (250 ns, not 130). */
function shortText(bytes: Uint8Array, start: number, end: number): string | null {
  let text = "";
  for (let at = start; at < end; at++) {
    const byte = bytes[at]!;
    if (byte > 127) return null;
    text += String.fromCharCode(byte);
  }
  return text;
}

/** The number in a cell, NaN when missing. @throws RangeError when the table has no such number column. */
export function numberAt(table: Table, key: string, row: number): number {
  const column = table.columns.get(key);
  if (column?.kind !== "number") throw new RangeError(`numberAt: no number column ${JSON.stringify(key)}`);
  return column.values[row] ?? Number.NaN;
}

/** The numbers of a column, for a loop over its rows. @throws RangeError when the table has no such number column. */
export function numbersOf(table: Table, key: string): NumberColumn["values"] {
  const column = table.columns.get(key);
  if (column?.kind !== "number") throw new RangeError(`numbersOf: no number column ${JSON.stringify(key)}`);
  return column.values;
}

/** The codes of a column with their words, for a loop over its rows. @throws RangeError when the table has no such column of words. */
export function codesOf(table: Table, key: string): CodeColumn {
  const column = table.columns.get(key);
  if (column?.kind !== "code") throw new RangeError(`codesOf: no column of words ${JSON.stringify(key)}`);
  return column;
}

/** A reader of the texts of a column, for a loop over its rows: half the time of {@link textAt}. Works for words too. */
export function textsOf(table: Table, key: string): (row: number) => string {
  const column = table.columns.get(key);
  if (column?.kind !== "text") return (row) => textAt(table, key, row);
  const { ends, bytes } = column;
  // A buffer of Node's takes shared memory as it is; a mark of byte order, which begins with this byte, it would leave in.
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return (row) => {
    const start = ends[row] ?? 0;
    const end = ends[row + 1] ?? start;
    if (start === end) return "";
    return bytes[start] === 0xef ? textAt(table, key, row) : buffer.toString("utf8", start, end);
  };
}

/**
 * The same of a column of which many texts are the same four letters, as quick ratings are: one string stands for each of them, so
 * whoever looks them up finds them hashed.
 */
export function shortTextsOf(table: Table, key: string): (row: number) => string {
  const column = table.columns.get(key);
  const textOf = textsOf(table, key);
  if (column?.kind !== "text") return textOf;
  const { ends, bytes } = column;
  const known = rememberByNumber(textOf);
  return (row) => {
    const start = ends[row] ?? 0;
    if ((ends[row + 1] ?? start) - start !== 4) return textOf(row);
    const letters =
      bytes[start]! | (bytes[start + 1]! << 8) | (bytes[start + 2]! << 16) | (bytes[start + 3]! << 24);
    return letters === 0 ? textOf(row) : known(letters, row);
  };
}

/** The text in a cell, "" when missing. Works for words and free text. */
export function textAt(table: Table, key: string, row: number): string {
  const column = table.columns.get(key);
  switch (column?.kind) {
    case "code": {
      const code = column.codes[row] ?? 0;
      return code === 0 ? "" : (column.words[code] ?? "");
    }
    case "text": {
      const start = column.ends[row] ?? 0;
      const end = column.ends[row + 1] ?? start;
      // A decoder refuses views of shared memory, so the bytes are copied: a few dozen at a time.
      return (
        (end - start <= SHORT ? shortText(column.bytes, start, end) : null) ??
        decoder.decode(column.bytes.slice(start, end))
      );
    }
    default:
      throw new RangeError(`textAt: no text column ${JSON.stringify(key)}`);
  }
}

/**
 * The first row that says this; null when none does. Bytes are compared, the last first, for ids of one length mostly begin
 * alike: some milliseconds for a million.
 */
export function rowOfText(table: Table, key: string, text: string): number | null {
  const column = table.columns.get(key);
  if (column?.kind !== "text") throw new RangeError(`rowOfText: no column of text ${JSON.stringify(key)}`);
  const { bytes, ends } = column;
  const wanted = new TextEncoder().encode(text);
  for (let row = 0; row < table.rows; row++) {
    const start = ends[row]!;
    if (ends[row + 1]! - start !== wanted.length) continue;
    let at = wanted.length - 1;
    while (at >= 0 && bytes[start + at] === wanted[at]) at--;
    if (at < 0) return row;
  }
  return null;
}

/** The same columns with some replaced or added. */
export function withColumns(table: Table, added: Iterable<readonly [string, ColumnData]>): Table {
  return { rows: table.rows, columns: new Map([...table.columns, ...added]) };
}

/** A column of numbers, all missing. */
export function missingNumbers(rows: number): NumberColumn {
  return { kind: "number", values: new Float64Array(new SharedArrayBuffer(rows * 8)).fill(Number.NaN) };
}

/**
 * A column of numbers to be written row by row, by whoever writes its rows: until then a cell holds nothing that may be
 * read. Filled first, the pages of a plan's columns are all touched by one thread: 0.08 s of a million while the other waits.
 */
export const unwrittenNumbers = (rows: number): NumberColumn => zeros(rows);

/** A column of numbers, all 0. */
export function zeros(rows: number): NumberColumn {
  return { kind: "number", values: new Float64Array(new SharedArrayBuffer(rows * 8)) };
}

/** A column of words from a fixed list, all missing. Code i + 1 is `words[i]`. */
export function missingWords(rows: number, words: readonly string[]): CodeColumn {
  return { kind: "code", codes: new Uint32Array(new SharedArrayBuffer(rows * 4)), words: ["", ...words] };
}

/** These rows of a table, in this order, as columns of their own. */
export function pickRows(table: Table, rows: Uint32Array): Table {
  const picked = Array.from(table.columns, ([key, column]) => [key, pickFrom(column, rows)] as const);
  return { rows: rows.length, columns: new Map(picked) };
}

function pickFrom(column: ColumnData, rows: Uint32Array): ColumnData {
  switch (column.kind) {
    case "number": {
      const values = new Float64Array(new SharedArrayBuffer(rows.length * 8));
      rows.forEach((row, place) => {
        values[place] = column.values[row]!;
      });
      return { kind: "number", values };
    }
    case "code": {
      const codes = new Uint32Array(new SharedArrayBuffer(rows.length * 4));
      rows.forEach((row, place) => {
        codes[place] = column.codes[row]!;
      });
      return { ...column, codes };
    }
    case "text": {
      const ends = new Uint32Array(new SharedArrayBuffer((rows.length + 1) * 4));
      rows.forEach((row, place) => {
        ends[place + 1] = ends[place]! + column.ends[row + 1]! - column.ends[row]!;
      });
      const bytes = new Uint8Array(new SharedArrayBuffer(ends[rows.length]!));
      rows.forEach((row, place) => {
        bytes.set(column.bytes.subarray(column.ends[row]!, column.ends[row + 1]!), ends[place]!);
      });
      return { kind: "text", bytes, ends };
    }
    default:
      return column satisfies never;
  }
}

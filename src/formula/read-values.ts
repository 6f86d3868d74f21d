/** Columns as the sheet keeps them: numbers with NaN for missing, words by code (0 missing), text by UTF-8 bytes. */
export type ColumnValues =
  | { readonly kind: "number"; readonly values: Float64Array }
  | { readonly kind: "code"; readonly codes: Uint32Array; readonly words: readonly string[] }
  | { readonly kind: "text"; readonly bytes: Uint8Array; readonly ends: Uint32Array };

/** A value of one record by column key: a number in the stored unit (NaN missing), or a text ("" missing). */
export type Lookup = (key: string) => number | string;

/** A question about a text column: is it this text, or (null) is it there at all. */
export interface TextTest {
  readonly key: string;
  readonly text: string | null;
}

/** @throws RangeError when the record has no such number: which columns a formula reads was checked before. */
export function numberOf(lookup: Lookup, key: string): number {
  const value = lookup(key);
  if (typeof value !== "number")
    throw new RangeError(`formula: ${key} is ${JSON.stringify(value)}, not a number`);
  return value;
}

/** 1, 0, or NaN when the text is missing and the question is which text it is. */
export function testOf(lookup: Lookup, { key, text }: TextTest): number {
  const value = lookup(key);
  if (typeof value !== "string")
    throw new RangeError(`formula: ${key} is ${JSON.stringify(value)}, not a text`);
  if (text === null) return value === "" ? 0 : 1;
  return value === "" ? Number.NaN : value === text ? 1 : 0;
}

export function numbersOf(
  columns: ReadonlyMap<string, ColumnValues>,
  key: string,
  rows: number,
): Float64Array {
  const column = columns.get(key);
  if (column?.kind !== "number" || column.values.length < rows)
    throw new RangeError(`formula: no column of ${rows} numbers called ${key}`);
  return column.values;
}

/** A column of codes in which 0 is missing and `code` is the text asked for; row i is `codes[i − start]`. */
export function codesOf(
  columns: ReadonlyMap<string, ColumnValues>,
  { key, text }: TextTest,
  from: number,
  to: number,
): { readonly codes: Uint32Array; readonly code: number; readonly start: number } {
  const column = columns.get(key);
  switch (column?.kind) {
    case "code": {
      if (column.codes.length < to)
        throw new RangeError(`formula: ${key} has ${column.codes.length} rows of ${to}`);
      const code = text === null ? -1 : column.words.indexOf(text, 1);
      return { codes: column.codes, code, start: 0 };
    }
    case "text": {
      if (column.ends.length <= to)
        throw new RangeError(`formula: ${key} has ${column.ends.length - 1} rows of ${to}`);
      return { codes: matches(column, text, from, to), code: IS, start: from };
    }
    default:
      throw new RangeError(`formula: no text column called ${key}`);
  }
}

const MISSING = 0;
const IS = 1;
const IS_NOT = 2;

/** Compares bytes, so no text is built for a row that does not match. */
function matches(
  { bytes, ends }: { readonly bytes: Uint8Array; readonly ends: Uint32Array },
  text: string | null,
  from: number,
  to: number,
): Uint32Array {
  const wanted = new TextEncoder().encode(text ?? "");
  const codes = new Uint32Array(to - from);
  for (let i = from; i < to; i++) {
    const start = ends[i] ?? 0;
    const length = (ends[i + 1] ?? start) - start;
    if (length === 0) {
      codes[i - from] = MISSING;
      continue;
    }
    let same = length === wanted.length;
    for (let j = 0; same && j < length; j++) same = bytes[start + j] === wanted[j];
    codes[i - from] = same ? IS : IS_NOT;
  }
  return codes;
}

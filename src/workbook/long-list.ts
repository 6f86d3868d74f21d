import { showCount } from "../quantity/show-quantity.ts";
/**
 * A list of the laterals, or of something that laterals have, in the order of its sheet. Entries are worked out as
 * they are read, as often as they are read: a big program is never here as a whole.
 */
export interface LongList<Entry> extends Iterable<Entry> {
  readonly length: number;
  /** One, unless a sheet cannot hold them all; then several, in whole districts. */
  readonly parts: readonly Part<Entry>[];
}

/** The entries of one sheet. */
export interface Part<Entry> extends Iterable<Entry> {
  readonly length: number;
  /** The districts in it, by number. */
  readonly from: number;
  readonly to: number;
  /** The name of its sheet: the list's own, with a number where there are several. */
  readonly nameOf: (sheet: string) => string;
  /** Says that there are other parts, where there are. */
  readonly notes: readonly string[];
}

/** Rows of a list on one sheet: the file format's 1,048,576 without room for notes, headings and totals. */
export const ROWS_A_SHEET = 1_048_000;

export interface ListSource<Entry> {
  /** How many entries each district has, district number 1 first. */
  readonly perDistrict: readonly number[];
  readonly districtNames: readonly string[];
  readonly rowsASheet: number;
  /** The entries of the districts from one number to another, both included. */
  readonly between: (from: number, to: number) => Iterable<Entry>;
}

/** A list in parts that each fit on a sheet, as few as follow one another in the order of the districts. */
export function listByDistrict<Entry>(source: ListSource<Entry>): LongList<Entry> {
  const { perDistrict, between } = source;
  const spans = spansOf(source);
  return {
    length: perDistrict.reduce((sum, count) => sum + count, 0),
    parts: spans.map(({ from, to, length }, i) => ({
      length,
      from,
      to,
      nameOf: (sheet: string) => (spans.length === 1 ? sheet : `${sheet} ${i + 1}`),
      notes: spans.length === 1 ? [] : [partNote(source, i + 1, spans.length, from, to)],
      [Symbol.iterator]: () => between(from, to)[Symbol.iterator](),
    })),
    [Symbol.iterator]: () => between(1, perDistrict.length)[Symbol.iterator](),
  };
}

interface Span {
  readonly from: number;
  to: number;
  length: number;
}

function spansOf({ perDistrict, districtNames, rowsASheet }: ListSource<unknown>): readonly Span[] {
  const spans: Span[] = [];
  let span: Span = { from: 1, to: 0, length: 0 };
  for (const [i, count] of perDistrict.entries()) {
    if (count > rowsASheet) {
      throw new RangeError(
        `listByDistrict: ${showCount(count)} rows of district ${JSON.stringify(districtNames[i])} are more than the ${showCount(rowsASheet)} of a sheet; divide it into smaller districts`,
      );
    }
    if (span.length + count > rowsASheet) {
      spans.push(span);
      span = { from: i + 1, to: i, length: 0 };
    }
    span.to = i + 1;
    span.length += count;
  }
  return [...spans, span];
}

const partNote = (
  { districtNames, rowsASheet }: ListSource<unknown>,
  part: number,
  parts: number,
  from: number,
  to: number,
): string =>
  `Part ${part} of ${parts}, because a sheet holds no more than ${showCount(rowsASheet)} of these rows: ` +
  `districts ${districtNames[from - 1]} to ${districtNames[to - 1]}, numbers ${from} to ${to}.`;

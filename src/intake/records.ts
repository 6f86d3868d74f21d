import Papa from "papaparse";
import { textPieces } from "./text-pieces.ts";

/** Characters after which a record that has not ended is taken for a stray quote mark. A long row has a few thousand. */
export const LONGEST_RECORD = 1 << 20;

/**
 * Where reading stops: five times the rows and three times the text of a state's million laterals in 24 columns. A file that goes on
 * and on (a disk image under a wrong name, a billion rows) is never held whole, and text pools stay below their 4 GiB.
 */
export const MOST_READ = { rows: 5_000_000, characters: 1 << 30 } as const;

/** Measured: 64 KiB is the fastest piece; 1 MiB is four times slower. */
const PIECE_LENGTH = 1 << 16;

export interface RecordBatch {
  /** Row of the first record as a spreadsheet numbers rows: a record is one row, however many lines its cells have. */
  readonly firstRow: number;
  readonly records: readonly (readonly string[])[];
  /** Characters of the text read so far. */
  readonly characters: number;
  /**
   * `unclosed`: the last record has a quoted cell that the file never closes. `runaway`: reading stopped in the last
   * record, which has no end within {@link LONGEST_RECORD} characters. `too much`: the last record is the first beyond
   * {@link MOST_READ}, and reading stopped there.
   */
  readonly ending: "ends" | "unclosed" | "runaway" | "too much";
  /** Some cell has a line break. */
  readonly multiline: boolean;
  /** Some character could not be decoded. */
  readonly damaged: boolean;
}

/**
 * CSV text → records. The text is parsed piece by piece; the unfinished record at the end of a piece goes before
 * the next one. A stray quote mark would make that quadratic in the file's length, hence the longest record.
 *
 * @param pieceLength for tests; the records do not depend on it
 * @param most for tests, which have no time for five million rows
 */
export async function* readRecords(
  chunks: AsyncIterable<string>,
  delimiter: string,
  pieceLength = PIECE_LENGTH,
  most: { readonly rows: number; readonly characters: number } = MOST_READ,
): AsyncGenerator<RecordBatch> {
  const parser = new Papa.Parser({ delimiter, newline: "\n" });
  let firstRow = 1;
  let carried = "";
  let characters = 0;
  for await (const piece of textPieces(chunks, pieceLength)) {
    const text = carried + piece;
    const { data, meta } = parser.parse(text, 0, true) as Papa.ParseResult<string[]>;
    carried = text.slice(meta.cursor);
    characters += piece.length;
    const room = characters > most.characters ? 0 : most.rows - firstRow + 1;
    if (data.length > room) {
      const damaged = text.includes("\ufffd");
      yield {
        firstRow,
        records: data.slice(0, room + 1),
        characters,
        ending: "too much",
        multiline: true,
        damaged,
      };
      return;
    }
    if (data.length > 0) {
      const multiline = text.includes('"') && lineEnds(text, meta.cursor) > data.length;
      yield {
        firstRow,
        records: data,
        characters,
        ending: "ends",
        multiline,
        damaged: text.includes("\ufffd"),
      };
      firstRow += data.length;
    }
    if (carried.length > LONGEST_RECORD) {
      const records = [[carried.slice(0, 200)]];
      yield { firstRow, records, characters, ending: "runaway", multiline: true, damaged: false };
      return;
    }
  }
  if (carried === "") return;
  // Quote errors of a piece's cut last record mean nothing; those of the file's last record do.
  const { data, errors } = parser.parse(carried, 0, false) as Papa.ParseResult<string[]>;
  const unclosed = errors.some(({ code }) => code === "MissingQuotes");
  yield {
    firstRow,
    records: data,
    characters,
    ending: unclosed ? "unclosed" : "ends",
    multiline: carried.includes("\n"),
    damaged: carried.includes("\ufffd"),
  };
}

function lineEnds(text: string, before: number): number {
  let count = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < before; at = text.indexOf("\n", at + 1)) count++;
  return count;
}

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
  readonly rows: number;
  readonly records: () => readonly (readonly string[])[];
  /** The same as lines of text, up to `end`, where no cell is quoted: then they need not be cut before somebody asks for `records`. */
  readonly lines: { readonly text: string; readonly end: number } | null;
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
  const parser = new Papa.Parser({ delimiter, newline: "\n" }) as unknown as Parser;
  let firstRow = 1;
  let carried = "";
  let characters = 0;
  for await (const piece of textPieces(chunks, pieceLength)) {
    // Joined and not added: to look at every letter of 18 MB takes 29 ms so, and 41 of sums of strings.
    const text = [carried, piece].join("");
    const quoted = text.includes('"');
    const { records, rows, end } = quoted ? parsed(parser, text) : plainLines(text, delimiter);
    carried = text.slice(end);
    characters += piece.length;
    const damaged = text.includes("\ufffd");
    const room = characters > most.characters ? 0 : most.rows - firstRow + 1;
    if (rows > room) {
      const read = records().slice(0, room + 1);
      yield {
        firstRow,
        rows: room + 1,
        records: () => read,
        lines: null,
        characters,
        ending: "too much",
        multiline: true,
        damaged,
      };
      return;
    }
    if (rows > 0) {
      const lines = quoted ? null : { text, end };
      const multiline = quoted && lineEnds(text, end) > rows;
      yield { firstRow, rows, records, lines, characters, ending: "ends", multiline, damaged };
      firstRow += rows;
    }
    if (carried.length > LONGEST_RECORD) {
      const records = () => [[carried.slice(0, 200)]];
      yield {
        firstRow,
        rows: 1,
        records,
        lines: null,
        characters,
        ending: "runaway",
        multiline: true,
        damaged: false,
      };
      return;
    }
  }
  if (carried === "") return;
  // Quote errors of a piece's cut last record mean nothing; those of the file's last record do.
  const { data, errors } = parser.parse(carried, 0, false);
  const unclosed = errors.some(({ code }) => code === "MissingQuotes");
  yield {
    firstRow,
    rows: data.length,
    records: () => data,
    lines: null,
    characters,
    ending: unclosed ? "unclosed" : "ends",
    multiline: carried.includes("\n"),
    damaged: carried.includes("\ufffd"),
  };
}

interface Parser {
  parse(text: string, from: number, ignoreLastRow: boolean): Papa.ParseResult<string[]>;
}

/** What is cut of a text: its whole records, up to `end`. */
interface Cut {
  readonly rows: number;
  readonly end: number;
  readonly records: () => readonly (readonly string[])[];
}

function parsed(parser: Parser, text: string): Cut {
  const { data, meta } = parser.parse(text, 0, true);
  return { rows: data.length, end: meta.cursor, records: () => data };
}

/** Without quote marks a record is a line. */
function plainLines(text: string, delimiter: string): Cut {
  const end = text.lastIndexOf("\n") + 1;
  const cut = () =>
    text
      .slice(0, end)
      .split("\n")
      .slice(0, -1)
      .map((line) => line.split(delimiter));
  return { rows: lineEnds(text, end), end, records: cut };
}

function lineEnds(text: string, before: number): number {
  let count = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < before; at = text.indexOf("\n", at + 1)) count++;
  return count;
}

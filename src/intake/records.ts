import { isAscii, isUtf8 } from "node:buffer";
import Papa from "papaparse";
import { bytePieces } from "./byte-pieces.ts";
import { RowBlock } from "./row-block.ts";

/** Characters after which a record that has not ended is taken for a stray quote mark. A long row has a few thousand. */
export const LONGEST_RECORD = 1 << 20;

/**
 * Where reading stops: five times the rows and three times the text of a state's million laterals in 24 columns. A file that goes on
 * and on (a disk image under a wrong name, a billion rows) is never held whole, and text pools stay below their 4 GiB.
 */
export const MOST_READ = { rows: 5_000_000, characters: 1 << 30 } as const;

/** In bytes: a piece and the places of its cells stay in the processor's cache. Measured, 16 to 128 KiB are alike. */
const PIECE_LENGTH = 1 << 16;

const LF = 10;
const CR = 13;
const QUOTE = 34;
const BYTE_ORDER_MARK = Buffer.from("\ufeff");

export interface RecordBatch {
  /** The records, filled anew for the next batch. */
  readonly block: RowBlock;
  /** How many of the block's rows are of this batch, from the first. */
  readonly rows: number;
  /** Characters of the text read so far. */
  readonly characters: number;
  /**
   * `unclosed`: the last record has a quoted cell that the file never closes. `runaway`: reading stopped in the last
   * record, which has no end within {@link LONGEST_RECORD} characters. `too much`: the last record is the first beyond
   * {@link MOST_READ}, and reading stopped there.
   */
  readonly ending: "ends" | "unclosed" | "runaway" | "too much";
  /** Some character could not be decoded. */
  readonly damaged: boolean;
}

/**
 * CSV text → records. The text is cut piece by piece; the unfinished record at the end of a piece goes before
 * the next one. A stray quote mark would make that quadratic in the file's length, hence the longest record.
 * A line end is CR LF, LF or CR, and LF in a quoted cell; byte order marks before the text are dropped.
 *
 * @param chunks the text as UTF-8, cut anywhere
 * @param pieceLength in bytes, for tests; the records do not depend on it
 * @param most for tests, which have no time for five million rows
 */
export async function* readRecords(
  chunks: AsyncIterable<Uint8Array>,
  delimiter: string,
  pieceLength = PIECE_LENGTH,
  most: { readonly rows: number; readonly characters: number } = MOST_READ,
): AsyncGenerator<RecordBatch> {
  const parser = new Papa.Parser({ delimiter, newline: "\n" }) as unknown as Parser;
  const block = new RowBlock();
  const unread = new Unread();
  let firstRow = 1;
  let characters = 0;
  const batch = (rows: number, ending: RecordBatch["ending"], damaged = false): RecordBatch => {
    block.firstRow = firstRow;
    firstRow += rows;
    return { block, rows, characters, ending, damaged };
  };
  for await (const piece of bytePieces(wholeLineEnds(chunks), pieceLength)) {
    unread.add(piece);
    if (firstRow === 1) unread.dropMarks();
    const lines = sound(unread.takeLines());
    characters += charactersIn(piece);
    if (!lines.includes(QUOTE)) block.takeLines(lines, delimiter.charCodeAt(0));
    else unread.putBack(takeQuoted(block, parser, textOf(lines)));
    const room = characters > most.characters ? 0 : most.rows - firstRow + 1;
    if (block.rows > room) {
      yield batch(room + 1, "too much", isDamaged(lines));
      return;
    }
    if (block.rows > 0) yield batch(block.rows, "ends", isDamaged(lines));
    if (unread.length > LONGEST_RECORD && charactersIn(unread.rest()) > LONGEST_RECORD) {
      block.takeRecords([[textOf(sound(unread.rest())).slice(0, 200)]], true);
      yield batch(1, "runaway");
      return;
    }
  }
  if (unread.length === 0) return;
  const rest = sound(unread.rest());
  const text = textOf(rest);
  // Quote errors of a piece's cut last record mean nothing; those of the file's last record do.
  const { data, errors } = parser.parse(text, 0, false);
  block.takeRecords(data, text.includes("\n"));
  const unclosed = errors.some(({ code }) => code === "MissingQuotes");
  yield batch(data.length, unclosed ? "unclosed" : "ends", isDamaged(rest));
}

interface Parser {
  parse(text: string, from: number, ignoreLastRow: boolean): Papa.ParseResult<string[]>;
}

/** Takes the whole records of lines with quote marks. @returns the lines of the one that has not ended */
function takeQuoted(block: RowBlock, parser: Parser, text: string): string {
  const { data, meta } = parser.parse(text, 0, true);
  let lineEnds = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < meta.cursor; at = text.indexOf("\n", at + 1)) lineEnds++;
  block.takeRecords(data, lineEnds > data.length);
  return text.slice(meta.cursor);
}

/** Bytes that are not yet cut into records. */
class Unread {
  #bytes = Buffer.alloc(0);
  #from = 0;
  #to = 0;

  get length(): number {
    return this.#to - this.#from;
  }

  rest(): Buffer {
    return this.#bytes.subarray(this.#from, this.#to);
  }

  /** Overwrites what was taken before. */
  add(piece: Uint8Array): void {
    const { length } = this;
    if (length + piece.length > this.#bytes.length)
      this.#bytes = Buffer.concat([this.rest()], 2 * (length + piece.length));
    else this.#bytes.copyWithin(0, this.#from, this.#to);
    this.#bytes.set(piece, length);
    this.#from = 0;
    this.#to = length + piece.length;
  }

  dropMarks(): void {
    while (this.rest().indexOf(BYTE_ORDER_MARK) === 0) this.#from += BYTE_ORDER_MARK.length;
  }

  /** The lines that have ended. A CR in the last place may be half a line end. */
  takeLines(): Buffer {
    const rest = this.rest();
    const afterLf = rest.lastIndexOf(LF) + 1;
    const end = afterLf + rest.subarray(afterLf, -1).lastIndexOf(CR) + 1;
    this.#from += end;
    return rest.subarray(0, end);
  }

  /** Puts a text before the rest. */
  putBack(text: string): void {
    if (text === "") return;
    this.#bytes = Buffer.concat([Buffer.from(text), this.rest()]);
    this.#from = 0;
    this.#to = this.#bytes.length;
  }
}

/** A CR that ends the text is a line end; with LF after it nothing waits for the other half. */
async function* wholeLineEnds(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let last: number | undefined;
  for await (const chunk of chunks) {
    last = chunk.at(-1) ?? last;
    yield chunk;
  }
  if (last === CR) yield Uint8Array.of(LF);
}

const decoder = new TextDecoder("utf-8", { ignoreBOM: true });

/** Bytes that are not UTF-8 become U+FFFD. */
const sound = (bytes: Buffer): Buffer => (isUtf8(bytes) ? bytes : Buffer.from(decoder.decode(bytes)));

const isDamaged = (bytes: Buffer): boolean => !isAscii(bytes) && bytes.includes("\ufffd");

const textOf = (bytes: Buffer): string => bytes.toString().replace(/\r\n?/g, "\n");

/** Counted by their first bytes. */
function charactersIn(bytes: Uint8Array): number {
  if (isAscii(bytes)) return bytes.length;
  let count = 0;
  for (const byte of bytes) if (byte < 0x80 || byte > 0xbf) count++;
  return count;
}

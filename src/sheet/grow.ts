import type { CodeColumn, NumberColumn, TextColumn } from "./table.ts";

/** Rows a table is thought to get, for room taken at once; 0 while nobody knows. */
export type ExpectedRows = () => number;

const unknown: ExpectedRows = () => 0;

/**
 * Columns that grow while a file is read, row after row, and end as shared columns of exactly the rows read. When full
 * each takes the room of the rows expected, at least twice its own.
 */
export class GrowingNumbers {
  readonly #expected: ExpectedRows;
  #values = new Float64Array(1024);
  #rows = 0;

  constructor(expected: ExpectedRows = unknown) {
    this.#expected = expected;
  }

  push(value: number): void {
    if (this.#rows === this.#values.length)
      this.#values = larger(this.#values, Float64Array, this.#expected());
    this.#values[this.#rows++] = value;
  }

  /** Adds so many rows, for whoever asks to write. */
  room(count: number): Float64Array {
    const start = this.#rows;
    this.#rows += count;
    while (this.#rows > this.#values.length)
      this.#values = larger(this.#values, Float64Array, this.#expected());
    return this.#values.subarray(start, this.#rows);
  }

  finish(): NumberColumn {
    return { kind: "number", values: exactly(this.#values, Float64Array, this.#rows) };
  }
}

/** Words that repeat, in the order they are first met, after any fixed list. */
export class GrowingWords {
  readonly #expected: ExpectedRows;
  readonly #words: string[];
  readonly #codeOf = new Map<string, number>();
  #codes = new Uint32Array(1024);
  #rows = 0;

  constructor(fixed: readonly string[] = [], expected: ExpectedRows = unknown) {
    this.#expected = expected;
    this.#words = ["", ...fixed];
    for (const [i, word] of fixed.entries()) this.#codeOf.set(word, i + 1);
  }

  /** "" is missing. */
  push(word: string): void {
    if (this.#rows === this.#codes.length) this.#codes = larger(this.#codes, Uint32Array, this.#expected());
    this.#codes[this.#rows++] = this.codeOf(word);
  }

  /** Adds so many rows, for whoever asks to write their codes. */
  room(count: number): Uint32Array {
    const start = this.#rows;
    this.#rows += count;
    while (this.#rows > this.#codes.length) this.#codes = larger(this.#codes, Uint32Array, this.#expected());
    return this.#codes.subarray(start, this.#rows);
  }

  /** The word's code, a new one for a word not met before. */
  codeOf(word: string): number {
    if (word === "") return 0;
    const known = this.#codeOf.get(word);
    if (known !== undefined) return known;
    const code = this.#words.push(word) - 1;
    this.#codeOf.set(word, code);
    return code;
  }

  finish(): CodeColumn {
    return { kind: "code", codes: exactly(this.#codes, Uint32Array, this.#rows), words: this.#words };
  }
}

/** Texts of UTF-8 among others: text i is `bytes[bounds[first[i] + place] + 1 … bounds[first[i] + place + 1])`. */
export interface TextsInBytes {
  readonly bytes: Uint8Array;
  readonly bounds: Int32Array;
  readonly first: Int32Array;
  readonly place: number;
}

const encoder = new TextEncoder();

/** Text that does not repeat. Bytes in one pool: a million kept strings would pin the file's chunks in memory. */
export class GrowingText {
  readonly #expected: ExpectedRows;
  protected bytes = new Uint8Array(16 * 1024);
  /** As in {@link TextColumn}. */
  protected ends = new Uint32Array(1025);
  protected rows = 0;

  constructor(expected: ExpectedRows = unknown) {
    this.#expected = expected;
  }

  push(text: string): void {
    const start = this.#roomFor(text.length * 3);
    const end =
      this.#asciiEnd(text, start) ?? start + encoder.encodeInto(text, this.bytes.subarray(start)).written;
    this.ends[++this.rows] = end;
  }

  /** Takes a text of UTF-8, `source[from … to)`. */
  pushBytes(source: Uint8Array, from: number, to: number): void {
    const start = this.#roomFor(to - from);
    const { bytes } = this;
    for (let i = from; i < to; i++) bytes[start + i - from] = source[i]!;
    this.ends[++this.rows] = start + to - from;
  }

  /**
   * Takes some texts of a list, from the first up to, not including, the end. Four letters are copied at once, and the text after a text overwrites what
   * is too much: half the time of letter by letter, 0.1 s of the files of a million laterals.
   */
  pushAll({ bytes: source, bounds, first, place }: TextsInBytes, from: number, end: number): void {
    let length = 0;
    for (let i = from; i < end; i++) {
      const before = first[i]! + place;
      length += bounds[before + 1]! - bounds[before]! - 1;
    }
    let at = this.#roomFor(length + WORD, end - from);
    const { bytes, ends } = this;
    const [letters, copied] = [viewOf(source), viewOf(bytes)];
    let { rows } = this;
    for (let i = from; i < end; i++) {
      const before = first[i]! + place;
      const start = bounds[before]! + 1;
      const stop = bounds[before + 1]!;
      if (stop + WORD <= source.length)
        for (let letter = start; letter < stop; letter += WORD)
          copied.setInt32(at + letter - start, letters.getInt32(letter));
      else for (let letter = start; letter < stop; letter++) bytes[at + letter - start] = source[letter]!;
      at += stop - start;
      ends[++rows] = at;
    }
    this.rows = rows;
  }

  finish(): TextColumn {
    return {
      kind: "text",
      bytes: exactly(this.bytes, Uint8Array, this.ends[this.rows]!),
      ends: exactly(this.ends, Uint32Array, this.rows + 1),
    };
  }

  /**
   * Puts text of ASCII in its place, letter by letter: null, and nothing to keep, when it is other text. The encoder takes longer to be
   * called than for an id or an address: 0.19 s of the 1.3 s in which 100,000 laterals and their surveys are read.
   */
  #asciiEnd(text: string, start: number): number | null {
    const bytes = this.bytes;
    let end = start;
    for (let i = 0; i < text.length; i++) {
      const code = text.charCodeAt(i);
      if (code > 0x7f) return null;
      bytes[end++] = code;
    }
    return end;
  }

  /** Where the next text begins, with room for so many texts of so many bytes. */
  #roomFor(bytes: number, texts = 1): number {
    const start = this.ends[this.rows]!;
    while (this.rows + texts >= this.ends.length)
      this.ends = larger(this.ends, Uint32Array, this.#expected() + 1);
    while (start + bytes > this.bytes.length)
      this.bytes = larger(this.bytes, Uint8Array, this.#bytesExpected());
    return start;
  }

  /** A quarter more than rows like those so far take: ids get longer as they are counted up. */
  #bytesExpected(): number {
    return this.rows === 0 ? 0 : Math.ceil((1.25 * this.#expected() * this.ends[this.rows]!) / this.rows);
  }
}

/** Bytes of a word. */
const WORD = 4;

const viewOf = ({ buffer, byteOffset, byteLength }: Uint8Array): DataView =>
  new DataView(buffer, byteOffset, byteLength);

type Growing = Float64Array | Uint32Array | Uint8Array;
type Maker<A extends Growing> = { new (buffer: SharedArrayBuffer): A; readonly BYTES_PER_ELEMENT: number };

/** Bytes from which spare room is pages that were never touched, which take no memory. */
const MANY = 1 << 20;

function larger<A extends Growing>(full: A, Make: Maker<A>, expected: number): A {
  const length = Math.max(full.length * 2, expected);
  const grown = new Make(new SharedArrayBuffer(length * Make.BYTES_PER_ELEMENT));
  grown.set(full);
  return grown;
}

/** The first of them, in shared memory: without a copy where there are many, so that the largest columns are never held twice. */
function exactly<A extends Growing>(values: A, Make: Maker<A>, length: number): A {
  if (values.byteLength >= MANY) return values.subarray(0, length) as A;
  const exact = new Make(new SharedArrayBuffer(length * Make.BYTES_PER_ELEMENT));
  exact.set(values.subarray(0, length));
  return exact;
}

import type { Writable } from "node:stream";
import { crc32, createDeflateRaw, type DeflateRaw } from "node:zlib";
import { showCount } from "../quantity/show-quantity.ts";

/*
 * A zip file written as it is made: no member is ever in memory whole.
 * Source of the layout: PKWARE's APPNOTE.TXT 6.3, sections 4.3 (records) and 4.4 (fields).
 */

/** Bytes of a member that may wait to be packed, on a thread of Node's own, while more are made. */
const LONGEST_QUEUE = 1 << 20;
/** What a zip file holds at most. */
export interface ZipLimits {
  /** Of a member, and of the whole file. */
  readonly bytes: number;
  readonly members: number;
}

/**
 * Sizes and places in the plain form of the format are 32-bit numbers, the number of members one of 16 bits; the highest of each
 * means that the true one stands in a record of the long form (4.3.9.2, 4.4.1.4). That form is not written: spreadsheets
 * do not open one whose sizes follow the packed bytes, as far as is known from memory, unverified.
 */
const PLAIN_FORM: ZipLimits = { bytes: 0xffff_fffe, members: 0xfffe };

/** A file that its form cannot hold; the message is for people. */
export class TooLarge extends Error {
  override readonly name = "TooLarge";
}
/** Bits 3 and 11: sizes follow the packed bytes; names are in UTF-8. */
const FLAGS = 0x0808;
const DEFLATED = 8;
/** 1980-01-01, the earliest day the format knows: the same book gives the same bytes whenever it is written. */
const NO_TIME = 0x0021_0000;

interface Written {
  readonly name: Buffer;
  readonly at: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
}

/** One member after another. Each step waits until what it writes into has taken what came before. */
export class ZipStream {
  readonly #into: Writable;
  readonly #level: number;
  readonly #members: Written[] = [];
  readonly #most: ZipLimits;
  #at = 0;

  /**
   * @param level of packing, 1 (fast) to 9 (small)
   * @param most only a test asks for less than the form holds
   */
  constructor(into: Writable, level: number, most = PLAIN_FORM) {
    this.#into = into;
    this.#level = level;
    this.#most = most;
  }

  /**
   * Writes a member from its bytes, read as fast as they can be packed and taken.
   *
   * @throws TooLarge as soon as the member or the file is longer than its form can say
   */
  async add(name: string, content: Iterable<Buffer>): Promise<void> {
    if (this.#members.length >= this.#most.members)
      throw this.#tooLarge(`more than ${this.#most.members} parts`);
    const nameBytes = Buffer.from(name);
    const at = this.#at;
    await this.#put(
      fields(
        [4, 0x04034b50],
        [2, 20],
        [2, FLAGS],
        [2, DEFLATED],
        [4, NO_TIME],
        [4, 0],
        [4, 0],
        [4, 0],
        [2, nameBytes.length],
        [2, 0],
      ),
    );
    await this.#put(nameBytes);
    const start = this.#at;
    // The packer is a stream and takes a stream's options too, which its types do not tell.
    const options = { level: this.#level, chunkSize: 1 << 16, highWaterMark: LONGEST_QUEUE };
    const packer = createDeflateRaw(options);
    const putting = this.#putAll(packer);
    const { crc, size } = await pack(this.#bounded(name, content), packer, putting);
    const packed = this.#at - start;
    this.#verifyPlace(name);
    await this.#put(fields([4, 0x08074b50], [4, crc], [4, packed], [4, size]));
    this.#members.push({ name: nameBytes, at, crc, packed, size });
  }

  /** Writes the directory and ends what it was written into. */
  async end(): Promise<void> {
    const from = this.#at;
    // An entry is 46 bytes and its name.
    const directory = this.#members.reduce((sum, { name }) => sum + 46 + name.length, 0);
    this.#verifyPlace("its directory", directory);
    for (const { name, at, crc, packed, size } of this.#members) {
      await this.#put(
        fields(
          [4, 0x02014b50],
          [2, 20],
          [2, 20],
          [2, FLAGS],
          [2, DEFLATED],
          [4, NO_TIME],
          [4, crc],
          [4, packed],
          [4, size],
          [2, name.length],
          [2, 0],
          [2, 0],
          [2, 0],
          [2, 0],
          [4, 0],
          [4, at],
        ),
      );
      await this.#put(name);
    }
    const count = this.#members.length;
    await this.#put(
      fields(
        [4, 0x06054b50],
        [2, 0],
        [2, 0],
        [2, count],
        [2, count],
        [4, this.#at - from],
        [4, from],
        [2, 0],
      ),
    );
    this.#into.end();
  }

  *#bounded(name: string, content: Iterable<Buffer>): Generator<Buffer> {
    let size = 0;
    for (const bytes of content) {
      size += bytes.length;
      if (size > this.#most.bytes)
        throw this.#tooLarge(`more than ${showCount(this.#most.bytes)} bytes of ${name}`);
      this.#verifyPlace(name);
      yield bytes;
    }
  }

  #verifyPlace(name: string, more = 0): void {
    if (this.#at + more > this.#most.bytes)
      throw this.#tooLarge(`more than ${showCount(this.#most.bytes)} bytes, with ${name}`);
  }

  #tooLarge(what: string): TooLarge {
    return new TooLarge(
      `A workbook would hold ${what}, which is more than its form can. Nothing was written. Make it of fewer laterals ` +
        "(wyeplan workbook --season NAME), or take its sheets as CSV (wyeplan table).",
    );
  }

  async #putAll(packer: DeflateRaw): Promise<void> {
    for await (const chunk of packer) await this.#put(chunk as Buffer);
  }

  async #put(bytes: Buffer): Promise<void> {
    if (this.#into.destroyed) throw closed(this.#into);
    this.#at += bytes.length;
    if (!this.#into.write(bytes)) await drained(this.#into);
  }
}

const closed = (stream: Writable): Error =>
  stream.errored ?? new Error("the stream of the file was closed before its end");

/** Resolves when the stream takes more. One that was closed or has failed never will, and is not waited for. */
function drained(stream: Writable): Promise<void> {
  return new Promise((resolve, reject) => {
    const settle = (then: () => void) => () => {
      stream.off("drain", onDrain);
      stream.off("close", onClose);
      then();
    };
    const onDrain = settle(resolve);
    const onClose = settle(() => reject(closed(stream)));
    stream.on("drain", onDrain);
    stream.on("close", onClose);
  });
}

async function pack(
  content: Iterable<Buffer>,
  packer: DeflateRaw,
  putting: Promise<void>,
): Promise<{ readonly crc: number; readonly size: number }> {
  // Where the stream fails, the packer is destroyed and says so too: `putting` has the reason.
  packer.on("error", () => {});
  putting.catch(() => {});
  let crc = 0;
  let size = 0;
  try {
    for (const bytes of content) {
      crc = crc32(bytes, crc);
      size += bytes.length;
      if (!packer.write(bytes)) await Promise.race([drained(packer), putting]);
      else await Promise.race([nextTurn(), putting]);
    }
  } catch (error) {
    packer.destroy();
    throw error;
  }
  packer.end();
  await putting;
  return { crc, size };
}

/** The packer gives back and takes up its bytes between turns. */
const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Little-endian numbers, each of 2 or 4 bytes. */
function fields(...numbers: readonly (readonly [2 | 4, number])[]): Buffer {
  const bytes = Buffer.alloc(numbers.reduce((sum, [size]) => sum + size, 0));
  let at = 0;
  for (const [size, value] of numbers) at = bytes.writeUIntLE(value, at, size);
  return bytes;
}

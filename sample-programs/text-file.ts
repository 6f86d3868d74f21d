import { type FileHandle, open } from "node:fs/promises";

/** Characters held before they are written out. Measured: larger buffers cost more in collecting garbage than they save in writes. */
const HELD = 1 << 15;

/**
 * A text file written as it comes. Each full buffer is awaited before more is taken, so memory stays bounded
 * however long the file becomes.
 */
export class TextFile {
  readonly #handle: FileHandle;
  readonly #encode: (text: string) => Uint8Array;
  #held = "";

  private constructor(handle: FileHandle, encode: (text: string) => Uint8Array) {
    this.#handle = handle;
    this.#encode = encode;
  }

  static async create(path: string, encoding: SampleEncoding): Promise<TextFile> {
    return new TextFile(await open(path, "w"), encoding === "utf-8" ? encodeUtf8 : encodeWindows1252);
  }

  /** Takes text. True when {@link flush} must be awaited before more. */
  add(text: string): boolean {
    this.#held += text;
    return this.#held.length >= HELD;
  }

  async flush(): Promise<void> {
    const bytes = this.#encode(this.#held);
    this.#held = "";
    let from = 0;
    while (from < bytes.length)
      from += (await this.#handle.write(bytes, from, bytes.length - from)).bytesWritten;
  }

  async close(): Promise<void> {
    await this.flush();
    await this.#handle.close();
  }
}

export type SampleEncoding = "utf-8" | "windows-1252";

const encodeUtf8 = (text: string): Uint8Array => Buffer.from(text, "utf8");

/** Windows-1252 is Latin-1 except from 0x80 to 0x9F; of those the samples use the dash and the euro sign. */
const ABOVE_LATIN_1: Readonly<Record<string, number>> = { "–": 0x96, "€": 0x80 };

/** @throws RangeError for a character the encoding does not have, rather than writing a question mark */
export function encodeWindows1252(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    const byte = code < 0x80 || (code >= 0xa0 && code <= 0xff) ? code : ABOVE_LATIN_1[text[i]!];
    if (byte === undefined)
      throw new RangeError(
        `encodeWindows1252 has no byte for ${JSON.stringify(text[i])} in ${JSON.stringify(text.slice(Math.max(0, i - 20), i + 20))}`,
      );
    bytes[i] = byte;
  }
  return bytes;
}

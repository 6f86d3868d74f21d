import type { Encoding } from "./encoding.ts";

/**
 * Windows-1252 characters of the bytes 0x80 to 0x9F, from the WHATWG Encoding Standard, index windows-1252; a byte
 * without a character stands for the control code of its number.
 */
const WINDOWS_1252_HIGH = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/**
 * Bytes of a file → its text, without a byte order mark. Bytes that are not of the encoding become U+FFFD, which
 * the reader of rows reports. Chunks may cut a character anywhere.
 */
export async function* decodeText(
  bytes: AsyncIterable<Uint8Array>,
  encoding: Encoding,
): AsyncGenerator<string> {
  const decoder = new TextDecoder(encoding);
  for await (const chunk of bytes) {
    const text = decoder.decode(chunk, { stream: true });
    if (text !== "") yield encoding === "windows-1252" ? withHighCharacters(text) : text;
  }
  const rest = decoder.decode();
  if (rest !== "") yield rest;
}

/**
 * The same text as UTF-8. The bytes of a file that is UTF-8 pass as they are, mistakes and all: whoever cuts them into rows looks at them
 * anyway.
 */
export const utf8Of = (bytes: AsyncIterable<Uint8Array>, encoding: Encoding): AsyncIterable<Uint8Array> =>
  encoding === "utf-8" ? bytes : encoded(decodeText(bytes, encoding));

async function* encoded(text: AsyncIterable<string>): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  for await (const part of text) yield encoder.encode(part);
}

/** Node 20.20 decodes Windows-1252 as Latin-1 when not streaming: dashes and curly quotes come out as controls. */
function withHighCharacters(text: string): string {
  return text.replace(/[\u0080-\u009f]/g, (c) => WINDOWS_1252_HIGH[c.charCodeAt(0) - 0x80] ?? c);
}

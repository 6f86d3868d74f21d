import { createReadStream } from "node:fs";
import { join } from "node:path";
import { decodeText } from "../intake/decode.ts";

/** 64 KiB: the size papaparse reads fastest, measured; larger chunks cost twice the time. */
export const CHUNK = 65_536;

/** The decoded text of one of the city's files, in pieces. */
export function textOf(
  folder: string,
  file: string,
  encoding: Parameters<typeof decodeText>[1],
): AsyncIterable<string> {
  return decodeText(createReadStream(join(folder, file), { highWaterMark: CHUNK }), encoding);
}

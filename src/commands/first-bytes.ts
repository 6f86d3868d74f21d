import { open } from "node:fs/promises";
import { CannotMake, orCannotMake } from "./cannot-make.ts";

/** First bytes of a file that its form is found from. */
const SAMPLE_BYTES = 65_536;

/** The beginning of a city's file, enough to find its form from. */
export async function firstBytes(path: string): Promise<Uint8Array> {
  const bytes = await orCannotMake(path, beginningOf(path));
  if (bytes.length === 0) throw new CannotMake(`${path}: the file is empty.`);
  if (isSpreadsheet(bytes))
    throw new CannotMake(
      `${path}: a spreadsheet's own file, where CSV is needed. Save the sheet as CSV and name that file.`,
    );
  return bytes;
}

/** How a zip begins, in which spreadsheets are kept, and the compound file of older ones (both from memory). */
const SPREADSHEETS = [
  [0x50, 0x4b, 0x03, 0x04],
  [0xd0, 0xcf, 0x11, 0xe0],
] as const;

const isSpreadsheet = (bytes: Uint8Array): boolean =>
  SPREADSHEETS.some((signature) => signature.every((byte, i) => bytes[i] === byte));

async function beginningOf(path: string): Promise<Uint8Array> {
  const file = await open(path, "r");
  try {
    const { buffer, bytesRead } = await file.read(new Uint8Array(SAMPLE_BYTES), 0, SAMPLE_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

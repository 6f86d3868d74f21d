import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { onTestFinished } from "vitest";

export const SAMPLES = new URL("../../sample-programs/", import.meta.url).pathname;
export const FILES = ["laterals.csv", "inspections.csv", "program.json"] as const;

/** A folder that goes when the test ends. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "sample-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export const bytesOf = (folder: string, file: string): Buffer => readFileSync(join(folder, file));

/** Records by heading, as a parser that knows nothing of the generator reads them. */
export function recordsOf(text: string, delimiter: string, linesAbove: number): Record<string, string>[] {
  const { data } = Papa.parse<string[]>(text, { delimiter });
  const [headings = [], ...rows] = data.slice(linesAbove);
  return rows
    .filter((cells) => cells.length === headings.length)
    .map((cells) => Object.fromEntries(headings.map((heading, i) => [heading, cells[i]!])));
}

/** A column of a list of records; throws on a heading that is not there, so that no test passes on nothing. */
export function column(records: readonly Record<string, string>[], heading: string): string[] {
  return records.map((record) => {
    const cell = record[heading];
    if (cell === undefined) throw new Error(`no column ${heading}`);
    return cell;
  });
}

import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { CommandIo } from "../../src/commands/command-io.ts";
import { reportOf } from "../../src/commands/report.ts";
import { recorded } from "./sample-copy.ts";

/** The report of a program, or of one of its saved seasons, as it is written. */
export async function reportFor(folder: string, season?: string): Promise<string> {
  const out = join(mkdtempSync(join(tmpdir(), "report-")), "report.html");
  const { io } = recorded();
  await reportOf(folder, season === undefined ? { out } : { out, season }, io);
  return readFileSync(out, "utf8");
}

/** A section as people read it, without its markup: a cell of a table ends with a bar. */
export function sectionOf(page: string, key: string): string {
  const from = page.indexOf(`<section id="${key}"`);
  if (from < 0) throw new RangeError(`sectionOf: no section ${key}`);
  return asRead(page.slice(from, page.indexOf("</section>", from)));
}

export const asRead = (markup: string): string =>
  markup
    .replaceAll(/<\/t[hd]>/g, " |")
    .replaceAll(/<[^>]+>/g, "")
    .replaceAll("&#39;", "'")
    .replaceAll("&quot;", '"')
    .replaceAll("&gt;", ">")
    .replaceAll("&lt;", "<")
    .replaceAll("&amp;", "&")
    .replaceAll(/\s+/g, " ");

/** Whole money as a report writes it, worked out apart from the program. */
export const whole = (cents: number): string => Math.round(cents / 100).toLocaleString("en-US");

/** What a command prints as JSON. */
// biome-ignore lint/suspicious/noExplicitAny: JSON of any command.
export async function printedJson(command: (io: CommandIo) => Promise<number>): Promise<any> {
  const { io, said } = recorded();
  await command(io);
  return JSON.parse(said.out);
}

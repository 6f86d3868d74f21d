import { execFile } from "node:child_process";
import { createReadStream, createWriteStream } from "node:fs";
import { readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import Papa from "papaparse";
import type { ProgramHead } from "../../src/reference/basis.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { runPeer } from "./peers/peers.ts";
import { bookOf, type PlainSheet, writeSheetCsv } from "./peers/plain-sheet.ts";
import type { Places } from "./plan-bench.ts";
import { peakMegabytes } from "./timed.ts";

/** xlsxwriter and openpyxl pack at zlib's usual level, 6, and let nobody choose. */
export const PEERS_LEVEL = 6;

interface WriteCase {
  readonly csv: string;
  readonly path: string;
  readonly level: number;
  readonly columns: PlainSheet["columns"];
  readonly product: PlainSheet["product"];
  readonly head: ProgramHead;
}

export interface WriteTime {
  readonly seconds: number;
  /** Memory of the process before anything was written, and most while it was, MB. */
  readonly before: number;
  readonly peak: number;
  readonly bytes: number;
}

/** `bench write-sheet CASE`: one sheet written in a process of its own, so that its memory is its own. */
export async function writeSheetCase(file: string): Promise<void> {
  const { csv, path, level, columns, product, head }: WriteCase = JSON.parse(await readFile(file, "utf8"));
  const values: (string | number | null)[][] = columns.map(() => []);
  await new Promise<void>((resolve, reject) => {
    let heading = true;
    Papa.parse<string[]>(createReadStream(csv, { encoding: "utf8", highWaterMark: 65_536 }) as never, {
      delimiter: ",",
      newline: "\n",
      chunk: ({ data }: Papa.ParseResult<string[]>) => {
        for (const row of data) {
          if (!heading && row.length === columns.length)
            for (const [i, cell] of row.entries())
              values[i]!.push(cell === "" ? null : columns[i]!.text ? cell : Number(cell));
          heading = false;
        }
      },
      complete: () => resolve(),
      error: reject,
    });
  });
  const before = peakMegabytes();
  const started = performance.now();
  await writeStreaming(bookOf({ columns, product, values }, head), createWriteStream(path), level);
  const seconds = (performance.now() - started) / 1000;
  const found: WriteTime = { seconds, before, peak: peakMegabytes(), bytes: (await stat(path)).size };
  console.log(JSON.stringify(found));
}

/** One sheet to be written by several writers, its cells in a CSV file. */
export interface SheetToWrite {
  readonly csv: string;
  readonly folder: string;
  readonly columns: PlainSheet["columns"];
  readonly product: PlainSheet["product"];
  readonly head: ProgramHead;
}

/** Lays the cells down where each writer's own process reads them. */
export async function layDownSheet(
  sheet: PlainSheet,
  head: ProgramHead,
  folder: string,
): Promise<SheetToWrite> {
  const csv = join(folder, "sheet.csv");
  await writeSheetCsv(sheet, csv);
  const { columns, product } = sheet;
  return { csv, folder, columns, product, head };
}

/** This program's writer, at a packing level, in a process of its own; the book is `ours-LEVEL.xlsx` in the folder. */
export async function writeOurs(
  { folder, csv, columns, product, head }: SheetToWrite,
  level: number,
): Promise<WriteTime> {
  const file = join(folder, "write.json");
  const path = join(folder, `ours-${level}.xlsx`);
  await writeFile(file, JSON.stringify({ csv, path, level, columns, product, head } satisfies WriteCase));
  const bench = fileURLToPath(import.meta.resolve("./bench.js"));
  const { stdout } = await promisify(execFile)(process.execPath, [bench, "write-sheet", file]);
  return JSON.parse(stdout);
}

/** A peer's writer, xlsxwriter or openpyxl, in a process of its own; what it held before is not known. */
export async function writeTheirs(
  { folder, csv, columns, product }: SheetToWrite,
  writer: string,
  { root, python }: Places & { readonly python: string },
): Promise<WriteTime> {
  const file = join(folder, "write.json");
  const path = join(folder, `${writer}.xlsx`);
  await writeFile(file, JSON.stringify({ sheet: { csv, columns, product, writer, path } }));
  const { times } = await runPeer(python, join(root, "tests/bench/peers/plan_peer.py"), file);
  const [time] = times;
  return { ...time!, before: 0, bytes: time!.bytes! };
}

import { execFile } from "node:child_process";
import { createReadStream, createWriteStream } from "node:fs";
import { readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import Papa from "papaparse";
import { plainTable } from "../../src/commands/plain-table.ts";
import type { ProgramHead } from "../../src/reference/basis.ts";
import { PACKING_LEVEL, writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { disagreements, formulaCells, recalculate, soffice } from "../workbook/recalculate.ts";
import { gatherCity, planCity, withCity } from "./bench-city.ts";
import { runPeer } from "./peers/peers.ts";
import { bookOf, type PlainSheet, plainSheet, writeSheetCsv } from "./peers/plain-sheet.ts";
import type { Places } from "./plan-bench.ts";
import { peakMegabytes } from "./timed.ts";

/** xlsxwriter and openpyxl pack at zlib's usual level, 6, and let nobody choose. */
const PEERS_LEVEL = 6;

interface WriteCase {
  readonly csv: string;
  readonly path: string;
  readonly level: number;
  readonly columns: PlainSheet["columns"];
  readonly product: PlainSheet["product"];
  readonly head: ProgramHead;
}

interface WriteTime {
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

/** The table of the workbook writers, on a sheet of thirty columns. */
export async function benchWorkbook(sizes: readonly number[], { root, python }: Places): Promise<string> {
  const rows: (readonly string[])[] = [];
  const notes: string[] = [];
  for (const size of sizes)
    await withCity(size, async (city, folder) => {
      const gathered = await gatherCity(city);
      const program = planCity(gathered);
      const { program: head } = program.basis;
      const sheet = plainSheet(program.laterals, program.columns, head.units);
      const csv = join(folder, "sheet.csv");
      await writeSheetCsv(sheet, csv);
      const { columns, product } = sheet;
      const file = join(folder, "write.json");
      const add = (who: string, level: number, { seconds, before, peak, bytes }: WriteTime) =>
        rows.push([
          size.toLocaleString("en-US"),
          who,
          String(level),
          seconds.toFixed(2),
          ((size * (columns.length + 1)) / seconds / 1000).toFixed(0),
          before === 0 ? "" : before.toFixed(0),
          peak.toFixed(0),
          (bytes / 1e6).toFixed(1),
        ]);
      for (const level of [PACKING_LEVEL, PEERS_LEVEL]) {
        const path = join(folder, `ours-${level}.xlsx`);
        await writeFile(file, JSON.stringify({ csv, path, level, columns, product, head }));
        const { stdout } = await promisify(execFile)(process.execPath, [
          fileURLToPath(import.meta.resolve("./bench.js")),
          "write-sheet",
          file,
        ]);
        add("wyeplan", level, JSON.parse(stdout));
      }
      if (python !== null)
        for (const writer of ["xlsxwriter", "openpyxl"]) {
          const path = join(folder, `${writer}.xlsx`);
          await writeFile(file, JSON.stringify({ sheet: { csv, columns, product, writer, path } }));
          const { times } = await runPeer(python, join(root, "tests/bench/peers/plan_peer.py"), file);
          const [time] = times;
          add(writer, PEERS_LEVEL, { ...time!, before: 0, bytes: time!.bytes! });
        }
      // A spreadsheet works all formulas of the smallest sheet out anew: a minute and more at the next size.
      if (soffice !== null && size === Math.min(...sizes)) {
        const started = performance.now();
        const { sheet: recalculated } = await recalculate({
          sheet: await readFile(join(folder, `ours-${PACKING_LEVEL}.xlsx`)),
        });
        notes.push(
          `LibreOffice opened, recalculated and saved the sheet of ${size.toLocaleString("en-US")} in ${recalculated.seconds.toFixed(1)} s ` +
            `(${((performance.now() - started) / 1000).toFixed(1)} s with reading both back): ` +
            `${disagreements(recalculated).length} of ${formulaCells(recalculated).length} formulas differ.`,
        );
      }
    });
  const right = (heading: string) => ({ heading, align: "right" as const });
  return `Workbook: one sheet of 30 styled columns, a formula among them, each writer in a process of its own. openpyxl gets
number formats only. Peers' memory holds the sheet as lists, as ours does ("before").
${plainTable(
  [
    right("Laterals"),
    { heading: "Who", align: "left" },
    right("zlib level"),
    right("Seconds"),
    right("k cells/s"),
    right("MB before"),
    right("Peak MB"),
    right("MB written"),
  ],
  rows,
)}${notes.map((note) => `\n${note}`).join("")}`;
}

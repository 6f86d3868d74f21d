import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { plainTable } from "../../src/commands/plain-table.ts";
import { PACKING_LEVEL } from "../../src/workbook/stream-xlsx.ts";
import { disagreements, formulaCells, recalculate, soffice } from "../workbook/recalculate.ts";
import { gatherCity, planCity, withCity } from "./bench-city.ts";
import { plainSheet } from "./peers/plain-sheet.ts";
import type { Places } from "./plan-bench.ts";
import { layDownSheet, PEERS_LEVEL, type WriteTime, writeOurs, writeTheirs } from "./sheet-writing.ts";

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
      const laid = await layDownSheet(sheet, head, folder);
      const add = (who: string, level: number, { seconds, before, peak, bytes }: WriteTime) =>
        rows.push([
          size.toLocaleString("en-US"),
          who,
          String(level),
          seconds.toFixed(2),
          ((size * (sheet.columns.length + 1)) / seconds / 1000).toFixed(0),
          before === 0 ? "" : before.toFixed(0),
          peak.toFixed(0),
          (bytes / 1e6).toFixed(1),
        ]);
      for (const level of [PACKING_LEVEL, PEERS_LEVEL]) add("wyeplan", level, await writeOurs(laid, level));
      if (python !== null)
        for (const writer of ["xlsxwriter", "openpyxl"])
          add(writer, PEERS_LEVEL, await writeTheirs(laid, writer, { root, python }));
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

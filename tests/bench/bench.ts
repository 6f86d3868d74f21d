/**
 * `npm run bench [-- N …]`: times the main job on invented cities of N laterals (10,000 and 100,000 unless given) and
 * prints a table. The floor is papaparse alone reading the same bytes in its fastest correct use. Times are of the
 * machine it runs on, once, after one small run to warm up. Then formulas: each beside a loop written by hand and
 * beside the evaluator of mathjs. Then the selection of seasons of up to a million laterals.
 */
import { createReadStream } from "node:fs";
import { mkdtemp, rm, stat } from "node:fs/promises";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { writeCity } from "../../sample-programs/write-city.ts";
import { sheetColumns } from "../../src/columns/dictionary.ts";
import { gatherProgram } from "../../src/commands/load-program.ts";
import { plainTable } from "../../src/commands/plain-table.ts";
import { writeWorkbook } from "../../src/commands/write-workbook.ts";
import { batchByDistrict } from "../../src/season/batches.ts";
import { fitProgram } from "../../src/season/fits.ts";
import { planSheet } from "../../src/season/plan-sheet.ts";
import { rankLaterals } from "../../src/season/rank.ts";
import { takeOffByDistrict } from "../../src/season/takeoff.ts";
import { totalByDistrict } from "../../src/season/totals.ts";
import { withColumns } from "../../src/sheet/table.ts";
import { benchFormula } from "./formula-bench.ts";
import { benchSelection } from "./selection-bench.ts";

const WARM_UP = 500;
const SIZES = [10_000, 100_000];

interface Measured {
  readonly step: string;
  readonly seconds: number;
  /** Most memory the process has had so far, in MB. */
  readonly peak: number;
}

async function timed<T>(measured: Measured[], step: string, work: () => T | Promise<T>): Promise<T> {
  const started = performance.now();
  const result = await work();
  const seconds = (performance.now() - started) / 1000;
  measured.push({ step, seconds, peak: process.resourceUsage().maxRSS / 1024 });
  return result;
}

function papaparseAlone(path: string): Promise<number> {
  return new Promise((resolve, reject) => {
    let cells = 0;
    Papa.parse(createReadStream(path, { encoding: "utf8", highWaterMark: 65_536 }) as never, {
      delimiter: ",",
      newline: "\r\n",
      header: false,
      chunk: ({ data }: Papa.ParseResult<string[]>) => {
        for (const row of data) cells += row.length;
      },
      complete: () => resolve(cells),
      error: reject,
    });
  });
}

async function measureCity(laterals: number): Promise<readonly string[][]> {
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-bench-"));
  try {
    const city = join(folder, "city");
    await writeCity(city, {
      style: "us",
      laterals,
      seed: 1,
      plain: true,
      name: `Invented city of ${laterals}`,
    });
    const files = ["laterals.csv", "inspections.csv"].map((file) => join(city, file));
    let bytes = 0;
    for (const file of files) bytes += (await stat(file)).size;

    const measured: Measured[] = [];
    await timed(measured, "papaparse alone (floor)", async () => {
      for (const file of files) await papaparseAlone(file);
    });
    const floor = measured[0]?.seconds ?? Number.NaN;
    const gathered = await timed(measured, "import", () => gatherProgram(city));
    if (!gathered.ok) throw new Error(`the bench city cannot be read: ${JSON.stringify(gathered.problems)}`);
    const basis = await timed(measured, "fits", () => fitProgram(gathered.tables, gathered.basis));
    const sheet = await timed(measured, "plan", () => planSheet(gathered.tables, basis));
    const ranked = await timed(measured, "rank", () => rankLaterals(sheet.laterals));
    const planned = { ...sheet, laterals: withColumns(sheet.laterals, [["rank", ranked.rank]]) };
    const totals = await timed(measured, "totals", () => totalByDistrict(planned, basis));
    const batches = batchByDistrict(planned, basis);
    const program = {
      ...gathered,
      ...planned,
      basis,
      columns: sheetColumns,
      filters: [],
      order: ranked.order,
      totals,
      batches,
      takeoff: await timed(measured, "takeoff", () => takeOffByDistrict(planned, basis)),
    };
    const books = await timed(measured, "both workbooks", () => writeWorkbook(program, join(folder, "out")));
    let written = 0;
    for (const book of Object.values(books)) written += (await stat(book)).size;
    return measured.map(({ step, seconds, peak }, i) => [
      i === 0 ? laterals.toLocaleString("en-US") : "",
      step,
      seconds.toFixed(2),
      ((seconds / laterals) * 1e6).toFixed(1),
      (seconds / floor).toFixed(1),
      i === 0 ? (bytes / 1e6).toFixed(1) : "",
      i === measured.length - 1 ? (written / 1e6).toFixed(1) : "",
      peak.toFixed(0),
    ]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const sizes = process.argv.slice(2).map(Number);
if (sizes.some((size) => !Number.isInteger(size) || size < 1))
  throw new RangeError("npm run bench -- 10000 100000");
await measureCity(WARM_UP);
const rows: (readonly string[])[] = [];
for (const size of sizes.length > 0 ? sizes : SIZES) rows.push(...(await measureCity(size)));
console.log(`Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? "unknown processor"}`);
console.log(
  plainTable(
    [
      { heading: "Laterals", align: "right" },
      { heading: "Step", align: "left" },
      { heading: "Seconds", align: "right" },
      { heading: "µs a lateral", align: "right" },
      { heading: "× floor", align: "right" },
      { heading: "MB read", align: "right" },
      { heading: "MB written", align: "right" },
      { heading: "Peak MB so far", align: "right" },
    ],
    rows,
  ),
);

const nanoseconds = (value: number) => value.toFixed(1);
console.log(
  plainTable(
    [
      { heading: "ns a row, best of several", align: "left" },
      { heading: "By hand", align: "right" },
      { heading: "Column form", align: "right" },
      { heading: "Record form", align: "right" },
      { heading: "mathjs, fastest", align: "right" },
      { heading: "mathjs, Map", align: "right" },
      { heading: "mathjs, whole", align: "right" },
      { heading: "× fastest", align: "right" },
      { heading: "× whole", align: "right" },
      { heading: "Rows that differ", align: "right" },
    ],
    benchFormula().map((row) => [
      row.expression.length > 40 ? `${row.expression.slice(0, 39)}…` : row.expression,
      nanoseconds(row.handWritten),
      nanoseconds(row.columnForm),
      nanoseconds(row.recordForm),
      nanoseconds(row.mathjs),
      nanoseconds(row.mathjsMap),
      nanoseconds(row.mathjsFull),
      (Math.min(row.mathjs, row.mathjsMap) / row.columnForm).toFixed(1),
      (row.mathjsFull / row.columnForm).toFixed(1),
      String(row.differences),
    ]),
  ),
);

console.log(await benchSelection());

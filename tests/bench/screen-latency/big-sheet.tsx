/**
 * A sheet of a million laterals to measure keys on: some thousand invented laterals planned, and their rows repeated
 * under ids of their own. `big-sheet ROWS LOG`: LOG gets what only the process knows, how long each fsync took and, from one
 * SIGUSR2 to the next, the most processor time its main thread spent between two looks at the keyboard.
 */
import { appendFileSync, mkdtempSync, readFileSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSheet } from "../../../src/commands/open-sheet.ts";
import { takeLock } from "../../../src/program/lock.ts";
import { rankLaterals } from "../../../src/season/rank.ts";
import { GrowingText } from "../../../src/sheet/grow.ts";
import { rowsInOrder } from "../../../src/sheet/row-order.ts";
import { withColumns } from "../../../src/sheet/table.ts";
import { inventedProgram } from "../../screen/invented-program.ts";

const rows = Number(process.argv[2] ?? 1_000_000);
const planned = inventedProgram(2000);
const order = Uint32Array.from({ length: rows }, (_, row) => row % 2000);
const ids = new GrowingText();
for (let row = 0; row < rows; row++) ids.push(`L-${String(row).padStart(7, "0")}`);
const repeated = withColumns(rowsInOrder(planned.laterals, order), [["lateral", ids.finish()]]);
const { order: ranked, rank } = rankLaterals(repeated);
const laterals = withColumns(repeated, [["rank", rank]]);
// Surveys are looked up by row: those of the row that was repeated, one after the other, are left out.
const tables = {
  ...planned.tables,
  laterals: withColumns(rowsInOrder(planned.tables.laterals, order), [
    ["lateral", laterals.columns.get("lateral")!],
  ]),
  firstInspection: new Uint32Array(rows + 1),
};
const program = { ...planned, laterals, tables, order: ranked };

const log = process.argv[3];
if (log !== undefined) {
  const handle = await open(process.execPath);
  const files = Object.getPrototypeOf(handle) as { sync(): Promise<void> };
  await handle.close();
  const { sync } = files;
  files.sync = async function (this: unknown) {
    const start = performance.now();
    await sync.call(this);
    appendFileSync(log, `sync ${performance.now() - start}\n`);
  };
  // Nanoseconds on a processor: waiting for one does not count, so a busy machine changes little.
  const spent = () => Number(readFileSync("/proc/self/schedstat", "utf8").split(" ")[0]) / 1e6;
  let watch: NodeJS.Timeout | undefined;
  let [longest, last] = [0, 0];
  process.on("SIGUSR2", () => {
    if (watch !== undefined) {
      clearInterval(watch);
      watch = undefined;
      appendFileSync(log, `block ${longest}\n`);
      return;
    }
    [longest, last] = [0, spent()];
    watch = setInterval(() => {
      const at = spent();
      longest = Math.max(longest, at - last);
      last = at;
    }, 2);
  });
}

const now = () => "2026-03-01T08:00:00Z";
const attempt = await takeLock(mkdtempSync(join(tmpdir(), "wyeplan-latency-")), now());
if (!attempt.ok) throw new Error("the folder is locked");
const writer = { lock: attempt.lock, who: "bench", now };
process.exitCode = await openSheet(program, process, process.env, { kind: "decide", writer });

/**
 * A sheet of a million laterals to measure keys on: some thousand invented laterals planned, and their rows repeated
 * under ids of their own. `big-sheet ROWS`.
 */
import { mkdtempSync } from "node:fs";
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

const now = () => "2026-03-01T08:00:00Z";
const attempt = await takeLock(mkdtempSync(join(tmpdir(), "wyeplan-latency-")), now());
if (!attempt.ok) throw new Error("the folder is locked");
const writer = { lock: attempt.lock, who: "bench", now };
process.exitCode = await openSheet(program, process, process.env, { kind: "decide", writer });

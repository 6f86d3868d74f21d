import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSheet } from "../../src/commands/open-sheet.ts";
import { takeLock } from "../../src/program/lock.ts";
import { inventedProgram } from "./invented-program.ts";

/** A program of its own for the terminal tests: the sheet over an invented program. `fixture-sheet 60 [fail]`. */
const [count = "60", fail] = process.argv.slice(2);
// Somewhere in the process something goes wrong while the sheet is open.
if (fail === "fail")
  setTimeout(() => {
    throw new Error("a planted mistake");
  }, 700);

const now = () => "2026-03-01T08:00:00Z";

async function open(): Promise<number> {
  const attempt = await takeLock(mkdtempSync(join(tmpdir(), "wyeplan-fixture-")), now());
  if (!attempt.ok) throw new Error("the fixture's folder is locked");
  const writer = { lock: attempt.lock, who: "tester", now };
  return openSheet(inventedProgram(Number(count)), process, process.env, { kind: "decide", writer });
}

open().then(
  (code) => {
    process.stdout.write("back at the shell\n");
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`${String(error)}\n`);
    process.exitCode = 1;
  },
);

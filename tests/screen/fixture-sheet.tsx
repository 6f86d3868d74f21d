import { openSheet } from "../../src/commands/open-sheet.ts";
import { inventedProgram } from "./invented-program.ts";

/** A program of its own for the terminal tests: the sheet over an invented program. `fixture-sheet 60 [fail]`. */
const [count = "60", fail] = process.argv.slice(2);
// Somewhere in the process something goes wrong while the sheet is open.
if (fail === "fail")
  setTimeout(() => {
    throw new Error("a planted mistake");
  }, 700);

openSheet(inventedProgram(Number(count)), process, process.env).then(
  (code) => {
    process.stdout.write("back at the shell\n");
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`${String(error)}\n`);
    process.exitCode = 1;
  },
);

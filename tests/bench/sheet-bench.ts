import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { plainTable } from "../../src/commands/plain-table.ts";
import { Settler } from "../../src/commands/settle-program.ts";
import { readFormula } from "../../src/formula/formula.ts";
import type { ColumnValues } from "../../src/formula/read-values.ts";
import { day } from "../../src/quantity/si.ts";
import { viewProgram } from "../../src/screen/program-view.ts";
import { type Action, startSession } from "../../src/screen/session.ts";
import type { SheetView } from "../../src/screen/sheet-view.ts";
import { stableOrder } from "../../src/screen/sort-rows.ts";
import { step } from "../../src/screen/step.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { replanRows } from "../../src/season/replan-rows.ts";
import { textAt } from "../../src/sheet/table.ts";
import { gatherCity, planCity, withCity } from "./bench-city.ts";
import type { Places } from "./plan-bench.ts";

const EDITS = 40;

/** What a person at the sheet waits for: its first screen on a pty, and then what each thing they do costs. */
export async function benchSheet(sizes: readonly number[], { root }: Places): Promise<string> {
  const rows: (readonly string[])[] = [];
  for (const size of sizes)
    await withCity(size, async (city) => {
      const add = (what: string, ms: number, note = "") =>
        rows.push([size.toLocaleString("en-US"), what, ms.toFixed(ms < 10 ? 1 : 0), note]);
      const opened = await firstScreen(city, root);
      add(
        "first screen, on a pty",
        opened?.rows ?? Number.NaN,
        opened === null ? "no python3 for a pty" : "",
      );
      if (opened !== null) {
        add("first sign of progress", opened.first);
        add("the plan is there, looked at meanwhile", opened.planned);
      }

      const gathered = await gatherCity(city);
      let program = planCity(gathered);
      const edits: number[] = [];
      for (let i = 0; i < EDITS; i++) {
        const row = Math.floor((i * program.laterals.rows) / EDITS);
        const decided = new Map([["host_diameter", { value: 152.4, reason: "bench" }]]);
        const decisions = new Map(program.tables.decisions).set(
          textAt(program.laterals, "lateral", row),
          decided,
        );
        const started = performance.now();
        program = replanRows(program, decisions, [row]);
        edits.push(performance.now() - started);
      }
      edits.sort((a, b) => a - b);
      add(
        "edit of a diameter → totals, median",
        edits[EDITS >> 1]!,
        `most ${edits.at(-1)!.toFixed(1)} of ${EDITS}`,
      );

      for (const [what, took] of await settleTwice(program)) add(what, took, "in the sheet's threads");

      const risk = program.laterals.columns.get("risk");
      if (risk?.kind !== "number") throw new RangeError("benchSheet: the sheet has no risk");
      add(
        "sort by risk",
        least(() => stableOrder(risk.values, program.order, true)),
      );

      const text = "host_length > 60 ft and risk >= 12";
      const read = readFormula(
        text,
        { columns: program.columns, stage: "sheet", asOf: day(20_000), currency: "USD" },
        null,
      );
      if (!read.ok) throw new Error(`benchSheet: ${text}: ${read.problem.found}`);
      const out = new Float64Array(size);
      const values = program.laterals.columns as unknown as ReadonlyMap<string, ColumnValues>;
      add(
        `filter: ${text}`,
        least(() => read.formula.fill(values, out, 0, size)),
        `${out.reduce((sum, x) => sum + (x === 1 ? 1 : 0), 0)} rows`,
      );

      const sheet = viewProgram(program, () => []);
      for (const wanted of NOT_THERE) {
        const { whole, longest, steps } = lookForNothing(sheet, wanted);
        add(`find ${wanted}, not there`, whole, `${steps} steps, the longest ${longest.toFixed(1)}`);
      }
    });
  const right = (heading: string) => ({ heading, align: "right" as const });
  const left = (heading: string) => ({ heading, align: "left" as const });
  return `Sheet: what a person waits for, ms
${plainTable([right("Laterals"), left("What"), right("ms"), left("")], rows)}`;
}

/** Texts that no cell has: one that only the city's text could have, one that any number could. */
const NOT_THERE = ["~", "9,9,9"];

/** What the thread beside the sheet takes, with its code compiled: all planned anew as after an edit, and after a change of the recipe alone. */
async function settleTwice(program: PlannedProgram): Promise<readonly (readonly [string, number])[]> {
  const settler = new Settler();
  let took = 0;
  const settle = async (of: PlannedProgram): Promise<PlannedProgram> => {
    const started = performance.now();
    const found = await settler.settle(of, null, () => {});
    took = performance.now() - started;
    if (found === null) throw new RangeError("settleTwice: another program was asked for");
    return found;
  };
  try {
    const first = await settle(program);
    const edited = await settle({ ...first, tables: { ...first.tables } });
    const planned = took;
    await settle(edited);
    return [
      ["an edit → everything planned again", planned],
      ["change of recipe → everything scored again", took],
    ];
  } finally {
    settler.end();
  }
}

/** Milliseconds of looking through every cell of the columns shown, and of the longest time that no key is read meanwhile. */
function lookForNothing(sheet: SheetView, wanted: string) {
  const size = { columns: 160, rows: 50 };
  const [asked, ...typed]: readonly Action[] = [
    { kind: "ask", what: "find" },
    { kind: "type", text: wanted },
  ];
  let { session } = step(startSession(sheet), asked!, size, sheet);
  const started = performance.now();
  let [action, before, longest, steps] = [typed[0]!, started, 0, 0];
  do {
    ({ session } = step(session, action, size, sheet));
    const now = performance.now();
    longest = Math.max(longest, now - before);
    [action, before, steps] = [{ kind: "go on" }, now, steps + 1];
  } while (session.pending !== null);
  if (!session.prompt?.refusal) throw new RangeError(`lookForNothing: ${wanted} is there`);
  return { whole: before - started, longest, steps };
}

function least(work: () => void, times = 5): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const started = performance.now();
    work();
    best = Math.min(best, performance.now() - started);
  }
  return best;
}

/** Milliseconds from starting the program to its first output, the first screen with rows, and the plan in it; null without Python. */
async function firstScreen(
  city: string,
  root: string,
): Promise<{ readonly first: number; readonly rows: number; readonly planned: number } | null> {
  try {
    await promisify(execFile)("python3", ["-c", "import pty"]);
  } catch {
    return null;
  }
  const script = join(root, "tests/bench/first-screen.py");
  const { stdout } = await promisify(execFile)("python3", [script, join(root, "dist/main.js"), city]);
  return JSON.parse(stdout);
}

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { loadProgram } from "../src/commands/load-program.ts";
import { planText } from "../src/commands/plan.ts";
import { explainLateral } from "../src/plan/explain.ts";
import { planLateral } from "../src/plan/plan-lateral.ts";
import { drawFrame } from "../src/screen/draw-frame.ts";
import { textOfLine } from "../src/screen/line.ts";
import { viewProgram } from "../src/screen/program-view.ts";
import { type Action, startSession } from "../src/screen/session.ts";
import { step } from "../src/screen/step.ts";
import { lateralAt } from "../src/season/lateral-at.ts";
import type { PlannedProgram } from "../src/season/planned-program.ts";

const read = (path: string) => readFileSync(new URL(`../${path}`, import.meta.url), "utf8");

/** The pictures of README.md: its blocks of plain text. */
const pictures = [...read("README.md").matchAll(/^```text\n(.*?)\n```$/gms)].map(([, picture]) => picture);

/**
 * A picture that the program no longer shows is to be made again from the program: what a test expected of it is
 * printed below, ready to copy.
 */
describe("the pictures of the README", () => {
  it("are of the sheet and of the plan", () => expect(pictures).toHaveLength(2));

  it("show the sheet as it is: 100 by 30, the second lateral, its reasons from the load on the liner on", async () => {
    expect(pictures[0]).toBe(sheetPicture(await sample()));
  });

  it("show the plan's first page as it is, down to its notes", async () => {
    const page = planText(await sample())
      .split("\n\n")
      .slice(0, 2)
      .join("\n\n");
    expect(pictures[1]).toBe(page);
  });
});

async function sample(): Promise<PlannedProgram> {
  const folder = new URL("../sample-programs/quennock-falls", import.meta.url).pathname;
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.program;
}

function sheetPicture(program: PlannedProgram): string {
  const sheet = viewProgram(program, (row) =>
    explainLateral(planLateral(lateralAt(program.tables, row), program.basis), program.basis),
  );
  const size = { columns: 100, rows: 30 };
  let session = startSession(sheet);
  const lines = () => drawFrame(session, sheet, size).map((line) => textOfLine(line).trimEnd());
  const act = (action: Action) => {
    session = step(session, action, size, sheet).session;
  };
  act({ kind: "move rows", by: 1 });
  act({ kind: "show pane", pane: "why" });
  act({ kind: "change focus" });
  const firstOfPane = lines().findIndex((line) => line.startsWith("─ Why")) + 1;
  for (let line = 0; line < 500 && !lines()[firstOfPane]?.includes("external load"); line++)
    act({ kind: "move rows", by: 1 });
  return lines().join("\n");
}

import { readFileSync, writeFileSync } from "node:fs";
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { addInspections } from "../src/commands/add.ts";
import { compareSnapshots } from "../src/commands/compare.ts";
import { loadProgram } from "../src/commands/load-program.ts";
import { planFolder, planText } from "../src/commands/plan.ts";
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

const PICTURE = /^```text\n(.*?)\n```$/gms;
/** The pictures of README.md: its blocks of plain text. */
const pictures = () => [...read("README.md").matchAll(PICTURE)].map(([, picture]) => picture);

/** A picture that the program no longer shows is made again from the program: UPDATE_DOCS=1 with this test. */
if (process.env["UPDATE_DOCS"] === "1")
  beforeAll(async () => {
    const program = await sample();
    const made = [sheetPicture(program), planPage(program), await comparisonPicture()];
    const text = read("README.md").replace(PICTURE, () => `\`\`\`text\n${made.shift()}\n\`\`\``);
    writeFileSync(new URL("../README.md", import.meta.url), text);
  }, 120_000);

describe("the pictures of the README", () => {
  it("are of the sheet, of the plan and of a comparison", () => expect(pictures()).toHaveLength(3));

  it("show the sheet as it is: 100 by 30, the second lateral, its reasons from the load on the liner on", async () => {
    expect(pictures()[0]).toBe(sheetPicture(await sample()));
  });

  it("show the plan's first page as it is, down to its notes", async () => {
    expect(pictures()[1]).toBe(planPage(await sample()));
  });

  it("show what new surveys moved as it is, down to the fifth mover", async () => {
    expect(pictures()[2]).toBe(await comparisonPicture());
  });
});

async function sample(): Promise<PlannedProgram> {
  const folder = new URL("../sample-programs/quennock-falls", import.meta.url).pathname;
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.program;
}

const planPage = (program: PlannedProgram): string =>
  planText(program).split("\n\n").slice(0, 2).join("\n\n");

/** The walk of the README: save, add the sample's winter surveys, compare. */
async function comparisonPicture(): Promise<string> {
  const samples = new URL("../sample-programs/", import.meta.url).pathname;
  const home = await mkdtemp(join(tmpdir(), "wyeplan-readme-"));
  try {
    const folder = join(home, "working-copy");
    await cp(join(samples, "quennock-falls"), folder, { recursive: true });
    const said: string[] = [];
    const silent = { out: () => {}, err: () => {}, now: () => "2026-03-02T08:00:00Z", who: "a tester" };
    const inspections = join(samples, "quennock-falls-winter/inspections-2026-winter.csv");
    await planFolder(folder, { save: "before" }, silent);
    await addInspections(folder, { inspections }, silent, null);
    await compareSnapshots(
      folder,
      "before",
      undefined,
      {},
      { ...silent, out: (text: string) => void said.push(text) },
    );
    const lines = said.join("").split("\n");
    return lines.slice(0, lines.findIndex((line) => line.startsWith("Lateral")) + 13).join("\n");
  } finally {
    await rm(home, { recursive: true, force: true });
  }
}

function sheetPicture(program: PlannedProgram): string {
  const shown = viewProgram(program, (row) =>
    explainLateral(planLateral(lateralAt(program.tables, row), program.basis), program.basis),
  );
  // As it is opened by its one writer.
  const sheet = { ...shown, closedBecause: null };
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

import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { hasTmux, TmuxWindow } from "./sheet-in-tmux.ts";

const root = new URL("../..", import.meta.url).pathname;
const built = join(root, "dist/main.js");
if (!hasTmux)
  console.warn("tests/screen/panes-terminal.test.ts is skipped: there is no tmux to run the sheet in.");

let folder = "";
let open: TmuxWindow[] = [];

function openSheet(columns: number, rows: number, environment = ""): TmuxWindow {
  const window = new TmuxWindow(
    columns,
    rows,
    `WYEPLAN_WHO=tester ${environment} '${process.execPath}' '${built}' '${folder}'; echo code $?`,
  );
  open.push(window);
  return window;
}

const drawn = (text: string) => text.includes("lateral 1 of 400");

describe.skipIf(!hasTmux || !existsSync(built))("panes of the built sheet in a terminal", () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "wyeplan-panes-"));
    cpSync(join(root, "sample-programs/quennock-falls"), folder, { recursive: true });
  });
  afterEach(() => {
    for (const window of open) window.close();
    open = [];
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("shows the first steps in a new program; a key closes them and does what it does", async () => {
    const window = openSheet(80, 24);
    const first = await window.see((text) => text.includes("First steps"));
    expect(first).toHaveLength(24);
    window.press("Down");
    await window.see((text) => text.includes("lateral 2 of 400") && !text.includes("First steps"));
  });

  it.each([
    [80, 24, ""],
    [160, 50, "NO_COLOR=1"],
  ])("draws the map, the matrix and the season at %i by %i %s", async (columns, rows, environment) => {
    const window = openSheet(columns, rows, environment);
    await window.see(drawn);
    window.press("k");
    // The cursor's lateral is marked once, by a letter and no colour.
    const map = await window.see((text) => text.includes("─ Map"));
    expect(map).toHaveLength(rows);
    expect(map.filter((line) => /[1-5 ]X[1-5 ]/.test(line) && !/worst fifth/.test(line))).toHaveLength(1);
    window.press("x");
    const matrix = await window.see((text) => text.includes("likelihood 5"));
    expect(matrix.join("\n").match(/\[\d+\]/g)).toHaveLength(1);
    window.press("y");
    await window.see((text) => text.includes("working"));
    await window.see((text) => text.includes("No season is saved yet"));
  });

  it("goes from a problem to its lateral", async () => {
    const window = openSheet(80, 24);
    await window.see(drawn);
    window.press("p");
    const shown = await window.see((text) => text.includes("─ Problems"));
    const row = Number(
      /laterals\.csv, row (\d+)/.exec(shown.find((line) => line.startsWith("> ")) ?? "")?.[1],
    );
    // The lateral in that row of the city's file, read without the program; a line end in quotes begins no row.
    const rows = readFileSync(join(folder, "laterals.csv"), "utf8")
      .replace(/"[^"]*"/g, (quoted) => quoted.replace(/[\r\n,]/g, " "))
      .split(/\r?\n/);
    const id = rows[row - 1]!.split(",")[1]!;
    expect(id).toMatch(/^\d{5}$/);
    window.press("Enter");
    const there = await window.see((text) => /^> ?\[?/m.test(text) && !text.includes("─ Problems"));
    expect(there.find((line) => line.startsWith(">"))).toContain(id);
  });

  it("tries a formula of the ranking, accepts it with a reason, and shows what moved", async () => {
    const window = openSheet(120, 40);
    await window.see(drawn);
    window.press("%");
    await window.see((text) => text.includes("likelihood × consequence"));
    window.press("Down", "Down", "Enter");
    window.type("likelihood * consequence ^ 2");
    await window.see((text) => text.includes("nothing is written yet"));
    window.press("Enter");
    const tried = await window.see((text) => text.includes("tau-b"));
    expect(tried.join("\n")).toMatch(/tau-b 0\.\d{4}/);
    const settings = () => JSON.parse(readFileSync(join(folder, "program.json"), "utf8"));
    const before = settings();
    expect(before.recipe.score).toBeUndefined();
    window.press("C-Up", "Enter");
    await window.see((text) => text.includes("Why:"));
    window.type("the council weighs consequence more");
    window.press("Enter");
    await window.see((text) => text.includes("recipe.score is changed in program.json"));
    // Nothing else of the file is touched.
    before.recipe.score = "likelihood * consequence ^ 2";
    expect(settings()).toEqual(before);
    const [snapshot = ""] = readdirSync(join(folder, "snapshots"));
    expect(readFileSync(join(folder, "snapshots", snapshot), "utf8")).toContain(
      "the council weighs consequence more",
    );
    window.press("j");
    await window.see((text) => text.includes("recipe and settings (recipe.score)"));
    // The whole is planned anew beside the sheet; then nothing is out of date any more.
    window.press("Escape");
    // An escape with a letter right behind it is another key: the pane is to be gone first.
    await window.see(
      (text) => !text.includes("Moved since") && !text.includes("follows") && text.includes("old order"),
    );
    window.press("b");
    await window.see((text) => !text.includes("old order"));
  });
});

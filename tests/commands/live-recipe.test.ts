import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { LiveProgram, noPlace } from "../../src/commands/live-program.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { takeLock } from "../../src/program/lock.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";

const now = () => "2026-03-02T08:00:00Z";
const room = { columns: 90, lines: 400, zoomed: false };
let folder = "";
let live: LiveProgram;
let release: () => Promise<void>;
let failed: unknown = null;

async function fresh(): Promise<PlannedProgram> {
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.program;
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "wyeplan-recipe-"));
  cpSync(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname, folder, {
    recursive: true,
  });
  const attempt = await takeLock(folder, now());
  if (!attempt.ok) throw new Error("the test's folder is locked");
  release = () => attempt.lock.release();
  const rights = { kind: "decide", writer: { lock: attempt.lock, who: "tester", now } } as const;
  live = new LiveProgram(await fresh(), rights, () => {}, { ...noPlace, folder });
  live.onFailure = (error) => {
    failed = error;
  };
}, 60_000);
afterAll(async () => {
  live.close();
  await release();
  rmSync(folder, { recursive: true, force: true });
});

const text = () => live.view.pane("recipe", null, room).lines.map((line) => line.map((s) => s.text).join(""));
const item = { path: ["recipe", "score"], label: "score", text: "", empty: "likelihood × consequence" };

async function worked(): Promise<readonly string[]> {
  for (let i = 0; i < 600 && text().some((line) => line.startsWith("working")); i++)
    await new Promise((resolve) => setTimeout(resolve, 50));
  expect(failed).toBeNull();
  return text();
}

it("refuses a formula that cannot be read, in words, and writes nothing", async () => {
  const before = readFileSync(join(folder, "program.json"), "utf8");
  await live.perform({ kind: "try recipe", item, text: "likelihood * nonsense" });
  expect((await worked()).join(" ")).toContain("It cannot be taken.");
  // The formula on a line of its own, and under it the sign below its first character that cannot be read.
  const formula = text().findIndex((line) => line.trim() === "likelihood * nonsense");
  expect(text()[formula + 1]).toBe(`    ${" ".repeat("likelihood * ".length)}^`);
  const answer = await live.perform({ kind: "accept recipe", reason: "to see" });
  expect(answer.refused).toHaveLength(1);
  // The last line of the window says why, without the formula that stands in the pane.
  expect(answer.notice).toMatch(/^Nothing was changed\. Expected .* at character 14, where .*nonsense/);
  expect(answer.notice).not.toContain("\n");
  await live.perform({ kind: "drop recipe" });
  expect(text().join("\n")).not.toContain("Tried");
  expect(readFileSync(join(folder, "program.json"), "utf8")).toBe(before);
  expect(readdirSync(folder)).not.toContain("snapshots");
}, 60_000);

it("refuses weights without the line of a file in which they do not stand", async () => {
  const weights = {
    path: ["criteria", "risk", "consequence", "weights"],
    label: "weights",
    text: "",
    empty: "",
  };
  await live.perform({ kind: "try recipe", item: weights, text: "0.3, x" });
  const said = (await worked()).join(" ");
  expect(said).toContain("It cannot be taken. criteria.risk.consequence.weights");
  expect(said).not.toContain("program.json, line");
  await live.perform({ kind: "drop recipe" });
}, 60_000);

it("refuses a recipe that could be taken while program.json cannot be read, and says what is wrong there", async () => {
  const file = join(folder, "program.json");
  const before = readFileSync(file, "utf8");
  await live.perform({ kind: "try recipe", item, text: "consequence" });
  await worked();
  writeFileSync(file, before.replace('"schema"', "schema"));
  const answer = await live.perform({ kind: "accept recipe", reason: "council" });
  writeFileSync(file, before);
  expect(answer.notice).toMatch(/^Nothing was changed\. program\.json, line 2: found /);
  await live.perform({ kind: "drop recipe" });
}, 60_000);

it("shows what a formula would move, and the fresh plan after it is accepted is what was shown", async () => {
  const before = await fresh();
  await live.perform({ kind: "try recipe", item, text: "consequence" });
  const shown = await worked();
  const answer = await live.perform({ kind: "accept recipe", reason: "council" });
  expect(answer.refused).toEqual([]);
  await live.settle();
  const after = await fresh();
  expect([...live.program.order]).toEqual([...after.order]);
  const rankOf = (program: PlannedProgram, id: string) => {
    for (let row = 0; row < program.laterals.rows; row++)
      if (textAt(program.laterals, "lateral", row) === id) return numberAt(program.laterals, "rank", row);
    throw new Error(id);
  };
  const moved = shown.flatMap((line) => {
    const found = /^ {2}(\d{5}) +(\d+) → (\d+) /.exec(line);
    return found === null ? [] : [found];
  });
  expect(moved.length).toBeGreaterThan(50);
  for (const [, id = "", from, to] of moved)
    expect([rankOf(before, id), rankOf(after, id)]).toEqual([Number(from), Number(to)]);
  const [snapshot = ""] = readdirSync(join(folder, "snapshots"));
  expect(JSON.parse(readFileSync(join(folder, "snapshots", snapshot), "utf8")).saved.by).toBe(
    "sheet, before recipe.score was changed from likelihood × consequence to consequence: council",
  );
}, 60_000);

it("keeps a column by formula in program.json with everything else of it", async () => {
  const before = JSON.parse(readFileSync(join(folder, "program.json"), "utf8"));
  const answer = await live.perform({ kind: "add column", name: "half", text: "likelihood / 2" });
  expect(answer.notice).toBe("half is in the sheet and in program.json (recipe.columns).");
  before.recipe.columns.half = "likelihood / 2";
  expect(JSON.parse(readFileSync(join(folder, "program.json"), "utf8"))).toEqual(before);
});

it("has the column where it was put after the whole is planned anew: what is shown is known by its place", async () => {
  const { newColumn } = await live.perform({ kind: "add column", name: "third", text: "likelihood / 3" });
  const keys = () => live.view.columns.map(({ key }) => key);
  const before = keys();
  expect(before[newColumn!]).toBe("third");
  // The city's own columns, such as its notes, stand after a program's own in a fresh plan.
  expect((await fresh()).columns.at(-1)?.key).toMatch(/^other:/);
  await live.settle();
  expect(keys()).toEqual(before);
}, 60_000);

it("keeps the place of a column that the recipe loses, empty, until the sheet is closed", async () => {
  const keys = () => live.view.columns.map(({ key }) => key);
  const before = keys();
  const column = {
    path: ["recipe", "columns", "half"],
    label: "half",
    text: "likelihood / 2",
    empty: "none",
  };
  await live.perform({ kind: "try recipe", item: column, text: "" });
  await worked();
  const answer = await live.perform({ kind: "accept recipe", reason: "not wanted" });
  expect(answer.refused).toEqual([]);
  await live.settle();
  expect(keys()).toEqual(before);
  const [row = 0] = live.program.order;
  expect(live.view.cell(row, before.indexOf("third"))).not.toBe("");
  expect(numberAt(live.program.laterals, "half", row)).toBeNaN();
}, 60_000);

it("tries a score that some laterals do not have, which are last", async () => {
  await live.perform({ kind: "try recipe", item, text: "likelihood * backups" });
  expect((await worked()).join(" ")).toContain("Kendall");
  await live.perform({ kind: "drop recipe" });
});

it("undoes no older decision in place of a change of the recipe without saying so first", async () => {
  const log = () => readFileSync(join(folder, "decisions.csv"), "utf8");
  const column = live.view.columns.findIndex(({ key }) => key === "host_diameter");
  const decide = () =>
    live.perform({ kind: "decide", decisions: [{ row: 0, column, value: "5 in" }], reason: "dug up" });
  await decide();
  const decided = log();
  const undo = { kind: "undo" } as const;

  await live.perform({ kind: "add column", name: "fifth", text: "likelihood / 5" });
  expect((await live.perform(undo)).notice).toBe(
    "Nothing is undone: fifth came last, and the recipe is not in the log of decisions. % changes it back; Ctrl+z again undoes the decision before it.",
  );
  expect(log()).toBe(decided);
  expect((await live.perform(undo)).notice).toContain("Host dia.: as given");
  expect(log()).not.toBe(decided);

  await decide();
  await live.perform({ kind: "try recipe", item, text: "likelihood" });
  await live.perform({ kind: "accept recipe", reason: "to see" });
  expect((await live.perform(undo)).notice).toMatch(/^Nothing is undone: recipe\.score came last/);
  // A decision since then is what undo is about.
  await decide();
  expect((await live.perform(undo)).notice).toContain("Host dia.: 5 in");
}, 60_000);

it("writes the causes of a move with the sign that its places have", async () => {
  await live.settle();
  const moved = () =>
    live.view.pane("moved", null, room).lines.map((line) => line.map((s) => s.text).join(""));
  for (let i = 0; i < 600 && moved().some((line) => line.startsWith("working")); i++)
    await new Promise((resolve) => setTimeout(resolve, 50));
  const down = moved().filter((line) => / → .* −\d/.test(line));
  expect(down.length).toBeGreaterThan(0);
  for (const line of down) expect(line).not.toMatch(/ -\d/);
}, 60_000);

import { rmSync } from "node:fs";
import { afterAll, beforeAll, expect, it } from "vitest";
import { NOTHING_ISSUED } from "../../src/bidding/issued-numbers.ts";
import { placed, seasonToPlace } from "../../src/commands/current-season.ts";
import { LiveProgram } from "../../src/commands/live-program.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { takeLock } from "../../src/program/lock.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

const now = () => "2026-03-02T08:00:00Z";
let folder = "";
let live: LiveProgram;
let release: () => Promise<void>;
beforeAll(async () => {
  folder = sampleCopy("quennock-falls");
  await seasonOfFolder(folder, { save: "spring" }, recorded().io);
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  const season = await seasonToPlace(folder, loaded.settings);
  const attempt = await takeLock(folder, now());
  if (!attempt.ok) throw new Error("the test's folder is locked");
  release = () => attempt.lock.release();
  const rights = { kind: "decide", writer: { lock: attempt.lock, who: "tester", now } } as const;
  live = new LiveProgram(placed(loaded.program, season), rights, () => {}, {
    folder,
    season,
    isNew: false,
    issued: NOTHING_ISSUED,
  });
}, 120_000);
afterAll(async () => {
  live.close();
  await release();
  rmSync(folder, { recursive: true, force: true });
});

const columnOf = (key: string) => live.program.columns.findIndex((column) => column.key === key);
const decide = (row: number, key: string, value: string) =>
  live.perform({
    kind: "decide",
    decisions: [{ row, column: columnOf(key), value }],
    reason: "site diary",
  });
const why = (row: number) =>
  live.view
    .pane("why", row, { columns: 100, lines: 400, zoomed: true })
    .lines.map((line) => line.map(({ text }) => text).join(""))
    .join("\n");
/** A row that is in the season. */
const inSeason = () =>
  Array.from(
    live.program.laterals.columns.get("in_season")?.kind === "number" ? live.program.order : [],
  ).find((row) => numberAt(live.program.laterals, "in_season", row) === 1)!;

it("the sheet shows the season's columns first, keeps them through a status, and empties them when the plan is another", async () => {
  const row = inSeason();
  expect(live.view.shownAtFirst).toContain(columnOf("season_reason"));
  expect(why(row)).toContain("Season spring");
  expect(why(row)).toContain("1 calendar day before the first visit");

  await decide(row, "status", "cleaned");
  await live.settle();
  expect(live.program.season?.isFilled).toBe(true);
  expect(numberAt(live.program.laterals, "in_season", row)).toBe(1);

  await decide(row, "host_length", "10 ft");
  await live.settle();
  expect(live.program.season?.isFilled).toBe(false);
  expect(Number.isNaN(numberAt(live.program.laterals, "in_season", row))).toBe(true);
  expect(textAt(live.program.laterals, "season_name", row)).toBe("");
  expect(why(row)).toContain("was selected from another plan");

  await live.perform({ kind: "undo" });
  await live.settle();
  expect(live.program.season?.isFilled).toBe(true);
  expect(textAt(live.program.laterals, "season_name", row)).toBe("spring");
}, 120_000);

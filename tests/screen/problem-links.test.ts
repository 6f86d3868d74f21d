import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { LiveProgram, noPlace } from "../../src/commands/live-program.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { workOnPane } from "../../src/commands/pane-work.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { type Action, startSession } from "../../src/screen/session.ts";
import { step } from "../../src/screen/step.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";

const size = { columns: 100, rows: 30 };
let folder = "";
let program: PlannedProgram;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "wyeplan-links-"));
  cpSync(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname, folder, {
    recursive: true,
  });
  // A defect farther up the pipe than any believable lateral: kept, and said.
  const path = join(folder, "observations.csv");
  const lines = readFileSync(path, "utf8").split("\r\n");
  const cells = lines[40]!.split(",");
  cells[4] = "99999";
  lines[40] = cells.join(",");
  writeFileSync(path, lines.join("\r\n"));
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  program = loaded.program;
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("problems of the observation file", () => {
  it("lead to the lateral that the city's own line names, and say there which line it was", () => {
    // The file as it is, without the program: line n of it is row n of the problem.
    const rows = readFileSync(join(folder, "observations.csv"), "utf8").split(/\r?\n/);
    const live = new LiveProgram(program, { kind: "look", because: "" }, () => {}, { ...noPlace, folder });
    const sheet = live.view;
    const pane = sheet.pane("problems", 0, { columns: 100, lines: 28, zoomed: false });
    const links = (pane.links ?? []).flatMap((link, at) => {
      const row = /observations\.csv, row (\d+)/.exec(
        pane.lines
          .slice(link.line, link.line + 2)
          .map(textOfLine)
          .join(" "),
      )?.[1];
      return row === undefined ? [] : [{ at, row: Number(row) }];
    });
    expect(links.map(({ row }) => row)).toContain(41);
    for (const { at, row } of links) {
      const open: Action = { kind: "show pane", pane: "problems" };
      const shown = step(startSession(sheet), open, size, sheet).session;
      const { session } = step({ ...shown, paneAt: at }, { kind: "enter" }, size, sheet);
      expect(sheet.cell(session.order[session.row]!, 0)).toBe(rows[row - 1]!.split(",")[1]);
      expect(session.notice).toContain(`observations.csv, row ${row}`);
      expect(session.pane).toBeNull();
    }
    live.close();
  });
});

it("a problem between decided values of a lateral leads to that lateral", () => {
  const problem = {
    severity: "noted",
    file: "decisions.csv",
    row: null,
    column: null,
    lateral: "00217",
    found: "lower 39.9 ft + upper 34.3 ft = 74.2 ft",
    expected: "the length of the lateral, 100.0 ft",
    remedy: "Correct it.",
  } as const;
  const rights = { kind: "look", because: "" } as const;
  const live = new LiveProgram({ ...program, problems: [problem] }, rights, () => {}, { ...noPlace, folder });
  const { links } = live.view.pane("problems", 0, { columns: 100, lines: 28, zoomed: false });
  expect(links).toMatchObject([{ to: { kind: "lateral" } }]);
  const [link] = links ?? [];
  expect(link?.to.kind === "lateral" && live.view.cell(link.to.row, 0)).toBe("00217");
  live.close();
});

describe("the season pane", () => {
  it("judges a saved season by the rules it was saved with, and says that program.json has others now", async () => {
    const io = { out: () => {}, err: () => {}, now: () => "2026-03-02T08:00:00Z", who: "a planner" };
    await seasonOfFolder(folder, { save: "first" }, io);
    const seen = async () => {
      const { found } = await workOnPane({ what: "season", folder }, program);
      if (found.kind !== "known" || !("saved" in found.value)) throw new Error(JSON.stringify(found));
      return found.value;
    };
    const before = await seen();
    expect(before.saved?.head.join(" ")).not.toContain("judged by the rules");
    // Under a budget of 1,000 nearly all would "fit no season"; the saved season had other rules.
    const path = join(folder, "program.json");
    const written = JSON.parse(readFileSync(path, "utf8"));
    const now = { ...written.season, budget: 1000 };
    writeFileSync(path, JSON.stringify({ ...written, season: now }));
    const after = await seen();
    expect(after.saved?.head.join(" ")).toContain("judged by the rules it was saved with");
    expect([...after.saved!.fates]).toEqual([...before.saved!.fates]);
    // Rules that name a lateral which is gone are said, not passed over as "nothing is saved".
    const run = join(folder, "runs/first.json");
    const saved = JSON.parse(readFileSync(run, "utf8"));
    writeFileSync(
      run,
      JSON.stringify({ ...saved, season: { ...saved.season, must_not: ["no such lateral"] } }),
    );
    const stranger = await seen();
    expect(stranger.saved).toBeNull();
    expect(stranger.notShown).toContain("no such lateral");
  }, 120_000);
});

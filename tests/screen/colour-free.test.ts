import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { LiveProgram, noPlace } from "../../src/commands/live-program.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { bindings } from "../../src/screen/keymap.ts";
import { paintLine } from "../../src/screen/line.ts";
import { paintFrame } from "../../src/screen/paint-frame.ts";
import { type Action, startSession } from "../../src/screen/session.ts";
import { step } from "../../src/screen/step.ts";

const sizes = [
  { columns: 80, rows: 24 },
  { columns: 160, rows: 50 },
];
let folder = "";
let live: LiveProgram;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "wyeplan-colour-"));
  cpSync(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname, folder, {
    recursive: true,
  });
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  live = new LiveProgram(loaded.program, { kind: "look", because: "" }, () => {}, { ...noPlace, folder });
}, 60_000);
afterAll(() => {
  live.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Every pane, list and prompt that a key opens, and every state of the grid one key away. */
const opened = bindings
  .map(({ action, words }) => [words, action] as const)
  .filter(([, { kind }]) => kind !== "leave");

const ESC = "\x1b";
/** Parameters of each Select Graphic Rendition in a text (ECMA-48 8.3.117). */
const RENDITION = new RegExp(`${ESC}\\[([\\d;:]*)m`, "g");
const renditions = (text: string) => [...text.matchAll(RENDITION)].map(([, given]) => given!);

function frames(action: Action, attributes: boolean): readonly string[] {
  return sizes.flatMap((size) => {
    const down: Action = { kind: "move rows", by: 1 };
    const session = [down, action].reduce(
      (before, each) => step(before, each, size, live.view).session,
      startSession(live.view),
    );
    return drawFrame(session, live.view, size).map((line) => paintLine(line, attributes));
  });
}

describe("the sheet on terminals of few colours or none", () => {
  it.each(opened)("uses only the terminal's own two colours for: %s", (_, action) => {
    const text = frames(action, true).join("\n");
    const given = renditions(text);
    expect(given.length).toBeGreaterThan(0);
    // Bold, dim, reverse and their ends: no colour of 16, of 256 or of 16 million, so light and dark screens both do.
    expect(given.filter((one) => !["1", "2", "7", "22", "27"].includes(one))).toEqual([]);
  });

  it.each(opened)("is whole without any attribute: %s", (_, action) => {
    const bare = frames(action, false);
    expect(bare.join("\n")).not.toContain("\x1b");
    // Meaning never depends on a look: the text is the same.
    expect(frames(action, true).map((line) => line.replace(RENDITION, ""))).toEqual(bare);
  });

  it("tells the cursor's line and cell, marked lines and decided values by signs", () => {
    const size = sizes[0]!;
    const mark: Action = { kind: "mark row" };
    const session = [mark, { kind: "move rows", by: 1 } as Action].reduce(
      (before, each) => step(before, each, size, live.view).session,
      startSession(live.view),
    );
    const lines = drawFrame(session, live.view, size).map((line) => paintLine(line, false));
    expect(lines[3]).toMatch(/^\+/);
    expect(lines[4]).toMatch(/^>\[\S+ *\]/);
  });

  it("paints frames with no sequence but places, erasing, updates and looks", () => {
    const lines = frames({ kind: "show pane", pane: "map" }, true).slice(0, 24);
    const others = paintFrame(null, lines, 80).replace(
      new RegExp(`${ESC}\\[(\\d+;1H|K|2J|\\?2026[hl]|(1|2|7|22|27)m)`, "g"),
      "",
    );
    expect(others).not.toContain("\x1b");
  });
});

import { describe, expect, it } from "vitest";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { lineOf, textOfLine } from "../../src/screen/line.ts";
import type { RecipeSeen } from "../../src/screen/pane-data.ts";
import { recipeLines } from "../../src/screen/recipe-pane.ts";
import type { Action, Session } from "../../src/screen/session.ts";
import { startSession } from "../../src/screen/session.ts";
import type { PaneLink, SheetView } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const size = { columns: 80, rows: 24 };
const item = { path: ["recipe", "score"], label: "score", text: "likelihood", empty: "by the tables" };
const links: readonly PaneLink[] = [
  { line: 3, to: { kind: "lateral", row: 7 } },
  { line: 5, to: { kind: "lateral", row: 19 } },
  { line: 38, to: { kind: "recipe item", item } },
  { line: 39, to: { kind: "drop trial" } },
];
const sheet: SheetView = {
  ...plainSheet(numbered(40), { editable: true }),
  pane: (name) => ({
    title: name,
    lines: Array.from({ length: 40 }, (_, i) => lineOf(`  line ${i}`)),
    links,
  }),
};
const acted = (actions: readonly Action[], view = sheet, from = startSession(view)): Session =>
  actions.reduce((session, action) => step(session, action, size, view).session, from);
const problems: Action = { kind: "show pane", pane: "problems" };
const down: Action = { kind: "move rows", by: 1 };

describe("a pane whose lines lead somewhere", () => {
  it("marks the line that Enter follows", () => {
    const lines = drawFrame(acted([problems, down]), sheet, size).map(textOfLine);
    expect(lines.filter((line) => line.startsWith("> "))).toEqual(["> line 5"]);
    expect(lines.at(-1)).toContain("Enter goes where the line leads");
  });

  it("goes to the lateral of the line and closes", () => {
    const there = acted([problems, down, { kind: "enter" }]);
    expect([there.pane, there.row, there.focus]).toEqual([null, 19, "sheet"]);
  });

  it("says so where the lateral is not among those shown", () => {
    const filtered = acted([{ kind: "next filter" }, problems]);
    // Row 7 is odd and shown by the filter of odd rows; the filter "none" shows nothing.
    expect(acted([{ kind: "enter" }], sheet, filtered).row).toBe(3);
    const nothing = acted([{ kind: "next filter" }, { kind: "next filter" }, problems, { kind: "enter" }]);
    expect([nothing.pane, nothing.notice]).toEqual([
      "problems",
      "That lateral is not among those shown; a shows all laterals.",
    ]);
  });

  it("brings each link into view, and the lines before the first", () => {
    const low = acted([problems, { kind: "go to row", end: "last" }]);
    expect(low.paneAt).toBe(3);
    // 19 lines of text are in view: the last 19 of 40.
    expect(low.paneTop).toBe(21);
    const high = acted([{ kind: "go to row", end: "first" }], sheet, low);
    expect([high.paneAt, high.paneTop]).toEqual([0, 0]);
  });

  it("asks for a value of the recipe, tries it, and asks for a reason before anything is written", () => {
    const asked = acted([{ kind: "show pane", pane: "recipe" }, down, down, { kind: "enter" }]);
    expect(asked.prompt?.purpose).toEqual({ kind: "recipe", item });
    expect(asked.prompt?.text).toBe("likelihood");
    const tried = step(
      acted([{ kind: "type", text: " * 2" }], sheet, asked),
      { kind: "accept" },
      size,
      sheet,
    );
    expect(tried.effects).toEqual([{ kind: "try recipe", item, text: "likelihood * 2" }]);
    expect([tried.session.pane, tried.session.paneAt]).toEqual(["recipe", 0]);

    const accepting: SheetView = {
      ...sheet,
      pane: () => ({
        title: "",
        lines: [lineOf("  accept")],
        links: [{ line: 0, to: { kind: "accept trial" } }],
      }),
    };
    const why = acted([{ kind: "enter" }], accepting, tried.session);
    expect(why.prompt?.purpose.kind).toBe("recipe reason");
    expect(step(why, { kind: "accept" }, size, accepting).session.prompt?.refusal).toContain("reason");
    const given = acted([{ kind: "type", text: "council of May" }], accepting, why);
    const accepted = step(given, { kind: "accept" }, size, accepting);
    expect(accepted.effects).toEqual([{ kind: "accept recipe", reason: "council of May" }]);
    // It is drawn before the answer comes, which may take some seconds.
    expect(accepted.session.notice).toBe("The run before is saved …");
  });

  it("keeps its cursor on the line it was on when it says something else, at its place in the window", () => {
    const onItem = acted([problems, down, down]);
    const before = links[2]!;
    const more = [
      { line: 3, to: { kind: "accept trial" } } as const,
      ...links.map((link) => ({ ...link, line: link.line + 6 })),
    ];
    const settled = {
      ...sheet,
      pane: () => ({ title: "", lines: Array.from({ length: 60 }, () => lineOf("")), links: more }),
    };
    const kept = acted([{ kind: "settled", on: before }], settled, onItem);
    expect(more[kept.paneAt]!.to).toEqual(before.to);
    expect(kept.paneTop).toBe(onItem.paneTop + 6);
    const gone = { ...settled, pane: () => ({ title: "", lines: [lineOf("")], links: more.slice(0, 1) }) };
    expect(acted([{ kind: "settled", on: before }], gone, onItem).paneAt).toBe(0);
  });

  it("has the lines of a trial at their places from the beginning, and takes none before it is worked out", () => {
    const trial = (moved: NonNullable<RecipeSeen["trial"]>["moved"]) =>
      recipeLines({ parts: [], trial: { item, text: "likelihood", moved } }, () => null, 80).links.map(
        ({ to }) => to,
      );
    const known = { head: [], tauB: 1, top: 1, stay: 1, overlap: 1, movers: [], passed: 0 };
    const working = trial({ kind: "working" });
    expect(working.map(({ kind }) => kind)).toEqual(["accept trial", "drop trial"]);
    expect(trial({ kind: "known", value: known })).toEqual([
      { kind: "accept trial" },
      { kind: "drop trial" },
    ]);
    const waiting = {
      ...sheet,
      pane: () => ({ title: "", lines: [lineOf("")], links: [{ line: 0, to: working[0]! }] }),
    };
    const pressed = acted([{ kind: "show pane", pane: "recipe" }, { kind: "enter" }], waiting);
    expect([pressed.prompt, pressed.notice]).toEqual([
      null,
      expect.stringContaining("still being worked out"),
    ]);
  });

  it("lets nobody change the recipe of a program that is only looked at", () => {
    const closed = { ...sheet, closedBecause: "Read only." };
    const tried = acted([{ kind: "show pane", pane: "recipe" }, down, down, { kind: "enter" }], closed);
    expect([tried.prompt, tried.notice]).toEqual([null, "Read only."]);
  });
});

describe("the first steps", () => {
  const fresh = { ...plainSheet(numbered(40)), isNew: true };

  it("are shown in a new program, and give way to the first key, which is done", () => {
    expect(startSession(fresh).pane).toBe("first steps");
    const moved = acted([down], fresh);
    expect([moved.pane, moved.row]).toEqual([null, 1]);
    expect(acted([problems], fresh).pane).toBe("problems");
    expect(acted([{ kind: "close pane" }], fresh).pane).toBeNull();
  });

  it("stay through what nobody did: another size of the window, a plan made anew", () => {
    expect(acted([{ kind: "fit window" }, { kind: "settled" }], fresh).pane).toBe("first steps");
  });
});

describe("an order made before the whole was planned anew", () => {
  it("is said to be so, until the rows are put in order again", () => {
    const settled = { ...sheet, planned: 1 };
    const title = (session: Session) => textOfLine(drawFrame(session, settled, size)[0]!);
    const before = acted([], sheet);
    expect(title(before)).toContain("old order: b renews");
    expect(title(acted([{ kind: "order as at first" }], settled, before))).not.toContain("old order");
  });
});

describe("the map", () => {
  it("is narrowed to a district and widened again, where it is shown", () => {
    const map: Action = { kind: "show pane", pane: "map" };
    expect(acted([map, { kind: "zoom" }]).zoomed).toBe(true);
    expect(acted([map, { kind: "zoom" }, { kind: "zoom" }]).zoomed).toBe(false);
    expect(acted([{ kind: "zoom" }]).notice).toContain("k shows the map");
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { widthOf } from "../../src/screen/cell-text.ts";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { paintLine, textOfLine } from "../../src/screen/line.ts";
import { type Action, type Session, startSession } from "../../src/screen/session.ts";
import type { PaneName, SheetView, Size } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const textOf = (session: Session, sheet: SheetView, size: Size) =>
  drawFrame(session, sheet, size).map((line) => textOfLine(line).trimEnd());

const pressed = (sheet: SheetView, size: Size, ...actions: readonly Action[]): Session =>
  actions.reduce((session, action) => step(session, action, size, sheet).session, startSession(sheet));

const down: Action = { kind: "move rows", by: 1 };
const right: Action = { kind: "move columns", by: 1 };
const show = (pane: PaneName): Action => ({ kind: "show pane", pane });

const small: Size = { columns: 46, rows: 10 };
const wide: Size = { columns: 120, rows: 24 };

describe("drawFrame", () => {
  it("draws title, headings with units, rows, totals, the cell in full and the keys", () => {
    const sheet = plainSheet(numbered(3));
    // The widths are the columns' 7, 4, 8, 8, 8, two around each, and one for the marker: 46.
    expect(textOf(pressed(sheet, small, down, right, right, right), sheet, small)).toEqual([
      "Plain town   by Rank                    2 of 3",
      "  Lateral  Rank  District    Length      Cost",
      "              ▲                (ft)",
      "  L001        1  Harbour          0      1000",
      "> L002        2  Mill     [       7]      999",
      "  L003        3  Harbour       ·          998",
      // Three laterals of 0 and 7 ft and without a length; 1000 + 999 + 998.
      "  all 3                           7      2997",
      "All 3 laterals   cost USD 1.00",
      "Length: 7 ft   the city's: What Length is.",
      "? help   q leave   Enter decide",
    ]);
  });

  it("shows the cursor's cell in reverse, and by brackets where there are no attributes", () => {
    const sheet = plainSheet(numbered(3));
    const line = drawFrame(startSession(sheet), sheet, small)[3]!;
    expect(paintLine(line, true)).toContain("\x1b[7m[L001   ]\x1b[27m");
    expect(paintLine(line, false)).toContain(">[L001   ]");
    expect(paintLine(line, false)).not.toContain("\x1b");
  });

  it("says that there are more columns to either side", () => {
    const sheet = plainSheet(numbered(3));
    const size = { columns: 36, rows: 10 };
    expect(textOf(startSession(sheet), sheet, size)[1]).toBe("  Lateral  Rank  District    Length›");
    const last = pressed(sheet, size, { kind: "go to column", end: "last" });
    expect(textOf(last, sheet, size)[1]).toBe("‹ Lateral    Length      Cost");
  });

  it("says how the rows are sorted", () => {
    const sheet = plainSheet(numbered(3));
    const byCost = pressed(sheet, wide, ...Array<Action>(4).fill(right), { kind: "sort by column" });
    expect(textOf(byCost, sheet, wide)[0]).toContain("by Cost, smallest first");
    const byDistrict = pressed(
      sheet,
      wide,
      right,
      right,
      { kind: "sort by column" },
      { kind: "turn order round" },
    );
    expect(textOf(byDistrict, sheet, wide)[0]).toContain("by District, Z to A");
    expect(textOf(byDistrict, sheet, wide)[2]).toContain("▼");
  });

  it("puts the reasons beside the sheet in a wide window, below it in a high one, over it in a small one", () => {
    const sheet = plainSheet(numbered(30));
    const beside = textOf(pressed(sheet, wide, show("why")), sheet, wide);
    // Half of 120 for the pane, two for the line between.
    expect(beside[1]!.slice(58, 75)).toBe("│ ─ Why row 0 ───");
    expect(beside[4]!.slice(60)).toBe("why line 3");
    const size = { columns: 80, rows: 24 };
    const below = textOf(pressed(sheet, size, show("why")), sheet, size);
    // Of 20 lines the pane takes 11, its title among them.
    expect(below[10]).toMatch(/^─ Why row 0 ─+ 1–10 of 40 ─$/);
    expect(below[3]).toContain(">[L001");
    const low = { columns: 80, rows: 12 };
    const over = textOf(pressed(sheet, low, show("why")), sheet, low);
    expect(over[1]).toContain("Why row 0");
    expect(over.join()).not.toContain("[L001");
  });

  it("scrolls a pane and says where in it one is", () => {
    const sheet = plainSheet(numbered(3));
    const scrolled = textOf(pressed(sheet, small, show("districts"), down, down), sheet, small);
    expect(scrolled[1]).toMatch(/3–7 of 40 ─$/);
    expect(scrolled[2]).toBe("districts line 3");
  });

  it("says what to do when there is no lateral or no room", () => {
    const empty = plainSheet([]);
    expect(textOf(startSession(empty), empty, wide)[22]).toBe(
      "No laterals. Press p for the problems found in the files.",
    );
    expect(textOf(startSession(empty), empty, { columns: 20, rows: 5 })).toEqual([
      "Window too small: 30",
      "× 8 at least. q",
      "leaves.",
      "",
      "",
    ]);
  });

  it("keeps columns in line under wide characters, and shows escape sequences as signs", () => {
    const sheet = plainSheet([
      ["L1", "1", "川端", "1", "2"],
      ["L2", "2", "\x1b[31mred", "1", "2"],
      ["L3", "3", "Größe", "1", "2"],
    ]);
    const rows = textOf(startSession(sheet), sheet, small).slice(3, 6);
    // All 46 cells but the blank after the last column, counted in cells, not in characters.
    expect(rows.map((row) => widthOf(row))).toEqual([45, 45, 45]);
    expect(rows[1]).toContain("␛[31mred");
  });

  it("fills the window exactly, whatever the size, the place and the text", () => {
    const text = fc.oneof(
      fc.string({ unit: "binary", maxLength: 12 }),
      fc.constantFrom("日本語", "\x1b[2J", "e\u0301", ""),
    );
    const size = fc.record({
      columns: fc.integer({ min: 1, max: 200 }),
      rows: fc.integer({ min: 1, max: 60 }),
    });
    const actions = fc.array(
      fc.constantFrom<Action>(
        down,
        right,
        { kind: "move pages", by: 1 },
        { kind: "change focus" },
        show("why"),
        show("help"),
      ),
      { maxLength: 10 },
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(text, text), { maxLength: 30 }), size, actions, (cells, now, keys) => {
        const sheet = plainSheet(cells.map(([a, b], i) => [a, String(i), b, "", ""]));
        const frame = drawFrame(pressed(sheet, now, ...keys), sheet, now);
        expect(frame.length).toBe(now.rows);
        for (const line of frame) expect(widthOf(textOfLine(line))).toBeLessThanOrEqual(now.columns);
      }),
    );
  });
});

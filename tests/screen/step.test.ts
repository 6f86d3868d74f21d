import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnsInView, isTooSmall, layOut, rowsInView } from "../../src/screen/layout.ts";
import { type Action, type Session, startSession } from "../../src/screen/session.ts";
import type { PaneName, SheetView, Size } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const window: Size = { columns: 80, rows: 24 };
const sheet = plainSheet(numbered(100));

/** The session after these actions. */
const pressed = (
  actions: readonly Action[],
  size = window,
  view: SheetView = sheet,
  from?: Session,
): Session =>
  actions.reduce((session, action) => step(session, action, size, view).session, from ?? startSession(view));

const down: Action = { kind: "move rows", by: 1 };
const up: Action = { kind: "move rows", by: -1 };
const right: Action = { kind: "move columns", by: 1 };
const pageDown: Action = { kind: "move pages", by: 1 };
const pageUp: Action = { kind: "move pages", by: -1 };
const lastRow: Action = { kind: "go to row", end: "last" };
const lastColumn: Action = { kind: "go to column", end: "last" };
const show = (pane: PaneName): Action => ({ kind: "show pane", pane });
const sort: Action = { kind: "sort by column" };

const idsIn = ({ order }: Session, view = sheet) => Array.from(order, (row) => view.cell(row, 0));

describe("step, moving", () => {
  it("moves by one lateral and stops at both ends", () => {
    expect(pressed([down, down, up]).row).toBe(1);
    expect(pressed([up]).row).toBe(0);
    expect(pressed([lastRow, down]).row).toBe(99);
  });

  it("scrolls no more than it must", () => {
    // 24 rows: a title, two lines of headings, two of totals, the cell, the keys: 17 laterals are in view.
    expect(pressed(Array(16).fill(down)).top).toBe(0);
    expect(pressed(Array(17).fill(down)).top).toBe(1);
  });

  it("moves by a page that keeps one line in view, and back to where it was", () => {
    expect(pressed([pageDown]).row).toBe(16);
    expect(pressed([pageDown, pageDown, pageUp]).row).toBe(16);
    expect(pressed([lastRow]).top).toBe(100 - 17);
  });

  it("keeps the id in view while the other columns scroll", () => {
    const narrow = { columns: 40, rows: 24 };
    const session = pressed([lastColumn], narrow);
    const shown = columnsInView(session, sheet, narrow.columns);
    // 40 cells: the marker, then the id 7 + 2, and 8 + 2 each: three more columns.
    expect(shown.map(({ place }) => place)).toEqual([0, 2, 3, 4]);
  });

  it("goes with the cursor to the first columns, though the id was in view all along", () => {
    const narrow = { columns: 40, rows: 24 };
    const home = pressed([lastColumn, { kind: "go to column", end: "first" }], narrow);
    expect(home.column).toBe(0);
    expect(columnsInView(home, sheet, narrow.columns).map(({ place }) => place)).toEqual([0, 1, 2, 3]);
  });

  it("shows the columns on the left again when the window grows", () => {
    const session = pressed([lastColumn], { columns: 40, rows: 24 });
    expect(pressed([{ kind: "fit window" }], window, sheet, session).left).toBe(1);
  });

  it("does nothing wrong in a sheet without laterals", () => {
    const empty = plainSheet([]);
    const session = pressed([down, pageDown, lastRow, sort, show("why"), right], window, empty);
    expect(session).toMatchObject({ row: 0, top: 0, column: 1 });
  });
});

describe("step, order", () => {
  const three = plainSheet([
    ["B", "2", "Mill", "", "5"],
    ["A", "3", "Mill", "7", "5"],
    ["C", "1", "Harbour", "2", "9"],
  ]);
  const on = (column: number): Action[] => Array(column).fill(right);

  it("begins in the order of rank", () => {
    expect(idsIn(startSession(three), three)).toEqual(["C", "B", "A"]);
  });

  it("sorts by the column under the cursor, and the other way round the second time", () => {
    expect(idsIn(pressed([...on(2), sort], window, three), three)).toEqual(["C", "A", "B"]);
    expect(idsIn(pressed([...on(2), sort, sort], window, three), three)).toEqual(["A", "B", "C"]);
  });

  it("puts a missing number last whichever way round", () => {
    expect(idsIn(pressed([...on(3), sort], window, three), three)).toEqual(["C", "A", "B"]);
    expect(idsIn(pressed([...on(3), sort, sort], window, three), three)).toEqual(["A", "C", "B"]);
  });

  it("breaks ties by id", () => {
    expect(idsIn(pressed([...on(4), sort], window, three), three)).toEqual(["A", "B", "C"]);
  });

  it("turns the order of rank round, and goes back to it", () => {
    expect(idsIn(pressed([{ kind: "turn order round" }], window, three), three)).toEqual(["A", "B", "C"]);
    const back = pressed([...on(3), sort, { kind: "order as at first" }], window, three);
    expect(idsIn(back, three)).toEqual(["C", "B", "A"]);
  });

  it("shows a new order from its beginning", () => {
    expect(pressed([lastRow, sort])).toMatchObject({ row: 0, top: 0 });
  });

  it("changes no order behind a pane that covers the sheet", () => {
    expect(pressed([right, right, show("districts"), sort]).sort).toEqual([sheet.firstSort]);
  });
});

describe("step, panes", () => {
  it("opens a pane, and closes it by the same key or Escape", () => {
    expect(pressed([show("why")]).pane).toBe("why");
    expect(pressed([show("why"), show("why")]).pane).toBeNull();
    expect(pressed([show("problems"), { kind: "close pane" }])).toMatchObject({ pane: null, focus: "sheet" });
    expect(pressed([show("why"), show("districts")]).pane).toBe("districts");
  });

  it("keeps the cursor's lateral in view when the reasons take the lower half", () => {
    const session = pressed([...Array(17).fill(down), show("why")]);
    const page = rowsInView(layOut("why", window), window);
    expect(session.row - session.top).toBeLessThan(page);
  });

  it("moves the sheet while the reasons stand beside it, and begins each lateral's from the top", () => {
    const reading = pressed([show("why"), { kind: "change focus" }, down, down]);
    expect(reading).toMatchObject({ row: 0, paneTop: 2, focus: "pane" });
    const next = pressed([{ kind: "change focus" }, down], window, sheet, reading);
    expect(next).toMatchObject({ row: 1, paneTop: 0, focus: "sheet" });
  });

  it("lets the arrows move the text of a pane that covers the sheet, up to its last line", () => {
    expect(pressed([show("districts"), down, down, up])).toMatchObject({ row: 0, paneTop: 1 });
    // 40 lines in a window of 24 rows: 20 lines of pane, one of them its title.
    expect(pressed([show("districts"), lastRow]).paneTop).toBe(40 - 19);
  });

  it("gives a pane that comes to cover the sheet the arrows", () => {
    const small = { columns: 60, rows: 15 };
    expect(pressed([show("why")]).focus).toBe("sheet");
    expect(pressed([{ kind: "fit window" }], small, sheet, pressed([show("why")])).focus).toBe("pane");
  });
});

describe("step, effects", () => {
  it("asks the outside world only to leave or to draw again", () => {
    const session = startSession(sheet);
    expect(step(session, { kind: "leave" }, window, sheet).effects).toEqual([{ kind: "leave" }]);
    expect(step(session, { kind: "redraw" }, window, sheet).effects).toEqual([{ kind: "redraw" }]);
    expect(step(session, down, window, sheet).effects).toEqual([]);
  });
});

const anyAction: fc.Arbitrary<Action> = fc.oneof(
  fc.record({ kind: fc.constant("move rows" as const), by: fc.constantFrom(-1 as const, 1 as const) }),
  fc.record({ kind: fc.constant("move columns" as const), by: fc.constantFrom(-1 as const, 1 as const) }),
  fc.record({ kind: fc.constant("move pages" as const), by: fc.constantFrom(-1 as const, 1 as const) }),
  fc.record({
    kind: fc.constant("go to row" as const),
    end: fc.constantFrom("first" as const, "last" as const),
  }),
  fc.record({
    kind: fc.constant("go to column" as const),
    end: fc.constantFrom("first" as const, "last" as const),
  }),
  fc.record({
    kind: fc.constant("show pane" as const),
    pane: fc.constantFrom("why" as const, "districts" as const, "problems" as const, "help" as const),
  }),
  fc.constantFrom<Action>(
    { kind: "close pane" },
    { kind: "change focus" },
    { kind: "sort by column" },
    { kind: "turn order round" },
    { kind: "order as at first" },
    { kind: "fit window" },
  ),
);

describe("step, whatever is pressed and however the window changes", () => {
  it("keeps the cursor's cell in the window and the session within the sheet", () => {
    const size = fc.record({
      columns: fc.integer({ min: 30, max: 220 }),
      rows: fc.integer({ min: 8, max: 60 }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 70 }),
        fc.array(fc.tuple(anyAction, size), { maxLength: 40 }),
        (rows, presses) => {
          const view = plainSheet(numbered(rows));
          let session = startSession(view);
          for (const [action, now] of presses) {
            session = step(session, action, now, view).session;
            const layout = layOut(session.pane, now);
            const page = rowsInView(layout, now);
            expect(isTooSmall(now)).toBe(false);
            expect(session.row).toBeGreaterThanOrEqual(session.top);
            expect(session.row).toBeLessThan(session.top + page);
            expect(session.row).toBeLessThan(Math.max(1, rows));
            const shown = columnsInView(session, view, layout.grid?.columns ?? now.columns);
            expect(shown.map(({ place }) => place)).toContain(session.column);
            expect(session.order.length).toBe(rows);
            if (session.pane === null) expect(session.focus).toBe("sheet");
          }
        },
      ),
    );
  });
});

describe("step, filters", () => {
  const next: Action = { kind: "next filter" };

  it("shows the rows of each filter in turn, then all again, in the order of the sheet", () => {
    expect(idsIn(pressed([next])).slice(0, 3)).toEqual(["L002", "L004", "L006"]);
    expect(idsIn(pressed([next]))).toHaveLength(50);
    expect(pressed([next, next]).order).toHaveLength(0);
    expect(pressed([next, next, next])).toEqual(startSession(sheet));
  });

  it("keeps its rows when they are sorted another way, and moving in no rows at all does nothing", () => {
    const turned = pressed([next, { kind: "turn order round" }]);
    expect(idsIn(turned).slice(0, 2)).toEqual(["L100", "L098"]);
    expect(turned.order).toHaveLength(50);
    expect(pressed([next, next, down, pageDown, lastRow])).toMatchObject({ row: 0, top: 0 });
  });

  it("does nothing in a program without filters", () => {
    const bare: SheetView = { ...sheet, filters: [] };
    const { notice, ...same } = pressed([down, next], window, bare);
    expect(notice).toContain("no filter");
    expect({ ...same, notice: null }).toEqual(pressed([down], window, bare));
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { type Action, rowUnderCursor, type Session, startSession } from "../../src/screen/session.ts";
import type { SheetView } from "../../src/screen/sheet-view.ts";
import { placesInSteps, placesOf } from "../../src/screen/sort-rows.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const size = { columns: 80, rows: 12 };
/** More rows than are arranged at once; putting them in order takes three looks. */
function bigSheet(): SheetView {
  const sheet = plainSheet(numbered(60_000));
  const looks = new Map<string, number>();
  const prepare: SheetView["prepare"] = (asked) => {
    const key = JSON.stringify(asked);
    const done = Math.min(1, (looks.get(key) ?? 0) + 0.25);
    looks.set(key, done);
    return done;
  };
  return { ...sheet, prepare };
}

const act = (session: Session, sheet: SheetView, ...actions: readonly Action[]): Session =>
  actions.reduce((before, action) => step(before, action, size, sheet).session, session);

/** Goes on as the screen does, as long as that is asked for; the titles seen on the way. */
function wentOn(begun: Session, sheet: SheetView): { readonly session: Session; readonly titles: string[] } {
  let session = begun;
  const titles: string[] = [];
  for (let asked = true; asked; ) {
    titles.push(textOfLine(drawFrame(session, sheet, size)[0]!));
    const stepped = step(session, { kind: "go on" }, size, sheet);
    session = stepped.session;
    asked = stepped.effects.some(({ kind }) => kind === "go on");
  }
  return { session, titles };
}

const lengthColumn: readonly Action[] = [3, 3, 3].map(() => ({ kind: "move columns", by: 1 }));
const esc: Action = { kind: "close pane" };

describe("long work on a big sheet", () => {
  it("is done in steps with its progress in the title, and ends as at once", () => {
    const sheet = bigSheet();
    const begun = act(startSession(sheet), sheet, ...lengthColumn, { kind: "sort by column" });
    expect(begun.pending).toMatchObject({ kind: "arrange", done: 0 });
    const { session, titles } = wentOn(begun, sheet);
    expect(titles.map((title) => /arranging, (\d+) % \(Esc stops\)/.exec(title)?.[1])).toEqual([
      "0",
      "20",
      "40",
      "60",
    ]);
    // Lengths are 7 i mod 11 with every third missing: the first row with 0 is row 0.
    expect(rowUnderCursor(session)).toBe(0);
    expect(sheet.cell(session.rows[1]!, 3)).toBe("0");
    expect(session.pending).toBeNull();
  });

  it("is stopped by Esc: order and filter stay what is on the screen", () => {
    const sheet = bigSheet();
    const before = startSession(sheet);
    const sorting = act(before, sheet, ...lengthColumn, { kind: "sort by column" }, { kind: "go on" });
    // Another key on top of it: stopping goes back before both.
    const both = act(sorting, sheet, { kind: "next filter" }, { kind: "go on" });
    const stopped = act(both, sheet, esc);
    expect(stopped).toMatchObject({ sort: before.sort, only: null, kept: null, pending: null });
    expect(stopped.order).toBe(before.order);
    expect(stopped.notice).toBe("Stopped: the rows stay as they are.");
    expect(step(stopped, { kind: "move rows", by: 1 }, size, sheet).effects).toEqual([]);
  });

  it("filters piece by piece, and keeps just the rows of the formula", () => {
    const sheet = bigSheet();
    const asked = act(
      startSession(sheet),
      sheet,
      { kind: "ask", what: "only" },
      { kind: "type", text: "even" },
      { kind: "accept" },
    );
    const { session } = wentOn(asked, sheet);
    expect(session.kept?.length).toBe(30_000);
    expect([...session.rows.slice(0, 3)]).toEqual([0, 2, 4]);
  });

  it("keeps on arranging while somebody moves, looks at a pane or opens a prompt", () => {
    const sheet = bigSheet();
    const begun = act(startSession(sheet), sheet, ...lengthColumn, { kind: "sort by column" });
    const busy = act(begun, sheet, { kind: "move rows", by: 1 }, { kind: "ask", what: "go to id" }, {
      kind: "give up",
    } as Action);
    expect(busy.pending?.kind).toBe("arrange");
    const finding = act(begun, sheet, { kind: "ask", what: "find" }, { kind: "type", text: "zz" });
    expect(finding.pending?.kind).toBe("arrange");
    expect(finding.prompt?.refusal).toContain("being arranged");
  });

  it("groups a big sheet in steps, all folded", () => {
    const sheet = bigSheet();
    const begun = act(
      startSession(sheet),
      sheet,
      { kind: "move columns", by: 1 },
      { kind: "move columns", by: 1 },
      { kind: "group by column" },
    );
    expect(begun.grouping).toBeNull();
    const { session } = wentOn(begun, sheet);
    expect(session.grouping?.groups.map(({ name, rows }) => [name, rows.length])).toEqual([
      ["Harbour", 30_000],
      ["Mill", 30_000],
    ]);
    expect(session.order.length).toBe(2);
  });
});

describe("places of texts", () => {
  it("gives each text its place among the different ones, as a sort of the set does", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 2 }), { maxLength: 1200 }), (texts) => {
        const different = [...new Set(texts)].sort((a, b) => (a < b ? -1 : 1));
        expect([...placesOf(texts)]).toEqual(texts.map((text) => different.indexOf(text)));
      }),
      { numRuns: 40 },
    );
  });

  it("is put aside often: no step takes more than a thirtieth of a long list", () => {
    const texts = Array.from({ length: 100_000 }, (_, i) => `L-${(i * 7919) % 100_003}`);
    let steps = 0;
    let last = 0;
    for (const done of placesInSteps(texts.length, (a, b) => (texts[a]! < texts[b]! ? -1 : 1))) {
      steps++;
      expect(done).toBeGreaterThanOrEqual(last - 1e-9);
      last = done;
    }
    expect(steps).toBeGreaterThan(30);
    expect(last).toBeLessThanOrEqual(1);
  });
});

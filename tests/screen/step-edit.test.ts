import { describe, expect, it } from "vitest";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { type Action, type Effect, type Session, startSession } from "../../src/screen/session.ts";
import type { SheetView, Size } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const window: Size = { columns: 80, rows: 24 };
const sheet = plainSheet(numbered(6), { editable: true });

/** The session after these actions, and every effect on the way. */
function played(actions: readonly Action[], view: SheetView = sheet, from?: Session) {
  let session = from ?? startSession(view);
  const effects: Effect[] = [];
  for (const action of actions) {
    const stepped = step(session, action, window, view);
    session = stepped.session;
    effects.push(...stepped.effects);
  }
  return { session, effects };
}
const typing = (text: string): Action[] => [...text].map((letter) => ({ kind: "type", text: letter }));
const drawn = (session: Session) =>
  drawFrame(session, sheet, window).map((line) => textOfLine(line).trimEnd());

const down: Action = { kind: "move rows", by: 1 };
const right: Action = { kind: "move columns", by: 1 };
const accept: Action = { kind: "accept" };
const enter: Action = { kind: "enter" };
const onLength = [right, right, right];

describe("deciding a value", () => {
  it("asks for the value, shows what it is taken as, asks why, and only then decides", () => {
    const value = played([...onLength, enter, ...typing("12")]);
    expect(value.effects).toEqual([]);
    expect(drawn(value.session).at(-2)).toBe("Length of L001: 12");
    expect(drawn(value.session).at(-1)).toContain("takes it as 12 ft");
    const why = played([accept], sheet, value.session);
    expect(why.effects).toEqual([]);
    expect(drawn(why.session).at(-3)).toBe("Length of L001: 12");
    const decided = played([...typing("measured"), accept], sheet, why.session);
    expect(decided.effects).toEqual([
      { kind: "decide", decisions: [{ row: 0, column: 3, value: "12" }], reason: "measured" },
    ]);
    expect(decided.session.prompt).toBeNull();
  });

  it("takes no value that cannot be read, no decision without a reason, and nothing after Esc", () => {
    const wrong = played([...onLength, enter, ...typing("long"), accept]);
    expect(wrong.session.prompt?.refusal).toBe("expected a number");
    const silent = played([...onLength, { kind: "begin value", text: "7" }, accept, accept]);
    expect(silent.session.prompt?.refusal).toContain("Give a reason");
    expect(silent.effects).toEqual([]);
    const given = played([{ kind: "give up" }], sheet, silent.session);
    expect(given.session).toMatchObject({ prompt: null, notice: "Nothing was changed." });
  });

  it("takes the one word of a column's list that begins as typed, says so first, and of several none", () => {
    const words = ["inspect first", "leave", "leave and re-inspect", "lining"];
    const listed: SheetView = {
      ...sheet,
      columns: sheet.columns.map((column) => ({ ...column, words })),
      check: (_, text) =>
        words.includes(text) ? { ok: true, shows: text } : { ok: false, words: "expected a treatment" },
    };
    const typedAs = (text: string) => played([...onLength, enter, ...typing(text), accept], listed).session;
    const before = played([...onLength, enter, ...typing("Insp")], listed);
    const last = drawFrame(before.session, listed, window).map(textOfLine).at(-1);
    expect(last).toMatch(/^Enter takes it as inspect first /);
    expect(typedAs("Insp").prompt?.purpose).toMatchObject({
      kind: "reason",
      decisions: [{ row: 0, column: 3, value: "inspect first" }],
    });
    expect(typedAs("leave").prompt?.purpose).toMatchObject({ decisions: [{ value: "leave" }] });
    for (const none of ["l", "inspect last"])
      expect(typedAs(none).prompt?.refusal).toBe("expected a treatment");
  });

  it("takes no more than a line holds, says so, and leaves what is typed as it is", () => {
    const find: Action = { kind: "ask", what: "find" };
    const long = played([find, { kind: "type", text: "雨".repeat(10_000) }]);
    expect(long.session.prompt).toMatchObject({ at: 10_000, refusal: "Nothing here has that text." });
    expect(drawn(long.session).at(-2)).toMatch(/^Find: 雨+$/);
    const longer = played([{ kind: "type", text: "x" }], sheet, long.session);
    expect(longer.session.prompt?.text).toBe("雨".repeat(10_000));
    expect(drawn(longer.session).at(-1)).toMatch(/^Not taken: .* longer than 10000 characters\.$/);
    const shorter = played([{ kind: "rub out", which: "before" }], sheet, longer.session);
    expect(shorter.session.prompt).toMatchObject({ text: "雨".repeat(9_999) });
  });

  it("rubs out and goes over what people call a character, anywhere in a long line", () => {
    const family = "👨‍👩‍👧";
    const begun = played([
      { kind: "ask", what: "find" },
      ...["x".repeat(5_000), family, "é", "y"].map((text): Action => ({ kind: "type", text })),
    ]);
    const rub: Action = { kind: "rub out", which: "before" };
    const twice = played([rub, rub, rub], sheet, begun.session);
    expect(twice.session.prompt?.text).toBe("x".repeat(5_000));
    const left: Action = { kind: "move in text", to: "left" };
    const back = played([left, left, left, { kind: "rub out", which: "after" }], sheet, begun.session);
    expect(back.session.prompt).toMatchObject({ at: 5_000, text: `${"x".repeat(5_000)}éy` });
    const start: Action = { kind: "move in text", to: "start" };
    expect(played([start, rub], sheet, begun.session).session.prompt?.at).toBe(0);
    const end = played([{ kind: "rub out", which: "after" }], sheet, begun.session);
    expect(end.session.prompt?.text).toBe(begun.session.prompt?.text);
  });

  it("remembers the reason and offers it again", () => {
    const first = played([
      ...onLength,
      { kind: "begin value", text: "7" },
      accept,
      ...typing("camera"),
      accept,
    ]);
    const second = played([down, { kind: "begin value", text: "8" }, accept], sheet, first.session);
    expect(drawn(second.session).at(-2)).toContain("(Enter: camera)");
    expect(played([accept], sheet, second.session).effects).toEqual([
      { kind: "decide", decisions: [{ row: 1, column: 3, value: "8" }], reason: "camera" },
    ]);
  });

  it("decides for all marked laterals at once", () => {
    const marks: Action[] = [{ kind: "mark row" }, down, { kind: "mark and move", by: 1 }];
    const { session } = played([...onLength, ...marks, enter, ...typing("9")]);
    expect(drawn(session).at(-2)).toBe("Length of 2 marked laterals: 9");
    const { effects } = played([accept, ...typing("r"), accept], sheet, session);
    expect(effects).toMatchObject([{ decisions: [{ row: 0 }, { row: 1 }] }]);
  });

  it("says why a column is not decided, and why a sheet that only shows decides nothing", () => {
    expect(played([enter]).session.notice).toContain("not decided here");
    const closed: SheetView = { ...sheet, closedBecause: "Read only: somebody else writes." };
    expect(played([...onLength, enter], closed).session).toMatchObject({
      prompt: null,
      notice: "Read only: somebody else writes.",
    });
    // Nothing is decided, but whether somebody else still writes is looked at again: not for a move, and not while nothing is planned.
    expect(played([{ kind: "undo" }], closed).effects).toEqual([{ kind: "look again" }]);
    expect(played([...onLength, enter], closed).effects).toEqual([{ kind: "look again" }]);
    for (const then of [down, { kind: "fit window" }] as const)
      expect(played([{ kind: "undo" }, then], closed).effects).toEqual([{ kind: "look again" }]);
    expect(played([{ kind: "undo" }], { ...closed, planned: -1 }).effects).toEqual([]);
  });

  it("takes a decision back with a reason, and says when there is none to take back", () => {
    const decided: SheetView = { ...sheet, decided: (row) => (row === 1 ? "camera" : null) };
    expect(played([...onLength, { kind: "as given" }], decided).session.notice).toContain(
      "Nothing was decided",
    );
    expect(
      played([...onLength, down, { kind: "as given" }, ...typing("x"), accept], decided).effects,
    ).toMatchObject([{ decisions: [{ row: 1, column: 3, value: "as given" }] }]);
  });

  it("asks the outside world for undo and redo", () => {
    expect(played([{ kind: "undo" }, { kind: "redo" }]).effects).toEqual([
      { kind: "undo" },
      { kind: "redo" },
    ]);
  });
});

describe("extending a value", () => {
  it("decides it for so many laterals below, as they stand in the sheet", () => {
    const { effects } = played([
      ...onLength,
      down,
      { kind: "ask", what: "copies" },
      ...typing("2"),
      accept,
      ...typing("alike"),
      accept,
    ]);
    expect(effects).toEqual([
      {
        kind: "decide",
        decisions: [
          { row: 2, column: 3, value: "7 ft" },
          { row: 3, column: 3, value: "7 ft" },
        ],
        reason: "alike",
      },
    ]);
  });
});

describe("pasting a block", () => {
  it("begins at the cursor, goes down the rows as shown, and leaves blank cells as they are", () => {
    const { session } = played([...onLength, down, { kind: "paste", text: "5\r\n\r\n6 ft\r\n" }]);
    expect(session.prompt?.purpose).toEqual({
      kind: "reason",
      decisions: [
        { row: 1, column: 3, value: "5" },
        { row: 3, column: 3, value: "6 ft" },
      ],
      about: "2 values",
    });
  });

  it("is taken whole or not at all, with every problem listed", () => {
    const { session, effects } = played([...onLength, { kind: "paste", text: "5\t1\nlong\t\n7\t1\t1" }]);
    expect(effects).toEqual([]);
    expect(session.prompt).toBeNull();
    expect(session.pane).toBe("refused");
    expect(session.refused).toEqual([
      'Lateral L001, Cost: "1" has no place, the column is not decided by people.',
      "Lateral L002, Length: expected a number",
      'Lateral L003, Cost: "1" has no place, the column is not decided by people.',
      'Lateral L003: "1" falls to the right of the last column.',
    ]);
    expect(drawn(session)[1]).toContain("Nothing was changed: 4 problems");
  });

  it("is refused when it is longer than the laterals from the cursor on", () => {
    const { session } = played([
      ...onLength,
      { kind: "go to row", end: "last" },
      { kind: "paste", text: "5\n6" },
    ]);
    expect(session.refused).toEqual(["There are 2 rows to paste and not so many laterals from here on."]);
  });
});

describe("a column by a formula", () => {
  it("asks for a name, then the formula, and hands both over", () => {
    const wrong = played([{ kind: "ask", what: "column name" }, ...typing("x"), accept]);
    expect(wrong.session.prompt?.refusal).toBe("expected new");
    const asked = played([
      { kind: "ask", what: "column name" },
      ...typing("new"),
      accept,
      ...typing("ev"),
      { kind: "complete" },
    ]);
    expect(drawn(asked.session).at(-2)).toBe("new: even");
    expect(drawn(asked.session).at(-1)).toContain("gives yes or no");
    expect(played([accept], sheet, asked.session).effects).toEqual([
      { kind: "add column", name: "new", text: "even" },
    ]);
  });
});

describe("what is told in a narrow window", () => {
  const words = `found a number; expected ${"a length on both sides, ".repeat(4)}as in the other. Write 50 ft.`;
  const strict: SheetView = {
    ...sheet,
    check: () => ({ ok: false, words }),
    formula: { ...sheet.formula, check: (text) => ({ ok: false, at: text.length - 2, words }) },
  };
  const lines = (session: Session) => drawFrame(session, strict, window).map(textOfLine);
  /** The sentence may be broken at any blank. */
  const told = (shown: readonly string[]) => shown.map((line) => line.trim()).join(" ");

  it("has what is wrong with a formula or a value whole, over the end of the sheet, and what is typed where it was", () => {
    const only: Action = { kind: "ask", what: "only" };
    for (const [begun, wrong] of [
      [played([only], strict), played([only, ...typing("Length > 50")], strict)],
      [played([...onLength, enter], strict), played([...onLength, enter, ...typing("50")], strict)],
    ] as const) {
      const [before, after] = [lines(begun.session), lines(wrong.session)];
      expect(after).toHaveLength(window.rows);
      expect(told(before)).not.toContain("Write 50 ft.");
      expect(told(after.slice(0, -3))).toContain(words);
      expect(after.at(-2)).toContain(before.at(-2)!.trimEnd());
    }
  });

  it("has a notice whole, from the last line up", () => {
    const shown = lines({ ...startSession(strict), notice: words });
    expect(shown).toHaveLength(window.rows);
    expect(told(shown)).toMatch(/ as in the other\. Write 50 ft\.$/);
    expect(told(shown)).toContain(words);
    expect(lines({ ...startSession(strict), notice: "Short." }).slice(0, -1)).toEqual(
      lines(startSession(strict)).slice(0, -1),
    );
  });
});

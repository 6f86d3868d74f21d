import { describe, expect, it } from "vitest";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { textOfLine } from "../../src/screen/line.ts";
import {
  type Action,
  HEADING,
  rowUnderCursor,
  type Session,
  startSession,
} from "../../src/screen/session.ts";
import type { SheetView, Size } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

const window: Size = { columns: 80, rows: 24 };
const sheet = plainSheet(numbered(10));

const pressed = (actions: readonly Action[], view: SheetView = sheet, from?: Session): Session =>
  actions.reduce(
    (session, action) => step(session, action, window, view).session,
    from ?? startSession(view),
  );
const typing = (text: string): Action[] => [...text].map((letter) => ({ kind: "type", text: letter }));
const ids = ({ rows }: Session, view = sheet) => Array.from(rows, (row) => view.cell(row, 0));
const drawn = (session: Session, view = sheet) =>
  drawFrame(session, view, window).map((line) => textOfLine(line).trimEnd());

const down: Action = { kind: "move rows", by: 1 };
const right: Action = { kind: "move columns", by: 1 };
const onDistrict = [right, right];
const accept: Action = { kind: "accept" };
const enter: Action = { kind: "enter" };
const ask = (what: Extract<Action, { kind: "ask" }>["what"]): Action => ({ kind: "ask", what });

describe("sorting by several keys", () => {
  it("sorts by one column and then, among equals, by another; again turns the last round", () => {
    const by = [...onDistrict, { kind: "sort by column" }, right, { kind: "then by column" }] as Action[];
    const expected = numbered(10).map(([id]) => id!);
    expect(ids(pressed(by))).toEqual(expected.sort((a, b) => order(a) - order(b)));
    const turned = pressed([...by, { kind: "then by column" }]);
    expect(turned.sort.map(({ descending }) => descending)).toEqual([false, true]);
    expect(drawn(turned)[2]).toMatch(/▲1 .*\(ft\)▼2/);
  });

  /** Place by district, then length, missing last, then id: another road than the sheet's. */
  const order = (id: string): number => {
    const cells = numbered(10);
    const key = (row: readonly string[]) => [row[2]!, row[3] === "" ? 1e9 : Number(row[3]), row[0]!] as const;
    const sorted = [...cells].sort((a, b) => {
      const [x, y] = [key(a), key(b)];
      return x[0] < y[0] ? -1 : x[0] > y[0] ? 1 : x[1] - y[1] || (x[2] < y[2] ? -1 : 1);
    });
    return sorted.findIndex((row) => row[0] === id);
  };
});

describe("filters", () => {
  it("keeps the laterals with the value under the cursor, and shows all again", () => {
    const only = pressed([...onDistrict, down, { kind: "only this value" }]);
    expect(ids(only)).toEqual(["L002", "L004", "L006", "L008", "L010"]);
    expect(drawn(only)[0]).toContain("only District: Mill");
    expect(drawn(only).at(-4)).toMatch(/^ {2}5 of 10/);
    expect(ids(pressed([{ kind: "all rows" }], sheet, only))).toHaveLength(10);
  });

  it("takes a formula that was typed, and says under the character what is wrong with one", () => {
    const wrong = pressed([ask("only"), ...typing("evn")]);
    expect(drawn(wrong).at(-2)).toBe("Only laterals for which: evn");
    expect(drawn(wrong).at(-1)!.indexOf("^")).toBe("Only laterals for which: evn".length);
    expect(pressed([accept], sheet, wrong).prompt).not.toBeNull();
    const begun = pressed([ask("only"), ...typing("ev")]);
    expect(drawn(begun).at(-3)).toContain("[even] yes or no");
    const taken = pressed([ask("only"), ...typing("even"), accept]);
    expect(ids(taken)).toEqual(["L001", "L003", "L005", "L007", "L009"]);
    expect(taken.prompt).toBeNull();
  });
});

describe("groups", () => {
  const grouped = pressed([...onDistrict, { kind: "group by column" }]);

  it("shows a line a group with what its columns come to, folded", () => {
    expect([...grouped.order]).toEqual([HEADING, HEADING + 1]);
    const lines = drawn(grouped);
    // Harbour's lengths are 0, 6, 9 and 1 with one missing; its costs 1000 + 998 + 996 + 994 + 992.
    const lengths = numbered(10)
      .filter((row) => row[2] === "Harbour")
      .reduce((sum, row) => sum + Number(row[3]), 0);
    expect(lines[3]).toMatch(new RegExp(`^> › Harbour \\(5\\) .* ${lengths} +4980$`));
    expect(lines[4]).toContain("› Mill (5)");
  });

  it("unfolds the group under the cursor and folds it again, the cursor staying with it", () => {
    const open = pressed([down, enter], sheet, grouped);
    expect([...open.order]).toEqual([HEADING, HEADING + 1, 1, 3, 5, 7, 9]);
    const inside = pressed([down, down], sheet, open);
    expect(rowUnderCursor(inside)).toBe(3);
    const folded = pressed([{ kind: "fold", which: "all" }], sheet, inside);
    expect(folded.row).toBe(1);
    expect(pressed([{ kind: "group by column" }], sheet, inside)).toMatchObject({ grouping: null, row: 3 });
  });

  it("keeps its groups when the rows are sorted or filtered", () => {
    const sorted = pressed([{ kind: "fold", which: "none" }, { kind: "turn order round" }], sheet, grouped);
    expect(ids(sorted)[0]).toBe("L010");
    expect([...sorted.order].slice(0, 3)).toEqual([HEADING, 8, 6]);
  });
});

describe("columns", () => {
  const headings = (session: Session) => session.columns.map((at) => sheet.columns[at]!.heading);

  it("are hidden, listed and shown again", () => {
    const hidden = pressed([...onDistrict, { kind: "hide column" }]);
    expect(headings(hidden)).toEqual(["Lateral", "Rank", "Length", "Cost"]);
    const back = pressed([ask("columns"), ...typing("distr"), accept, { kind: "give up" }], sheet, hidden);
    expect(headings(back)).toEqual(["Lateral", "Rank", "Length", "Cost", "District"]);
  });

  it("are moved and widened; the id stays where it is", () => {
    const moved = pressed([...onDistrict, { kind: "shift column", by: 1 }]);
    expect(headings(moved)).toEqual(["Lateral", "Rank", "Length", "District", "Cost"]);
    expect(moved.column).toBe(3);
    expect(pressed([{ kind: "shift column", by: 1 }]).columns).toEqual(startSession(sheet).columns);
    const wide = pressed([...onDistrict, { kind: "widen column", by: 1 }]);
    expect(drawn(wide)[1]!.indexOf("Length")).toBe(drawn(pressed(onDistrict))[1]!.indexOf("Length") + 2);
  });
});

describe("finding", () => {
  it("goes to the first cell with the text as it is typed, on to the next, and back where it began", () => {
    const found = pressed([down, ask("find"), ...typing("l00"), { kind: "choose", by: 1 }]);
    expect(found.row).toBe(2);
    expect(pressed([{ kind: "choose", by: -1 }], sheet, found).row).toBe(1);
    expect(pressed([...typing("8")], sheet, pressed([ask("find"), ...typing("L00")])).row).toBe(7);
    expect(pressed([{ kind: "give up" }], sheet, found).row).toBe(1);
    expect(pressed([accept], sheet, found)).toMatchObject({ row: 2, prompt: null });
  });

  it("says that nothing has the text, and goes on in steps over a sheet too big for one", () => {
    expect(drawn(pressed([ask("find"), ...typing("zz")])).at(-1)).toBe("Nothing here has that text.");
    const big = plainSheet(numbered(5000));
    const stepped = step(pressed([ask("find")], big), { kind: "type", text: "L5000" }, window, big);
    expect(stepped.effects).toEqual([{ kind: "go on" }]);
    expect(
      pressed(
        Array.from({ length: 10 }, (): Action => ({ kind: "go on" })),
        big,
        stepped.session,
      ).row,
    ).toBe(4999);
  });

  it("goes to the lateral of an id, and says when there is none or it is not shown", () => {
    expect(pressed([ask("go to id"), ...typing("L007"), accept]).row).toBe(6);
    expect(pressed([ask("go to id"), ...typing("X"), accept]).prompt?.refusal).toContain(
      "No lateral has the id",
    );
    const filtered = pressed([{ kind: "next filter" }, ask("go to id"), ...typing("L001"), accept]);
    expect(filtered.prompt?.refusal).toContain("not among the laterals shown");
    const folded = pressed([
      ...onDistrict,
      { kind: "group by column" },
      ask("go to id"),
      ...typing("L004"),
      accept,
    ]);
    expect(rowUnderCursor(folded)).toBe(3);
  });
});

describe("the list of everything that can be done", () => {
  it("finds an action by its words and does it as if its key had been pressed", () => {
    const sorted = pressed([...onDistrict, ask("actions"), ...typing("sort by the column"), accept]);
    expect(sorted.sort).toEqual([{ column: 2, descending: false }]);
    expect(sorted.prompt).toBeNull();
  });
});

describe("a sheet of many rows", () => {
  it("draws the key's frame before it sorts", () => {
    const big = { ...sheet, rows: 60_000 };
    const { session, effects } = step(startSession(big), { kind: "turn order round" }, window, big);
    expect(effects).toEqual([{ kind: "go on" }]);
    expect(ids(session)[0]).toBe("L001");
    expect(drawn(session, big)[0]).toContain("arranging");
    const after = step(session, { kind: "go on" }, window, big);
    expect(after.effects).toEqual([]);
    expect(ids(after.session)[0]).toBe("L010");
  });
});

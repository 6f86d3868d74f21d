import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { LiveProgram, noPlace } from "../../src/commands/live-program.ts";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import { readDecisionLog } from "../../src/program/decision-log.ts";
import { foldDecisions } from "../../src/program/decisions.ts";
import { type ProgramLock, takeLock } from "../../src/program/lock.ts";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { promptFor } from "../../src/screen/prompt.ts";
import { type Answer, startSession } from "../../src/screen/session.ts";
import { step } from "../../src/screen/step.ts";
import { fitProgram } from "../../src/season/fits.ts";
import { planSheet } from "../../src/season/plan-sheet.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { takeOffByDistrict } from "../../src/season/takeoff.ts";
import { totalByDistrict } from "../../src/season/totals.ts";
import { unplannedProgram } from "../../src/season/unplanned-program.ts";
import type { Table } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "../season/examples.ts";

const COUNT = 12;
const laterals = Array.from({ length: COUNT }, (_, i) =>
  lateralRow(`L${i}`, { district: i % 2 ? "Mill" : "Harbour", install_year: 1940 + 5 * i, backups: i % 3 }),
);
const surveys = laterals.flatMap((_, i) => (i % 4 === 3 ? [] : [surveyRow(`L${i}`, i % 6, (i * 2) % 5)]));
const locks: ProgramLock[] = [];
let minute = 0;
const now = () => `2026-03-01T08:${String(minute++ % 60).padStart(2, "0")}:00Z`;

/** The same invented program, with a column and a filter of its own, in a folder of its own. */
async function open(
  isPlanned = true,
): Promise<{ live: LiveProgram; folder: string; fresh: () => Promise<PlannedProgram> }> {
  const prepared = await prepareBasis({
    ...usBasis,
    recipe: {
      ...usBasis.recipe,
      columns: { worry: "risk * backups" },
      filters: { long: "host_length > 40 ft" },
    },
  });
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.faults));
  const found = { problems: [], tallies: [] };
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-live-"));
  const attempt = await takeLock(folder, now());
  if (!attempt.ok) throw new Error("the test's folder is locked");
  locks.push(attempt.lock);
  const rights = { kind: "decide", writer: { lock: attempt.lock, who: "tester", now } } as const;
  const planned = isPlanned ? planProgram : unplannedProgram;
  const live = new LiveProgram(
    planned(programTables(laterals, surveys), prepared.basis, found),
    rights,
    () => {},
    noPlace,
    isPlanned,
  );
  const fresh = async () => {
    const { decisions } = foldDecisions((await readDecisionLog(folder)).sets);
    return planProgram({ ...programTables(laterals, surveys), decisions }, prepared.basis, found);
  };
  return { live, folder, fresh };
}

// The sheet settles by itself some time after a decision, which a busy machine reaches within a test: here only when told to.
beforeEach(() => {
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
});
afterEach(async () => {
  vi.useRealTimers();
  for (const lock of locks.splice(0)) await lock.release();
});

const place = ({ program }: LiveProgram, key: string) =>
  program.columns.findIndex((column) => column.key === key);
const decide = (live: LiveProgram, row: number, key: string, value: string): Promise<Answer> =>
  live.perform({
    kind: "decide",
    decisions: [{ row, column: place(live, key), value }],
    reason: "seen on site",
  });

/** A table as plain values: which buffer they lie in is no matter. */
const plain = ({ rows, columns }: Table, without: readonly string[] = []) => ({
  rows,
  columns: Object.fromEntries(
    [...columns]
      .filter(([key]) => !without.includes(key))
      .map(([key, column]) => [
        key,
        column.kind === "number"
          ? [...column.values]
          : column.kind === "code"
            ? [...column.codes].map((code) => column.words[code])
            : [[...column.bytes], [...column.ends]],
      ]),
  ),
});

describe("LiveProgram", () => {
  it("writes a decision down with its unit before it answers, and plans the row again", async () => {
    const { live, folder } = await open();
    const answer = await decide(live, 2, "host_diameter", "6");
    expect(readFileSync(join(folder, "decisions.csv"), "utf8")).toContain(
      "L2,host_diameter,6 in,seen on site",
    );
    expect(answer.notice).toContain("Lateral L2, Host dia.: 6 in");
    expect(live.view.cell(2, place(live, "host_diameter"))).toBe("6.0");
    expect(live.view.decided(2, place(live, "host_diameter"))).toBe("seen on site");
    expect(live.view.stale).not.toBeNull();
    live.close();
  });

  it("takes a number without a unit in the unit of its column, and one with a unit in that", async () => {
    const { live } = await open();
    const check = (text: string) => live.view.check(place(live, "host_diameter"), text);
    expect(check("6")).toEqual({ ok: true, shows: "6.0 in" });
    // 152.4 mm = 6 in.
    expect(check("152.4 mm")).toEqual({ ok: true, shows: "6.0 in" });
    expect(check("600")).toMatchObject({ ok: false });
    expect(check("6 gal")).toMatchObject({ ok: false });
    live.close();
  });

  it("of a big program is looked at before it is planned, and decided in once it is", async () => {
    const { live, folder, fresh } = await open(false);
    const { view } = live;
    const size = { columns: 120, rows: 30 };
    let session = startSession(view);
    expect([...session.order]).toEqual(laterals.map((_, row) => row));
    expect(view.cell(2, place(live, "lateral"))).toBe("L2");
    expect(view.cell(2, place(live, "district"))).toBe("Harbour");
    for (const key of ["rank", "risk", "treatment", "cost", "worry"])
      expect(view.cell(2, place(live, key)), key).toBe("");
    expect(view.totals).toEqual(["All 12 laterals", view.closedBecause]);
    expect(session.notice).toBe(view.closedBecause);
    view.isPlanning(0.345);
    expect(textOfLine(drawFrame(session, view, size)[0]!)).toContain("planning, 34 %");
    const room = { columns: 60, lines: 20, zoomed: false };
    for (const name of ["why", "map", "risk", "season", "bid", "districts", "moved", "recipe"] as const)
      expect(view.pane(name, 2, room).title, name).toBe("Not planned yet");
    expect(view.pane("problems", 2, room).title).toContain("Problems");

    expect((await decide(live, 2, "host_diameter", "6")).notice).toContain("the plan is being made");
    expect((await readDecisionLog(folder)).sets).toEqual([]);

    await live.settle();
    expect(plain(live.program.laterals)).toEqual(plain((await fresh()).laterals));
    expect(live.program.totals).toEqual((await fresh()).totals);
    expect(view.closedBecause).toBeNull();
    expect(view.stale).toBeNull();
    session = step(session, { kind: "settled" }, size, view).session;
    expect([...session.order]).toEqual([...live.program.order]);
    expect(session.notice).toBeNull();
    expect(view.pane("why", 2, room).title).toBe("Why L2");
    expect((await decide(live, 2, "host_diameter", "6")).notice).toContain("6 in");
    // Another plan leaves the rows where they are.
    await live.settle();
    const order = step(session, { kind: "settled" }, size, view).session.order;
    expect([...order]).toEqual([...session.order]);
    live.close();
  });

  it("settles by itself once nothing has been decided for a while", async () => {
    const { live, fresh } = await open();
    await decide(live, 2, "host_diameter", "6");
    expect(live.view.stale).not.toBeNull();
    const settled = new Promise<void>((resolve) => {
      const show = live.view.show.bind(live.view);
      live.view.show = (program, rows, stale) => {
        show(program, rows, stale);
        if (stale === null) resolve();
      };
    });
    vi.runOnlyPendingTimers();
    await settled;
    expect(plain(live.program.laterals)).toEqual(plain((await fresh()).laterals));
    live.close();
  });

  it("refuses to undo what is not there, and changes nothing", async () => {
    const { live } = await open();
    expect((await live.perform({ kind: "undo" })).refused).toHaveLength(1);
    expect(live.view.stale).toBeNull();
    live.close();
  });

  it("undoes and redoes what was decided when the sheet was last open", async () => {
    const { live } = await open();
    const given = live.view.cell(1, place(live, "host_length"));
    await decide(live, 1, "host_length", "20");
    await decide(live, 1, "host_length", "30");
    await live.perform({ kind: "undo" });
    expect(live.view.cell(1, place(live, "host_length"))).toBe("20.0");
    await live.perform({ kind: "undo" });
    expect(live.view.cell(1, place(live, "host_length"))).toBe(given);
    await live.perform({ kind: "redo" });
    expect(live.view.cell(1, place(live, "host_length"))).toBe("20.0");
    live.close();
  });

  it("says when the plan does not follow a treatment that was decided", async () => {
    const { live } = await open();
    // L3 has never been surveyed: nothing is lined unseen.
    const answer = await decide(live, 3, "treatment", "full-length liner");
    expect(live.view.cell(3, place(live, "treatment"))).toBe("inspect first");
    expect(answer.notice).toContain("Treatment: full-length liner");
    expect(answer.notice).toContain("The plan does not follow it");
    live.close();
  });

  it("adds a column by a formula, which follows later decisions and a settle", async () => {
    const { live } = await open();
    const answer = await live.perform({ kind: "add column", name: "twice", text: "2 * host_length" });
    expect(answer.notice).toContain("until it is closed");
    // 40 ft twice.
    expect(live.view.cell(0, answer.newColumn!)).toBe("80.0");
    await decide(live, 0, "host_length", "25");
    expect(live.view.cell(0, answer.newColumn!)).toBe("50.0");
    await live.settle();
    expect(live.view.cell(0, answer.newColumn!)).toBe("50.0");
    live.close();
  });

  const edit = fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({
        row: fc.nat(COUNT - 1),
        what: fc.constantFrom(
          ["host_diameter", "6"],
          ["host_diameter", "8 in"],
          ["host_length", "25 ft"],
          ["host_length", "as given"],
          ["host_material", "PVC"],
          ["structural_grade", "5"],
          ["om_grade", "4"],
          ["treatment", "open-cut replacement"],
          ["treatment", "leave and re-inspect"],
          ["cross_bore", "found"],
          ["backups", "3"],
        ),
      }),
    },
    { weight: 1, arbitrary: fc.constant("undo" as const) },
    { weight: 1, arbitrary: fc.constant("redo" as const) },
  );

  it("after any decisions, undos and redos has each row as planned anew, totals with them; after a settle all of it", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 8 }), async (edits) => {
        const { live, fresh } = await open();
        const { fits } = live.program.basis;
        for (const one of edits) {
          if (typeof one === "string") await live.perform({ kind: one });
          else await decide(live, one.row, one.what[0]!, one.what[1]!);
        }
        const expected = await fresh();
        // Before the settle: the plan with the fits as they were.
        const asEdited = planSheet(expected.tables, { ...expected.basis, fits });
        expect(plain(live.program.laterals, ["rank", "worry"])).toEqual(plain(asEdited.laterals, ["rank"]));
        expect(live.program.totals).toEqual(totalByDistrict(asEdited, expected.basis));
        await live.settle();
        live.close();
        const settled = live.program;
        for (const table of ["laterals", "offers", "lines", "materials", "uses"] as const)
          expect(plain(settled[table])).toEqual(plain(expected[table]));
        expect(settled.totals).toEqual(expected.totals);
        expect(settled.batches).toEqual(expected.batches);
        expect(takeOffByDistrict(settled, settled.basis)).toEqual(
          takeOffByDistrict(expected, expected.basis),
        );
        expect([...settled.order]).toEqual([...expected.order]);
        expect(settled.basis.fits).toEqual(fitProgram(expected.tables, expected.basis).fits);
        expect(settled.filters.map(({ met }) => [...met])).toEqual(
          expected.filters.map(({ met }) => [...met]),
        );
        for (const lock of locks.splice(0)) await lock.release();
      }),
      { numRuns: 25 },
    );
  });
});

it("names a column by formula the program's own, with the sign of what is worked out, though it reads the city's columns only", async () => {
  const { live } = await open();
  const { newColumn } = await live.perform({ kind: "add column", name: "half", text: "host_length / 2" });
  const session = { ...startSession(live.view), columns: [0, newColumn!], column: 1 };
  const lines = drawFrame(session, live.view, { columns: 80, rows: 24 }).map(textOfLine);
  expect(lines.at(-2)).toMatch(/the program's own: Defined by the formula host_length \/ 2$/);
  expect(lines[2]).toContain("=(ft)");
  const refused = step(session, { kind: "enter" }, { columns: 80, rows: 24 }, live.view);
  expect(refused.session.notice).toBe("half is worked out by its formula; press w to see it.");
});

it("offers as an example of a column's formula one that is taken", async () => {
  const { live } = await open();
  const prompt = promptFor({ kind: "column formula", name: "half" });
  const lines = drawFrame({ ...startSession(live.view), prompt }, live.view, { columns: 80, rows: 24 });
  const [, example = ""] = /^A formula, as (.*)\. Tab/.exec(textOfLine(lines.at(-1)!)) ?? [];
  expect(live.view.formula.check(example, "column")).toMatchObject({ ok: true });
});

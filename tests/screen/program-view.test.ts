import { describe, expect, it } from "vitest";
import { sheetColumns } from "../../src/columns/dictionary.ts";
import { drawGrid } from "../../src/screen/draw-grid.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { viewProgram } from "../../src/screen/program-view.ts";
import { type Action, type Session, startSession } from "../../src/screen/session.ts";
import { step } from "../../src/screen/step.ts";
import { numbersOf, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { inventedProgram } from "./invented-program.ts";

const program = inventedProgram(60);
const explained: number[] = [];
const sheet = viewProgram(program, (row) => {
  explained.push(row);
  return [{ stage: "Choice", lines: [] }];
});
const room = { columns: 60, lines: 20, zoomed: false };
const place = (key: string) => sheetColumns.findIndex((column) => column.key === key);

describe("viewProgram", () => {
  it("shows the id and what the plan says of it first, then what else the dictionary shows at first", () => {
    const keys = sheet.shownAtFirst.map((at) => sheet.columns[at]!.key);
    expect(keys.slice(0, 6)).toEqual(["lateral", "rank", "risk", "treatment", "cost", "district"]);
    expect([...keys].sort()).toEqual(
      sheetColumns
        .filter((column) => "shownAtFirst" in column)
        .map(({ key }) => key)
        .sort(),
    );
  });

  it("begins in the order of rank that the season gives", () => {
    expect([...sheet.sorted([sheet.firstSort])]).toEqual([...program.order]);
  });

  it("shows every column's numbers in the program's units, and nothing for a missing value", () => {
    // 6 m = 19.685 ft; 101.6 mm = 4 in.
    expect(sheet.cell(0, place("host_length"))).toBe("19.7");
    expect(sheet.columns[place("host_length")]!.unit).toBe("ft");
    expect(sheet.cell(0, place("host_diameter"))).toBe("4.0");
    expect(sheet.cell(8, place("host_material"))).toBe("");
    expect(sheet.cell(4, place("structural_grade"))).toBe("");
  });

  it("sorts words by their letters and keeps those without one last", () => {
    const materials = Array.from(
      sheet.sorted([{ column: place("host_material"), descending: true }]),
      (row) => textAt(program.laterals, "host_material", row),
    );
    const given = materials.filter((word) => word !== "");
    expect(given).toEqual([...given].sort().reverse());
    expect(materials.slice(given.length)).toEqual(Array(60 - given.length).fill(""));
    expect(given.length).toBeLessThan(60);
  });

  it("gives columns the width of their widest number", () => {
    for (const at of sheet.shownAtFirst) {
      const { align, width } = sheet.columns[at]!;
      if (align === "right")
        for (let row = 0; row < 60; row++) expect(sheet.cell(row, at).length).toBeLessThanOrEqual(width);
    }
  });

  it("gives columns the width of their total, of words too", () => {
    const many = viewProgram(inventedProgram(10_000), () => []);
    const cut = many.columns.filter(({ width }, at) => many.total(null, at).length > width);
    expect(cut.map(({ heading }) => heading)).toEqual([]);
  });

  it("asks for the reasons of a lateral once, however often they are drawn", () => {
    sheet.pane("why", 7, room);
    sheet.pane("why", 7, room);
    sheet.pane("why", 8, room);
    expect(explained).toEqual([7, 8]);
    expect(sheet.pane("why", 7, room).title).toBe("Why L-0008");
  });

  it("totals all rows below the sheet", () => {
    expect(sheet.totals[0]).toBe("All 60 laterals");
    expect(sheet.totals.join(" ")).toMatch(/cost USD [\d,.]+ [\d.]+ crew-days resin [\d.]+ gal/);
  });

  it("says of a cost that lacks laterals without a price that it does, in the column and in all", () => {
    const withoutPrices = inventedProgram(60, { ...usBasis, prices: {} });
    const { unpriced } = withoutPrices.totals.program;
    const view = viewProgram(withoutPrices, () => []);
    expect(unpriced).toBeGreaterThan(0);
    // Those that are left cost nothing, and are in it.
    expect(unpriced).toBeLessThan(60);
    expect(view.total(null, place("cost"))).toBe("0.00*");
    for (const paid of ["city_cost", "owner_cost"] as const)
      expect(view.total(null, place(paid))).toBe("0.00*");
    expect(view.totals[1]).toBe("cost USD 0.00*");
    expect(view.totals.at(-1)).toBe(`* ${unpriced} without a price`);
    expect(sheet.total(null, place("cost"))).not.toContain("*");
  });

  it("marks a decided value with an asterisk and gives its reason", () => {
    const decisions = new Map([
      ["L-0001", new Map([["host_length", { value: 10, reason: "measured in the field" }]])],
    ]);
    const decided = viewProgram({ ...program, tables: { ...program.tables, decisions } }, () => []);
    const row = Array.from({ length: 60 }, (_, at) => at).find(
      (at) => textAt(program.laterals, "lateral", at) === "L-0001",
    )!;
    const order = Uint32Array.of(row);
    const session = { ...startSession(decided), rows: order, order };
    const columns = [place("lateral"), place("host_length"), place("host_diameter")];
    const [, , line] = drawGrid({ ...session, columns }, decided, { columns: 80, lines: 4 });
    // 6 m = 19.7 ft stands decided, the diameter is the city's 4 in.
    expect(textOfLine(line!)).toMatch(/^>\[L-0001 \]\s+19\.7\*\s+4\.0 +$/);
    expect(decided.decided(row, place("host_length"))).toBe("measured in the field");
    expect(decided.decided(row, place("host_diameter"))).toBeNull();
    expect(sheet.decided(row, place("host_length"))).toBeNull();
  });

  it("says of a treatment that was decided and that a rule forbids what was decided, not that the plan's choice was", () => {
    const [row, other] = [0, 1];
    const planned = textAt(program.laterals, "treatment", row);
    const decisions = new Map(
      [row, other].map((at, i) => [
        textAt(program.laterals, "lateral", at),
        new Map([["treatment", { value: i === 0 ? planned : "one-piece liner", reason: "wished" }]]),
      ]),
    );
    const decided = viewProgram({ ...program, tables: { ...program.tables, decisions } }, () => []);
    expect(decided.decided(row, place("treatment"))).toBe("wished");
    expect(textAt(program.laterals, "treatment", other)).not.toBe("one-piece liner");
    expect(decided.decided(other, place("treatment"))).toContain(
      "one-piece liner (wished), which a rule forbids",
    );
  });

  it("groups a column of numbers by what they are, and not by their digits", () => {
    const { codes, names, values } = sheet.groups(place("host_length"));
    expect(new Set(names).size).toBe(names.length);
    const lengths = numbersOf(program.laterals, "host_length");
    for (let row = 0; row < 60; row++)
      if (!Number.isNaN(lengths[row]!)) expect(values![codes[row]!]).toBeCloseTo(lengths[row]!, 1);
    const actions: readonly Action[] = [{ kind: "move columns", by: 1 }, { kind: "group by column" }];
    const { grouping } = actions.reduce<Session>(
      (session, action) => step(session, action, { columns: 80, rows: 24 }, sheet).session,
      { ...startSession(sheet), columns: [place("lateral"), place("host_length")] },
    );
    const shown = grouping!.groups.map(({ name }) => Number(name));
    expect(shown).toEqual([...shown].sort((a, b) => a - b));
    expect(new Set(shown.map((length) => String(length).length)).size).toBeGreaterThan(1);
  });
});

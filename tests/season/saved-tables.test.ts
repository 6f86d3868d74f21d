import { describe, expect, it } from "vitest";
import { mixTables } from "../../src/season/mixed-tables.ts";
import { ownChanges } from "../../src/season/own-changes.ts";
import { planSheet } from "../../src/season/plan-sheet.ts";
import { rankLaterals } from "../../src/season/rank.ts";
import { restoreTables, saveTables } from "../../src/season/saved-tables.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { on, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

const some = () =>
  programTables(
    [lateralRow("B", { location: "2 Somewhere St" }), lateralRow("A", { backups: 2 }), lateralRow("C")],
    [
      surveyRow("A", 3),
      surveyRow("B", 5, 2, { om_quick: "2100" }),
      surveyRow("B", 4, 1, { inspected_on: on("2024-01-01") }),
    ],
  );

describe("the values of a run, saved", () => {
  it("plan to the same ranking when they are read back", () => {
    const tables = some();
    const back = restoreTables(JSON.parse(JSON.stringify(saveTables(tables))));
    const ranked = (of: typeof tables) => {
      const { laterals } = planSheet(of, usBasis);
      return Array.from(rankLaterals(laterals).order, (row) => [
        textAt(laterals, "lateral", row),
        numberAt(laterals, "risk", row),
        textAt(laterals, "treatment", row),
        numberAt(laterals, "cost", row),
      ]);
    };
    expect(ranked(back)).toEqual(ranked(tables));
  });

  it("of a time before a column was known have it missing, and plan on", () => {
    const saved = JSON.parse(JSON.stringify(saveTables(some())));
    delete saved.laterals.columns.bends;
    delete saved.laterals.columns.building;
    const { laterals } = planSheet(restoreTables(saved), usBasis);
    expect(Number.isNaN(numberAt(laterals, "bends", 0))).toBe(true);
    expect(textAt(laterals, "building", 0)).toBe("");
    expect(laterals.rows).toBe(3);
  });

  it("are the same text whatever the order of the city's file, and keep no address", () => {
    const once = JSON.stringify(saveTables(some()));
    const turned = programTables(
      ["C", "B", "A"].map((id) => lateralRow(id, id === "A" ? { backups: 2 } : {})),
      [
        surveyRow("B", 4, 1, { inspected_on: on("2024-01-01") }),
        surveyRow("B", 5, 2, { om_quick: "2100" }),
        surveyRow("A", 3),
      ],
    );
    expect(JSON.stringify(saveTables(turned))).toBe(once);
    expect(once).not.toContain("Somewhere");
  });

  it("refuse a column that is shorter than its table", () => {
    const saved = saveTables(some());
    const broken = {
      ...saved,
      laterals: { ...saved.laterals, columns: { backups: { kind: "number", values: [1] } as const } },
    };
    expect(() => restoreTables(broken)).toThrow("backups has 1 cells in a table of 3 rows");
  });
});

describe("a mixture of runs", () => {
  it("has one run's laterals with another's surveys and decisions, matched by id", () => {
    const before = programTables([lateralRow("A", { backups: 1 }), lateralRow("B")], [surveyRow("A", 2)]);
    const after = {
      ...programTables(
        [lateralRow("C"), lateralRow("A", { backups: 3 })],
        [surveyRow("A", 5), surveyRow("C", 1)],
      ),
      decisions: new Map([["A", new Map([["om_grade", { value: 4, reason: "seen" }]])]]),
    };
    const mixed = mixTables(before, after, after);
    expect([0, 1].map((row) => textAt(mixed.laterals, "lateral", row))).toEqual(["A", "B"]);
    expect(numberAt(mixed.laterals, "backups", 0)).toBe(1);
    expect([...mixed.firstInspection]).toEqual([0, 1, 1]);
    expect(numberAt(mixed.inspections, "structural_grade", 0)).toBe(5);
    expect(mixed.decisions).toBe(after.decisions);
  });
});

describe("what changed of one lateral", () => {
  it("is its surveys, its city values and its decisions, and nothing that stayed", () => {
    const before = programTables([lateralRow("A", { backups: 1 })], [surveyRow("A", 2)]);
    const after = {
      ...programTables(
        [lateralRow("A", { host_material: "PVC" })],
        [surveyRow("A", 2), surveyRow("A", 4, 3, { inspected_on: on("2026-02-01") })],
      ),
      decisions: new Map([["A", new Map([["host_length", { value: 9, reason: "measured" }]])]]),
    };
    expect(ownChanges(before, 0, after, 0)).toEqual([
      { kind: "given", column: "host_material", from: "clay", to: "PVC" },
      { kind: "given", column: "backups", from: 1, to: null },
      { kind: "survey added", on: on("2026-02-01"), structural: 4, om: 3 },
      { kind: "decision", column: "host_length", from: null, to: 9 },
    ]);
    expect(ownChanges(before, 0, before, 0)).toEqual([]);
  });
});

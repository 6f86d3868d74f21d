import { expect, it } from "vitest";
import { planProgram } from "../../src/season/planned-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables } from "./examples.ts";

it("the sheet shows the value planned with: a decision over the city's, which stays as it was given", () => {
  const tables = {
    ...programTables([lateralRow("A1"), lateralRow("A2")]),
    decisions: new Map([
      [
        "A2",
        new Map([
          ["host_length", { value: 20, reason: "measured" }],
          ["host_material", { value: "PVC", reason: "seen" }],
        ]),
      ],
    ]),
  };
  const { laterals } = planProgram(tables, usBasis, { problems: [], tallies: [] });
  expect([0, 1].map((row) => numberAt(laterals, "host_length", row))).toEqual([12.192, 20]);
  expect([0, 1].map((row) => textAt(laterals, "host_material", row))).toEqual(["clay", "PVC"]);
  expect(numberAt(tables.laterals, "host_length", 1)).toBe(12.192);
  expect(textAt(tables.laterals, "host_material", 1)).toBe("clay");
});

import { describe, expect, it } from "vitest";
import { readCondition } from "../../src/plan/condition.ts";
import { lateralAt, openLaterals } from "../../src/season/lateral-at.ts";
import { on } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

describe("a lateral read late and the same read whole", () => {
  // Two surveys of one day of the same grades, which alone the texts tell apart: of them one must lead.
  const few = surveyRow("A", 4, 1, { structural_quick: "4100", surveyed_length: 12.1 });
  const many = surveyRow("A", 4, 1, { structural_quick: "4500", surveyed_length: 12.1 });
  const longer = { ...few, surveyed_length: 12.2 };

  const read = (surveys: Parameters<typeof programTables>[1]) => {
    const tables = programTables([lateralRow("A")], surveys);
    return [openLaterals(tables)(0), lateralAt(tables, 0)].map((lateral) => {
      const { pipeRating, defects, leading } = readCondition(lateral, on("2026-03-01"), 10, 30);
      return { pipeRating, defects, length: leading?.surveyedLength };
    });
  };

  it("have the same condition, in any order of the file's rows", () => {
    for (const pair of [
      [few, many],
      [longer, many],
    ] as const) {
      const [late, whole] = read(pair);
      expect(late?.defects).not.toBeNull();
      expect(whole).toEqual(late);
      expect(read(pair.toReversed())).toEqual([late, whole]);
    }
  });
});

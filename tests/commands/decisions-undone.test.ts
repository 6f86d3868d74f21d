import fc from "fast-check";
import { expect, it } from "vitest";
import { sheetColumns } from "../../src/columns/dictionary.ts";
import type { ChangeSet } from "../../src/program/change-sets.ts";
import { foldDecisions } from "../../src/program/decisions.ts";
import { isNumeric } from "../../src/quantity/measure.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "../season/examples.ts";

const ids = ["A1", "A2", "A3"] as const;
const tables = programTables(
  ids.map((id) => lateralRow(id)),
  [surveyRow("A1", 4, 1, { structural_quick: "4100" }), surveyRow("A2", 1, 4), surveyRow("A3", 2)],
);

/** Every cell of the sheet under the decisions that stand after these change sets. */
function cellsAfter(sets: readonly ChangeSet[]): string {
  const { decisions, problems } = foldDecisions(sets);
  expect(problems).toEqual([]);
  const { laterals } = planProgram({ ...tables, decisions }, usBasis, { problems: [], tallies: [] });
  return JSON.stringify(
    ids.map((_, row) =>
      sheetColumns.map(({ key, measure }) =>
        isNumeric(measure) ? numberAt(laterals, key, row) : textAt(laterals, key, row),
      ),
    ),
  );
}

const decision = fc.oneof(
  fc.record({
    column: fc.constant("host_length"),
    value: fc.integer({ min: 10, max: 140 }).map((n) => `${n} ft`),
  }),
  fc.record({ column: fc.constant("host_diameter"), value: fc.constantFrom("3 in", "4 in", "150 mm") }),
  fc.record({ column: fc.constant("structural_grade"), value: fc.integer({ min: 0, max: 5 }).map(String) }),
  fc.record({ column: fc.constant("cross_bore"), value: fc.constantFrom("cleared", "not cleared", "found") }),
  fc.record({
    column: fc.constant("treatment"),
    value: fc.constantFrom("full-length liner", "open-cut replacement", "clean and cut roots"),
  }),
);

it("any decisions, undone one after another, give back the plan before each of them exactly", () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.constantFrom(...ids), decision), { minLength: 1, maxLength: 6 }),
      (drawn) => {
        const stamp = { when: "2026-03-02T08:00:00.000Z", who: "a tester" };
        const sets: ChangeSet[] = [];
        const before: string[] = [];
        for (const [i, [lateral, { column, value }]] of drawn.entries()) {
          before.push(cellsAfter(sets));
          const record = { id: 2 * i + 1, row: 2 * i + 2, lateral, column, value, reason: "because" };
          sets.push({ kind: "set", number: i + 1, row: 2 * i + 2, records: [record], ...stamp });
        }
        for (let target = drawn.length; target >= 1; target--) {
          const number = sets.length + 1;
          sets.push({ kind: "undo", number, row: 2 * number, target, ...stamp });
          expect(cellsAfter(sets)).toBe(before[target - 1]);
        }
      },
    ),
    { numRuns: 60 },
  );
});

import { expect, it } from "vitest";
import { drawStrip } from "../../src/pictures/pipe-strip.ts";
import { stripOf } from "../../src/plan/explain-along.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { metres } from "../../src/quantity/si.ts";
import type { BookContents } from "../../src/workbook/book-contents.ts";
import { stripsSheets } from "../../src/workbook/strips.ts";
import { feet, lateral, observation, survey, usBasis } from "../plan/examples.ts";
import { smallContents } from "./small-program.ts";

const small = smallContents("us");
/** A record with a hole at 3 m for every lateral of the small program, which has no observations of its own. */
const record = planLateral(
  lateral({
    hostLength: feet(60),
    inspections: [
      survey({
        structuralGrade: 4,
        direction: "from main",
        observations: [observation({ from: metres(3) })],
      }),
    ],
  }),
  usBasis,
);
const contents = {
  ...small,
  program: { ...small.program, tables: { ...small.program.tables, observations: {} } },
  recordAt: () => record,
} as unknown as BookContents;

it("draws each pipe that asks for lining on rows of its own, with a blank row after it", () => {
  const [sheet] = stripsSheets(contents);
  const rows = [...sheet!.rows];
  const drawn = drawStrip(stripOf(record, usBasis.program)!, 110);
  expect(rows.slice(0, drawn.length + 1).map((row) => row[2])).toEqual([...drawn, null]);
  expect(rows[0]?.slice(0, 2)).toEqual(["00417", "sectional liner"]);
  expect(rows.length % (drawn.length + 1)).toBe(0);
  expect(rows.length).toBeGreaterThan(0);
});

it("is no sheet where the program has no observations", () => {
  expect(stripsSheets(small)).toEqual([]);
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LATERAL_ROW, orderByLateralAndDay } from "../../src/intake/survey-rows.ts";
import type { ColumnData } from "../../src/sheet/table.ts";

const LATERALS = 4;

interface Survey {
  readonly lateral: number;
  readonly day: number;
  readonly found: number;
}

const numbers = (values: readonly number[]): ColumnData => ({
  kind: "number",
  values: Float64Array.from(values),
});
const tableOf = (surveys: readonly Survey[]) => ({
  rows: surveys.length,
  columns: new Map([
    [LATERAL_ROW, numbers(surveys.map(({ lateral }) => lateral))],
    ["inspected_on", numbers(surveys.map(({ day }) => day))],
  ]),
});

const surveys = fc.array(fc.record({ lateral: fc.nat(LATERALS - 1), day: fc.nat(3), found: fc.nat(2) }), {
  maxLength: 12,
});
/** As a file has them, and as one that is kept in order. */
const files = fc.oneof(
  surveys,
  surveys.map((list) => list.toSorted((a, b) => a.lateral - b.lateral || a.day - b.day)),
);

describe("surveys in order", () => {
  it("stand by lateral, then by day, then as in the file, whether or not the file was in order", () => {
    fc.assert(
      fc.property(files, (list) => {
        const expected = [...list.keys()].toSorted(
          (a, b) => list[a]!.lateral - list[b]!.lateral || list[a]!.day - list[b]!.day || a - b,
        );
        expect([...orderByLateralAndDay(tableOf(list), LATERALS)]).toEqual(expected);
      }),
    );
  });

  it("stand within a day as is asked, also in a file that is in order but for that", () => {
    fc.assert(
      fc.property(files, (list) => {
        const within = (a: number, b: number) => list[a]!.found - list[b]!.found;
        const expected = [...list.keys()].toSorted(
          (a, b) =>
            list[a]!.lateral - list[b]!.lateral || list[a]!.day - list[b]!.day || within(a, b) || a - b,
        );
        expect([...orderByLateralAndDay(tableOf(list), LATERALS, within)]).toEqual(expected);
      }),
    );
  });
});

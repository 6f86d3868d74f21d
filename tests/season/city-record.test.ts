import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { emptyRecord, readRecord } from "../../src/season/city-record.ts";
import type { ProgramTables } from "../../src/season/program-tables.ts";
import { missingNumbers, textAt, withColumns } from "../../src/sheet/table.ts";
import { on, usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const recordOf = (tables: ProgramTables) => {
  const rows = emptyRecord(tables.laterals.rows);
  readRecord(tables, usBasis, rows);
  const { taken: _, ...columns } = rows;
  return Object.fromEntries(Object.entries(columns).map(([key, values]) => [key, Array.from(values)]));
};

/** Of a key some value, or nothing. */
const maybe = (key: string, values: fc.Arbitrary<number | string>): fc.Arbitrary<Row> =>
  fc.option(values).map((value) => (value === null ? {} : { [key]: value }));
const merged = (...parts: fc.Arbitrary<Row>[]): fc.Arbitrary<Row> =>
  fc.tuple(...parts).map((rows) => Object.assign({}, ...rows));

const quick = fc.constantFrom("5141", "4A31", "0000", "3112", "51", "1234");
const grade = fc.integer({ min: 0, max: 5 });
const survey = merged(
  maybe("structural_grade", grade),
  maybe("om_grade", grade),
  maybe("structural_quick", quick),
  maybe("om_quick", quick),
  maybe("surveyed_length", fc.double({ min: 1, max: 14, noNaN: true })),
  maybe("survey_complete", fc.constantFrom(0, 1)),
  maybe("stopped_because", fc.constant("roots")),
  // Program's day is 1 March 2026.
  fc.constantFrom("2003-12-31", "2026-03-01", "2026-03-02").map((day) => ({ inspected_on: on(day) })),
);
const lateral = merged(
  maybe("host_length", fc.double({ min: 3, max: 40, noNaN: true })),
  maybe("host_diameter", fc.constantFrom(101.6, 152.4)),
  maybe("host_material", fc.constantFrom("clay", "PVC", "cast iron", "driftwood")),
  maybe("install_year", fc.integer({ min: 1900, max: 2025 })),
  maybe("backups", fc.integer({ min: 0, max: 3 })),
);

describe("the record of a city", () => {
  it("is one whether a lateral is read from the columns or as the plan reads one that somebody decided on", () => {
    const cities = fc.array(fc.tuple(lateral, fc.array(survey, { maxLength: 2 })), { maxLength: 5 });
    fc.assert(
      fc.property(cities, (city) => {
        const tables = programTables(
          city.map(([differs], i) => ({ lateral: `A${i}`, district: "LS-14", ...differs })),
          city.flatMap(([, surveys], i) => surveys.map((differs) => ({ lateral: `A${i}`, ...differs }))),
        );
        // Nothing that the record has depends on it.
        const touched = Object.fromEntries(city.map((_, i) => [`A${i}`, { cover_main: 2 }]));
        expect(recordOf({ ...tables, decisions: decidedTo(touched) })).toEqual(recordOf(tables));
      }),
      { numRuns: 300 },
    );
  });

  it("is one of a city whose surveys have observations, which grades are made from", async () => {
    const loaded = await loadProgram(
      new URL("../../sample-programs/quennock-falls", import.meta.url).pathname,
    );
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    const { tables } = loaded.program;
    const { laterals, inspections, observations } = tables;
    expect(observations?.table.rows).toBeGreaterThan(100);
    const { rows } = inspections;
    const ungraded = withColumns(inspections, [
      ["structural_grade", missingNumbers(rows)],
      ["structural_quick", { kind: "text", bytes: new Uint8Array(0), ends: new Uint32Array(rows + 1) }],
    ]);
    const touched = Object.fromEntries(
      Array.from({ length: laterals.rows }, (_, row) => [
        textAt(laterals, "lateral", row),
        { cover_main: 2 },
      ]),
    );
    const undecided = { ...tables, inspections: ungraded, decisions: new Map() };
    expect(recordOf({ ...undecided, decisions: decidedTo(touched) })).toEqual(recordOf(undecided));
    const { observations: _, ...unseen } = undecided;
    expect(recordOf(unseen)).not.toEqual(recordOf(undecided));
  });

  it("has a person's word before the city's, and before the only survey's", () => {
    const tables = programTables([lateralRow("A"), lateralRow("B")], [surveyRow("A", 2), surveyRow("B", 2)]);
    const record = recordOf({
      ...tables,
      decisions: decidedTo({ B: { structural_grade: 5, host_material: "PVC" } }),
    });
    expect(record["structural"]).toEqual([2, 5]);
    expect(record["material"]?.[1]).not.toBe(record["material"]?.[0]);
  });
});

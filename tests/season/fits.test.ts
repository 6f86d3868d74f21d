import { describe, expect, it } from "vitest";
import { gatherRecord } from "../../src/season/fits.ts";
import { on, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const gathered = (laterals: readonly Row[], surveys: readonly Row[]) =>
  gatherRecord(programTables(laterals, surveys), usBasis);

describe("the record of a city, as of 1 March 2026", () => {
  it("counts laterals surveyed whole by material, year, age at the survey and whether they were bad", () => {
    const record = gathered(
      [
        lateralRow("A"),
        lateralRow("B"),
        lateralRow("C"),
        lateralRow("D", { install_year: 1960 }),
        lateralRow("E"),
      ],
      [
        surveyRow("A", 2),
        surveyRow("B", 3),
        surveyRow("C", 5),
        surveyRow("D", 2),
        surveyRow("E", 2, 1, { inspected_on: on("2020-01-02") }),
      ],
    );
    const clay = { material: "clay", installYear: 1958, age: 67, bad: false, laterals: 1 };
    expect(record.seen).toEqual([
      { ...clay, laterals: 2 },
      { ...clay, bad: true },
      { ...clay, installYear: 1960, age: 65 },
      { ...clay, age: 62 },
    ]);
  });

  it("leaves out of them what says nothing of a life: no survey, a part, no year, a survey before the pipe", () => {
    const { install_year: _, ...noYear } = lateralRow("C");
    const record = gathered(
      [lateralRow("A"), lateralRow("B"), noYear, lateralRow("D", { install_year: 2025 })],
      [
        surveyRow("B", 5, 1, { survey_complete: 0 }),
        surveyRow("C", 5),
        surveyRow("D", 5, 1, { inspected_on: on("2024-05-01") }),
      ],
    );
    expect(record.seen).toEqual([]);
  });

  it("has the backups that are known beside what the table expects of the grade in five years", () => {
    const record = gathered(
      [
        lateralRow("A", { backups: 2 }),
        lateralRow("B"),
        lateralRow("C", { backups: 0, host_material: "PVC" }),
        lateralRow("D", { backups: 1 }),
      ],
      [surveyRow("A", 1, 4), surveyRow("B", 1, 4), surveyRow("C", 1, 2)],
    );
    // The table's rates: 0.1 a year of grade 4, 0.02 of grade 2, 0.03 of no grade.
    const { materials, material, events, expected } = record.blockages;
    expect(Array.from(material, (code) => materials[code])).toEqual(["clay", "PVC", "clay"]);
    expect(events).toEqual(Float64Array.of(2, 0, 1));
    expect(expected).toEqual(Float64Array.of(0.5, 0.1, 0.15));
  });

  it("takes a person's decision for the city's value and the survey's grade", () => {
    const tables = programTables([lateralRow("A"), lateralRow("B")], [surveyRow("A", 2)]);
    const decided = new Map([
      ["host_material", { value: "PVC", reason: "dug up" }],
      ["structural_grade", { value: 4, reason: "seen" }],
    ]);
    const record = gatherRecord(
      {
        ...tables,
        decisions: new Map([
          ["A", decided],
          ["B", decided],
        ]),
      },
      usBasis,
    );
    expect(record.seen).toEqual([{ material: "PVC", installYear: 1958, age: 67, bad: true, laterals: 1 }]);
    expect(record.groups).toEqual([
      expect.objectContaining({ material: "PVC", grade: 4, whole: true, laterals: 2 }),
    ]);
  });

  it("counts every lateral in one group of the census, with the sizes that are known", () => {
    const { host_length: _, ...noLength } = lateralRow("C");
    const record = gathered(
      [
        lateralRow("A", { host_diameter: 100, host_length: 10 }),
        lateralRow("B", { host_diameter: 150, host_length: 20 }),
        noLength,
        lateralRow("D", { install_year: 2030 }),
        lateralRow("E"),
      ],
      [surveyRow("A", 2), surveyRow("B", 2), surveyRow("C", 2), surveyRow("E", 2, 1, { survey_complete: 0 })],
    );
    const group = { grade: 2, whole: true, material: "clay", age: 68 };
    expect(record.groups).toEqual([
      { ...group, laterals: 3, diameterLength: 4000 },
      // What is not laid yet is new.
      { grade: null, whole: false, material: "clay", age: 0, laterals: 1, diameterLength: 101.6 * 12.192 },
      { ...group, whole: false, laterals: 1, diameterLength: 101.6 * 12.192 },
    ]);
  });
});

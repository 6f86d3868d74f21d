import type { Column } from "../../src/columns/column.ts";
import type { DecidedValue } from "../../src/columns/decided.ts";
import { inspectionColumns, lateralColumns } from "../../src/columns/lateral-columns.ts";
import { isNumeric } from "../../src/quantity/measure.ts";
import type { ProgramTables } from "../../src/season/program-tables.ts";
import { GrowingNumbers, GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import type { ColumnData, Table } from "../../src/sheet/table.ts";
import { on } from "../plan/examples.ts";

/** A row by column key: numbers in stored units, words and text as they are. What is left out is missing. */
export type Row = Readonly<Record<string, number | string>>;

const FREE_TEXT = new Set(["lateral", "location", "structural_quick", "om_quick", "stopped_because"]);

/** A table of these columns from plain rows. */
export function tableOf(columns: readonly Column[], rows: readonly Row[]): Table {
  const data = new Map<string, ColumnData>();
  for (const { key, measure, words } of columns) {
    if (isNumeric(measure)) {
      const growing = new GrowingNumbers();
      for (const row of rows) growing.push((row[key] as number | undefined) ?? Number.NaN);
      data.set(key, growing.finish());
    } else {
      const growing = FREE_TEXT.has(key) ? new GrowingText() : new GrowingWords(words ?? []);
      for (const row of rows) growing.push((row[key] as string | undefined) ?? "");
      data.set(key, growing.finish());
    }
  }
  return { rows: rows.length, columns: data };
}

/** Tables of a program from plain rows; surveys are put to their laterals in order of date. */
export function programTables(laterals: readonly Row[], inspections: readonly Row[] = []): ProgramTables {
  const ordered: Row[] = [];
  const first = new Uint32Array(laterals.length + 1);
  laterals.forEach((lateral, row) => {
    const own = inspections.filter((survey) => survey["lateral"] === lateral["lateral"]);
    own.sort((a, b) => Number(a["inspected_on"]) - Number(b["inspected_on"]));
    ordered.push(...own);
    first[row + 1] = ordered.length;
  });
  return {
    laterals: tableOf(lateralColumns, laterals),
    inspections: tableOf(inspectionColumns, ordered),
    firstInspection: first,
    decisions: new Map(),
  };
}

/** A cleared 4 in clay lateral of 40 ft under a street. */
export const lateralRow = (lateral: string, differs: Row = {}): Row => ({
  lateral,
  district: "LS-14",
  host_diameter: 101.6,
  host_length: 12.192,
  host_material: "clay",
  install_year: 1958,
  cover_main: 2.4384,
  cover_house: 1.524,
  water_table_depth: 1.2192,
  surface: "street",
  main_diameter: 203.2,
  cleanout: 1,
  cross_bore: "cleared",
  building: "house",
  ...differs,
});

/** A complete survey in June 2025. */
export const surveyRow = (lateral: string, structural: number, om = 1, differs: Row = {}): Row => ({
  lateral,
  inspected_on: on("2025-06-15"),
  structural_grade: structural,
  om_grade: om,
  connection_grade: 1,
  survey_complete: 1,
  ...differs,
});

/** Decisions by lateral: what somebody wrote into its columns, all for one reason. */
export const decidedTo = (
  byLateral: Readonly<Record<string, Row>>,
  reason = "site diary",
): Map<string, Map<string, DecidedValue>> =>
  new Map(
    Object.entries(byLateral).map(([id, values]) => [
      id,
      new Map(Object.entries(values).map(([key, value]) => [key, { value, reason }])),
    ]),
  );

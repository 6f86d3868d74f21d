import { inspectionColumns, lateralColumns } from "../columns/lateral-columns.ts";
import { isNumeric, type Measure } from "../quantity/measure.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import type { ProgramTables } from "./program-tables.ts";

/** A value in its stored unit; null is missing. */
export type Cell = number | string | null;

/** Something of one lateral that was different before. */
export type OwnChange =
  | {
      readonly kind: "survey added" | "survey taken away";
      /** Day number. */
      readonly on: number;
      readonly structural: number | null;
      readonly om: number | null;
    }
  | { readonly kind: "given" | "decision"; readonly column: string; readonly from: Cell; readonly to: Cell };

/** What changed of one lateral's own inputs: the city's values, its surveys, the decisions about it. */
export function ownChanges(
  before: ProgramTables,
  rowBefore: number,
  after: ProgramTables,
  rowAfter: number,
): readonly OwnChange[] {
  const changes: OwnChange[] = [];
  for (const { key, measure } of lateralColumns) {
    const from = cellAt(before.laterals, key, measure, rowBefore);
    const to = cellAt(after.laterals, key, measure, rowAfter);
    if (from !== to && key !== "location") changes.push({ kind: "given", column: key, from, to });
  }
  const surveysBefore = surveysOf(before, rowBefore);
  const surveysAfter = surveysOf(after, rowAfter);
  for (const survey of without(surveysBefore, surveysAfter)) changes.push(told("survey taken away", survey));
  for (const survey of without(surveysAfter, surveysBefore)) changes.push(told("survey added", survey));
  const id = textAt(after.laterals, "lateral", rowAfter);
  const decidedBefore = before.decisions.get(id);
  const decidedAfter = after.decisions.get(id);
  for (const column of new Set([...(decidedBefore?.keys() ?? []), ...(decidedAfter?.keys() ?? [])])) {
    const from = decidedBefore?.get(column)?.value ?? null;
    const to = decidedAfter?.get(column)?.value ?? null;
    if (from !== to) changes.push({ kind: "decision", column, from, to });
  }
  return changes;
}

type Survey = Readonly<Record<string, Cell>>;

function surveysOf({ inspections, firstInspection }: ProgramTables, row: number): readonly Survey[] {
  const list: Survey[] = [];
  for (let at = firstInspection[row]!; at < firstInspection[row + 1]!; at++)
    list.push(
      Object.fromEntries(
        inspectionColumns.map(({ key, measure }) => [key, cellAt(inspections, key, measure, at)]),
      ),
    );
  return list;
}

/** The surveys of a list that the other does not have, each as often as it has it more. */
function without(list: readonly Survey[], other: readonly Survey[]): readonly Survey[] {
  const left = other.map((survey) => JSON.stringify(survey));
  return list.filter((survey) => {
    const at = left.indexOf(JSON.stringify(survey));
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}

function told(kind: "survey added" | "survey taken away", survey: Survey): OwnChange {
  const number = (key: string): number | null => {
    const value = survey[key];
    return typeof value === "number" ? value : null;
  };
  const on = number("inspected_on");
  if (on === null) throw new RangeError("ownChanges: a survey without a day");
  return { kind, on, structural: number("structural_grade"), om: number("om_grade") };
}

function cellAt(table: Table, key: string, measure: Measure, row: number): Cell {
  if (!table.columns.has(key)) return null;
  if (!isNumeric(measure)) return textAt(table, key, row) || null;
  const value = numberAt(table, key, row);
  return Number.isNaN(value) ? null : value;
}

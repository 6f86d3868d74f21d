import type { InspectionKey, ObservationKey, SurveyStart } from "../columns/lateral-columns.ts";
import type { Inspection, Observation } from "../plan/lateral.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { Day, Fraction, Metres, Millimetres } from "../quantity/si.ts";
import { codesOf, numberAt, numbersOf, shortTextsOf, type Table, textAt, textsOf } from "../sheet/table.ts";
import type { ObservationTables, ProgramTables } from "./program-tables.ts";

const present = <T extends number>(value: number): T | null => (Number.isNaN(value) ? null : (value as T));

/** The surveys of a lateral, oldest first. */
export function inspectionsAt(
  { inspections, firstInspection, observations }: ProgramTables,
  row: number,
): readonly Inspection[] {
  const first = firstInspection[row] ?? 0;
  const end = firstInspection[row + 1] ?? 0;
  if (first >= end) return NO_SURVEYS;
  const surveys = surveysOf(inspections);
  // The first is part of the list when it is made: a list that grows takes room for seventeen.
  const list = [inspectionAt(surveys, first, observations ?? null)];
  for (let at = first + 1; at < end; at++) list.push(inspectionAt(surveys, at, observations ?? null));
  return list;
}

const NO_SURVEYS: readonly Inspection[] = [];

/** The columns of inspections, found once a table. */
function openSurveys(table: Table) {
  const numbers = (key: InspectionKey) => numbersOf(table, key);
  return {
    on: numbers("inspected_on"),
    structuralGrade: numbers("structural_grade"),
    omGrade: numbers("om_grade"),
    connectionGrade: numbers("connection_grade"),
    structuralQuick: shortTextsOf(table, "structural_quick"),
    omQuick: shortTextsOf(table, "om_quick"),
    length: numbers("surveyed_length"),
    complete: numbers("survey_complete"),
    stoppedBecause: textsOf(table, "stopped_because"),
    ovality: numbers("ovality"),
    direction: codesOf(table, "direction"),
  };
}

type Surveys = ReturnType<typeof openSurveys>;

const surveysOf = onceFor(openSurveys);

function inspectionAt(surveys: Surveys, row: number, seen: ObservationTables | null): Inspection {
  const complete = surveys.complete[row]!;
  const { codes, words } = surveys.direction;
  return {
    on: surveys.on[row]! as Day,
    structuralGrade: present(surveys.structuralGrade[row]!),
    omGrade: present(surveys.omGrade[row]!),
    connectionGrade: present(surveys.connectionGrade[row]!),
    structuralQuick: surveys.structuralQuick(row),
    omQuick: surveys.omQuick(row),
    surveyedLength: present<Metres>(surveys.length[row]!),
    complete: Number.isNaN(complete) ? null : complete !== 0,
    stoppedBecause: surveys.stoppedBecause(row),
    ovality: present<Fraction>(surveys.ovality[row]!),
    direction: codes[row] === 0 ? null : (words[codes[row]!]! as SurveyStart),
    observations: observationsOf(seen, row),
  };
}

/** Null for a survey without a row: that none was seen would have to be said. */
function observationsOf(seen: ObservationTables | null, survey: number): readonly Observation[] | null {
  if (seen === null) return null;
  const list: Observation[] = [];
  for (let at = seen.first[survey] ?? 0; at < (seen.first[survey + 1] ?? 0); at++)
    list.push(observationAt(seen.table, at));
  return list.length === 0 ? null : list;
}

function observationAt(table: Table, row: number): Observation {
  const number = <T extends number>(key: ObservationKey): T | null => present<T>(numberAt(table, key, row));
  return {
    from: number<Metres>("from"),
    to: number<Metres>("to"),
    kind: textAt(table, "kind", row),
    mode: textAt(table, "mode", row) as Observation["mode"],
    grade: number("grade"),
    clock: textAt(table, "clock", row),
    turn: number("turn"),
    sizeAfter: number<Millimetres>("size_after"),
    note: textAt(table, "note", row),
  };
}

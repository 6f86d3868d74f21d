import type { InspectionKey, ObservationKey, SurveyStart } from "../columns/lateral-columns.ts";
import type { Inspection, Observation } from "../plan/lateral.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { Day, Fraction, Metres, Millimetres } from "../quantity/si.ts";
import { codesOf, numberAt, numbersOf, shortTextsOf, type Table, textAt, textsOf } from "../sheet/table.ts";
import type { ObservationTables, ProgramTables } from "./program-tables.ts";

const present = <T extends number>(value: number): T | null => (Number.isNaN(value) ? null : (value as T));

/** A reader of the surveys of a program's laterals, oldest first. */
export function openInspections(tables: ProgramTables): (row: number) => readonly Inspection[] {
  const { inspections, firstInspection } = tables;
  const observations = tables.observations ?? null;
  const surveys = surveysOf(inspections);
  return (row) => {
    const first = firstInspection[row] ?? 0;
    const end = firstInspection[row + 1] ?? 0;
    if (first >= end) return NO_SURVEYS;
    // The first is part of the list when it is made: a list that grows takes room for seventeen.
    const list = [new CityInspection(surveys, first, observations)];
    for (let at = first + 1; at < end; at++) list.push(new CityInspection(surveys, at, observations));
    return list;
  };
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

/** Its cells are read when they are asked for, each once or never: the fits ask for grades and the day, of half of all surveys nobody for texts. */
class CityInspection implements Inspection {
  readonly observations: readonly Observation[] | null;
  readonly #surveys: Surveys;
  readonly #row: number;

  constructor(surveys: Surveys, row: number, seen: ObservationTables | null) {
    this.observations = observationsOf(seen, row);
    this.#surveys = surveys;
    this.#row = row;
  }

  get on(): Day {
    return this.#surveys.on[this.#row]! as Day;
  }

  get structuralGrade(): number | null {
    return present(this.#surveys.structuralGrade[this.#row]!);
  }

  get omGrade(): number | null {
    return present(this.#surveys.omGrade[this.#row]!);
  }

  get connectionGrade(): number | null {
    return present(this.#surveys.connectionGrade[this.#row]!);
  }

  get structuralQuick(): string {
    return this.#surveys.structuralQuick(this.#row);
  }

  get omQuick(): string {
    return this.#surveys.omQuick(this.#row);
  }

  get surveyedLength(): Metres | null {
    return present<Metres>(this.#surveys.length[this.#row]!);
  }

  get complete(): boolean | null {
    const complete = this.#surveys.complete[this.#row]!;
    return Number.isNaN(complete) ? null : complete !== 0;
  }

  get stoppedBecause(): string {
    return this.#surveys.stoppedBecause(this.#row);
  }

  get ovality(): Fraction | null {
    return present<Fraction>(this.#surveys.ovality[this.#row]!);
  }

  get direction(): SurveyStart | null {
    const { codes, words } = this.#surveys.direction;
    const code = codes[this.#row]!;
    return code === 0 ? null : (words[code]! as SurveyStart);
  }
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

import type { InspectionFile, LateralFile } from "../../src/columns/city-file.ts";
import { readInspections } from "../../src/intake/inspection-file.ts";
import { type LateralIndex, type LateralReading, readLaterals } from "../../src/intake/lateral-file.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import type { Table } from "../../src/sheet/table.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { TextIndex } from "../../src/sheet/text-index.ts";

/** A text as it may come from a disk: whole, or cut at the given places, also within a letter. */
export async function* inChunks(text: string, cuts: readonly number[] = []): AsyncGenerator<Uint8Array> {
  const bytes = new TextEncoder().encode(text);
  const places = [...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length].sort((a, b) => a - b);
  let from = 0;
  for (const place of places) {
    yield bytes.subarray(from, place);
    from = place;
  }
}

export const lateralFile: LateralFile = {
  file: "laterals.csv",
  delimiter: ",",
  encoding: "utf-8",
  decimalMark: ".",
  dateOrder: "month first",
  columns: {
    lateral: { heading: "ID" },
    district: { heading: "BASIN" },
    host_diameter: { heading: "DIAM", unit: "in" },
    host_length: { heading: "LEN", unit: "ft" },
    host_material: { heading: "MAT" },
    install_year: { heading: "YEAR" },
    cleanout: { heading: "CO" },
    backups: { heading: "BACKUPS" },
  },
};

export const inspectionFile: InspectionFile = {
  file: "inspections.csv",
  delimiter: ",",
  encoding: "utf-8",
  decimalMark: ".",
  dateOrder: "month first",
  worstGrade: 5,
  columns: {
    lateral: { heading: "ID" },
    inspected_on: { heading: "DATE" },
    structural_grade: { heading: "STR" },
    structural_quick: { heading: "QUICK" },
    survey_complete: { heading: "DONE" },
  },
};

export const LATERAL_HEADINGS = "ID,BASIN,DIAM,LEN,MAT,YEAR,CO,BACKUPS";
export const INSPECTION_HEADINGS = "ID,DATE,STR,QUICK,DONE";

export const plainReading: LateralReading = { words: valueWords, ownWords: {}, districts: {} };

/** Reads lateral rows under the usual headings. */
export const laterals = (
  rows: readonly string[],
  file: Partial<LateralFile> = {},
  reading: Partial<LateralReading> = {},
) =>
  readLaterals(
    inChunks([LATERAL_HEADINGS, ...rows, ""].join("\n")),
    { ...lateralFile, ...file },
    { ...plainReading, ...reading },
  );

/** Laterals of these ids, in this order. */
export function lateralsOf(...ids: readonly string[]): LateralIndex {
  const index = new TextIndex();
  for (const id of ids) index.add(id);
  return index;
}

/** Reads inspection rows under the usual headings, of laterals A, B and 00417 unless told. */
export const inspections = (
  rows: readonly string[],
  index: LateralIndex = lateralsOf("A", "B", "00417"),
  file: Partial<InspectionFile> = {},
) =>
  readInspections(
    inChunks([INSPECTION_HEADINGS, ...rows, ""].join("\n")),
    { ...inspectionFile, ...file },
    { words: valueWords, ownWords: {} },
    index,
  );

/** Every cell of a table as text, by column, for comparing. */
export function cellsOf(table: Table): Record<string, string[]> {
  const rows = Array.from({ length: table.rows }, (_, row) => row);
  return Object.fromEntries(
    [...table.columns].map(([key, { kind }]) => [
      `column ${key}`,
      rows.map((row) => (kind === "number" ? String(numberAt(table, key, row)) : textAt(table, key, row))),
    ]),
  );
}

/** Every value of a text or number column. */
export const column = (table: Table, key: string): (string | number)[] =>
  Array.from({ length: table.rows }, (_, row) =>
    table.columns.get(key)?.kind === "number" ? numberAt(table, key, row) : textAt(table, key, row),
  );

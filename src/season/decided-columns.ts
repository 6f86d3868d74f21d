import type { Decisions } from "../columns/decided.ts";
import { lateralColumns } from "../columns/lateral-columns.ts";
import { type ColumnData, type Table, textAt, withColumns } from "../sheet/table.ts";

/** The city's columns as planned with: a person's decision stands over the city's value. */
export function withDecisions(laterals: Table, decisions: Decisions): Table {
  if (decisions.size === 0) return laterals;
  const changed = new Map<string, ColumnData>();
  for (let row = 0; row < laterals.rows; row++) {
    const decided = decisions.get(textAt(laterals, "lateral", row));
    if (decided === undefined) continue;
    for (const { key } of lateralColumns) {
      const value = decided.get(key)?.value;
      if (value === undefined) continue;
      const column = changed.get(key) ?? copyOf(laterals, key);
      changed.set(key, column);
      write(column, key, row, value);
    }
  }
  return withColumns(laterals, changed);
}

/** A column that may be written to without touching the city's. */
export function copyOf(laterals: Table, key: string): ColumnData {
  const column = laterals.columns.get(key);
  switch (column?.kind) {
    case "number":
      return { kind: "number", values: shared(column.values, Float64Array) };
    case "code":
      return { ...column, codes: shared(column.codes, Uint32Array) };
    default:
      throw new RangeError(`withDecisions: ${JSON.stringify(key)} takes no decision`);
  }
}

function shared<A extends Float64Array | Uint32Array>(
  values: A,
  Make: new (buffer: SharedArrayBuffer) => A,
): A {
  const copy = new Make(new SharedArrayBuffer(values.byteLength));
  copy.set(values);
  return copy;
}

/** Puts the city's value of a row back. */
export function restore(column: ColumnData, laterals: Table, key: string, row: number): void {
  const given = laterals.columns.get(key);
  if (column.kind === "number" && given?.kind === "number") column.values[row] = given.values[row]!;
  else if (column.kind === "code" && given?.kind === "code") column.codes[row] = given.codes[row]!;
  else throw new RangeError(`restore: ${JSON.stringify(key)} takes no decision`);
}

/** Puts a decided value in a row. @throws RangeError when the column cannot hold it */
export function write(column: ColumnData, key: string, row: number, value: number | string): void {
  if (column.kind === "number" && typeof value === "number") {
    column.values[row] = value;
    return;
  }
  const code = column.kind === "code" && typeof value === "string" ? column.words.indexOf(value, 1) : -1;
  if (column.kind !== "code" || code < 0)
    throw new RangeError(`withDecisions: ${key} cannot hold ${JSON.stringify(value)}`);
  column.codes[row] = code;
}

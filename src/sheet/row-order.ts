import type { ColumnData, Table } from "./table.ts";

/** The rows of a table in another order, or fewer of them; the table itself where it has that order: a copy of a million surveys is 250 MB. */
export function rowsInOrder(table: Table, order: Uint32Array): Table {
  if (order.length === table.rows && isAsItIs(order)) return table;
  return {
    rows: order.length,
    columns: new Map([...table.columns].map(([key, column]) => [key, inOrder(column, order)])),
  };
}

function isAsItIs(order: Uint32Array): boolean {
  let place = 0;
  while (place < order.length && order[place] === place) place++;
  return place === order.length;
}

function inOrder(column: ColumnData, order: Uint32Array): ColumnData {
  switch (column.kind) {
    case "number": {
      const values = new Float64Array(new SharedArrayBuffer(order.length * 8));
      for (let i = 0; i < order.length; i++) values[i] = column.values[order[i] ?? 0] ?? Number.NaN;
      return { kind: "number", values };
    }
    case "code": {
      const codes = new Uint32Array(new SharedArrayBuffer(order.length * 4));
      for (let i = 0; i < order.length; i++) codes[i] = column.codes[order[i] ?? 0] ?? 0;
      return { kind: "code", codes, words: column.words };
    }
    case "text": {
      const ends = new Uint32Array(new SharedArrayBuffer((order.length + 1) * 4));
      for (let i = 0; i < order.length; i++) {
        const row = order[i] ?? 0;
        ends[i + 1] = (ends[i] ?? 0) + (column.ends[row + 1] ?? 0) - (column.ends[row] ?? 0);
      }
      const bytes = new Uint8Array(new SharedArrayBuffer(ends[order.length] ?? 0));
      for (let i = 0; i < order.length; i++) {
        const from = column.ends[order[i] ?? 0] ?? 0;
        const to = ends[i] ?? 0;
        const length = (ends[i + 1] ?? 0) - to;
        for (let b = 0; b < length; b++) bytes[to + b] = column.bytes[from + b] ?? 0;
      }
      return { kind: "text", bytes, ends };
    }
    default:
      return column satisfies never;
  }
}

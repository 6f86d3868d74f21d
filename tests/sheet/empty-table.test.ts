import { expect, it } from "vitest";
import { AbsentColumns } from "../../src/sheet/empty-table.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";

it("has columns that are missing in every row and lie in the same memory, however many they are", () => {
  const absent = new AbsentColumns(3);
  const columns = new Map([
    ["length", absent.column({ measure: "length" })],
    ["count", absent.column({ measure: "count" })],
    ["note", absent.column({ measure: "text" })],
    ["pipe", absent.column({ measure: "code", words: ["clay"] })],
    ["soil", absent.column({ measure: "code", words: ["sand", "rock"] })],
  ]);
  const table = { rows: 3, columns };
  for (let row = 0; row < 3; row++) {
    for (const key of ["length", "count"]) expect(numberAt(table, key, row)).toBeNaN();
    for (const key of ["note", "pipe", "soil"]) expect(textAt(table, key, row)).toBe("");
  }
  const memory = [...columns.values()].map((column) =>
    column.kind === "number"
      ? column.values.buffer
      : column.kind === "code"
        ? column.codes.buffer
        : column.ends.buffer,
  );
  expect(new Set(memory).size).toBe(2);
  expect(columns.get("soil")).toMatchObject({ words: ["", "sand", "rock"] });
});

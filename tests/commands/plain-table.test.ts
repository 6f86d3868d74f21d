import { describe, expect, it } from "vitest";
import { plainTable } from "../../src/commands/plain-table.ts";

const columns = [
  { heading: "Name", align: "left" },
  { heading: "Count", align: "right" },
  { heading: "Cost", align: "right" },
] as const;
const rows = [["A", "1", "10.00"], null, ["Program", "1", "10.00"]];

describe("a table in plain text", () => {
  it("has its columns side by side where the line holds them", () => {
    expect(plainTable(columns, rows)).toBe(
      [
        "Name     Count   Cost",
        "───────  ─────  ─────",
        "A            1  10.00",
        "───────  ─────  ─────",
        "Program      1  10.00",
      ].join("\n"),
    );
  });

  it("goes on below, behind the first column, where it does not: no number is cut", () => {
    // Name 7 + 2 + Count 5 = 14 letters; with Cost it would be 21.
    const narrow = plainTable(columns, rows, 20);
    expect(narrow.split("\n\n").map((table) => table.split("\n")[0])).toEqual([
      "Name     Count",
      "Name      Cost",
    ]);
    expect(plainTable(columns, rows, 21).split("\n\n")).toHaveLength(1);
    expect(plainTable(columns, rows, 3).split("\n\n")).toHaveLength(2);
  });
});

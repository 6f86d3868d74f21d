import { describe, expect, it } from "vitest";
import { foldedTable } from "../../src/commands/folded-table.ts";

const columns = [
  { heading: "Lateral", align: "left" },
  { heading: "Places", align: "right" },
] as const;
const rows = [
  { cells: ["00486", "+189"], why: "inspections +189; new survey of 2026-01-07 (structural 5, O&M 1)" },
  { cells: ["00019", "−3"], why: "recipe −3" },
];

describe("a table with words in its last column", () => {
  it("folds the words beside the cells where there is room", () => {
    // Lateral 7 + 2 + Places 6 + 2 = 17 letters; 60 leave 43.
    const table = foldedTable(columns, "Why", rows, 60);
    expect(table.split("\n")).toEqual(
      [
        "Lateral  Places  Why",
        "───────  ──────  ───────────────────────────────────────────",
        "00486      +189  inspections +189; new survey of 2026-01-07",
        "                 (structural 5, O&M 1)",
        "00019        −3  recipe −3",
      ].map((line, i) => (i === 1 ? expect.stringMatching(/^─{7} {2}─{6} {2}─+$/) : line)),
    );
    expect(Math.max(...table.split("\n").map((line) => line.length))).toBeLessThanOrEqual(60);
  });

  it("puts them under their row where there is not", () => {
    expect(foldedTable(columns, "Why", rows, 50).split("\n")).toEqual([
      "Lateral  Places",
      "    Why",
      "───────  ──────",
      "00486      +189",
      "    inspections +189; new survey of 2026-01-07",
      "    (structural 5, O&M 1)",
      "00019        −3",
      "    recipe −3",
    ]);
  });

  it("loses no word at any width", () => {
    for (const width of [20, 40, 53, 80, 200])
      for (const { why } of rows) {
        const words = foldedTable(columns, "Why", rows, width).split(/\s+/);
        for (const word of why.split(" ")) expect(words).toContain(word);
      }
  });
});

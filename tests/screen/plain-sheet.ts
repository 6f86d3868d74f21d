import { lineOf } from "../../src/screen/line.ts";
import type { SheetColumn, SheetView, SortKey } from "../../src/screen/sheet-view.ts";
import { placesOf, stableOrder } from "../../src/screen/sort-rows.ts";

const column = (key: string, width: number, differs: Partial<SheetColumn> = {}): SheetColumn => ({
  key,
  heading: key,
  unit: "",
  help: `What ${key} is.`,
  align: "left",
  width,
  filledBy: "city",
  decidable: false,
  words: [],
  ...differs,
});

/** A sheet of plain cells, for tests: an id, a rank, and what else is asked for. */
export function plainSheet(
  cells: readonly (readonly string[])[],
  {
    widths = [7, 4, 8, 8, 8],
    paneLines = 40,
    editable = false,
  }: { readonly widths?: readonly number[]; readonly paneLines?: number; readonly editable?: boolean } = {},
): SheetView {
  const columns = widths.map((width, i) =>
    column(["Lateral", "Rank", "District", "Length", "Cost"][i] ?? `Col ${i}`, width, {
      align: i === 1 || i > 2 ? "right" : "left",
      unit: i === 3 ? "ft" : "",
      decidable: i === 3 && editable,
    }),
  );
  const values = columns.map(({ align }, at) =>
    align === "right"
      ? Float64Array.from(cells, (row) => (row[at] ? Number(row[at]) : Number.NaN))
      : placesOf(cells.map((row) => row[at] ?? "")),
  );
  const rows = Uint32Array.from({ length: cells.length }, (_, row) => row);
  return {
    title: ["Plain town", "as of 2026-03-01"],
    rows: cells.length,
    columns,
    shownAtFirst: columns.map((_, at) => at),
    firstSort: { column: 1, descending: false },
    filters: [
      { name: "odd rows", count: Math.floor(cells.length / 2), keeps: (row) => row % 2 === 1 },
      { name: "none", count: 0, keeps: () => false },
    ],
    totals: [`All ${cells.length} laterals`, "cost USD 1.00"],
    cell: (row, at) => cells[row]?.[at] ?? "",
    cellsWith: (at, wanted) => (row) => (cells[row]?.[at] ?? "").toLowerCase().includes(wanted),
    decided: () => null,
    total: (over, at) => {
      const numbers = (over === null ? [...rows] : [...over]).flatMap((row) =>
        cells[row]?.[at] ? [Number(cells[row]?.[at])] : [],
      );
      return at > 2 && numbers.length > 0 ? String(numbers.reduce((sum, one) => sum + one, 0)) : "";
    },
    groups: (at) => {
      const names = [...new Set(cells.map((row) => row[at] ?? ""))];
      return { names, codes: Uint32Array.from(cells, (row) => names.indexOf(row[at] ?? "")) };
    },
    rowOf: (id) => {
      const row = cells.findIndex(([own]) => own === id);
      return row < 0 ? null : row;
    },
    closedBecause: null,
    stale: null,
    planned: 0,
    check: (_, text) =>
      /^[0-9]+( ft)?$/.test(text)
        ? { ok: true, shows: `${parseInt(text, 10)} ft` }
        : { ok: false, words: "expected a number" },
    formula: {
      check: (text) =>
        text === "even"
          ? { ok: true, gives: "yes or no" }
          : { ok: false, at: text.length, words: "expected even" },
      complete: (before) => ("even".startsWith(before) ? [{ name: "even", shows: "yes or no" }] : []),
      keeps: (_, from, to) => rows.filter((row) => row >= from && row < to && row % 2 === 0),
      nameProblem: (name) => (name === "new" ? null : "expected new"),
    },
    prepare: () => 1,
    sorted: (keys: readonly SortKey[]) =>
      keys.reduceRight(
        (order, key) => stableOrder(values[key.column]!, order, key.descending),
        stableOrder(values[0]!, rows, false),
      ),
    isNew: false,
    pane: (name, row, { columns: width }) => ({
      title: name === "why" ? `Why row ${row}` : name,
      lines: Array.from({ length: paneLines }, (_, i) => lineOf(`${name} line ${i + 1}`.slice(0, width))),
    }),
  };
}

/** `count` laterals L001, L002, … of rank 1, 2, …, in two districts, every third without a length. */
export const numbered = (count: number): string[][] =>
  Array.from({ length: count }, (_, i) => [
    `L${String(i + 1).padStart(3, "0")}`,
    String(i + 1),
    i % 2 === 0 ? "Harbour" : "Mill",
    i % 3 === 2 ? "" : String((i * 7) % 11),
    String(1000 - i),
  ]);

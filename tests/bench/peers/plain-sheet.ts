import { writeFile } from "node:fs/promises";
import type { Column } from "../../../src/columns/column.ts";
import type { ProgramHead } from "../../../src/reference/basis.ts";
import { numberAt, type Table, textAt } from "../../../src/sheet/table.ts";
import { formatOf, numberCell } from "../../../src/workbook/number-format.ts";
import { columnLetter } from "../../../src/workbook/references.ts";
import { type Book, type Cell, firstRow, formula, type Row } from "../../../src/workbook/sheet-model.ts";

/** Columns of the sheet that all writers write; a formula is the thirtieth. */
const DATA_COLUMNS = 29;

/** A sheet of thirty columns, ready to be written: texts, numbers in eight formats, and a product of two of them. */
export interface PlainSheet {
  readonly columns: readonly {
    readonly heading: string;
    readonly text: boolean;
    readonly format: string | null;
  }[];
  readonly values: readonly (readonly (string | number | null)[])[];
  /** The two columns that the formula multiplies. */
  readonly product: readonly [number, number];
}

/** The first columns of the laterals that have values, as people see them. */
export function plainSheet(laterals: Table, columns: readonly Column[], units: "us" | "si"): PlainSheet {
  const style = { units, currency: "USD" };
  const isWords = ({ measure }: Column) => formatOf(measure, style) === undefined && measure !== "coordinate";
  const shown = columns
    .filter(({ key, measure }) => laterals.columns.has(key) && measure !== "coordinate")
    .slice(0, DATA_COLUMNS);
  const values = shown.map((column) =>
    Array.from({ length: laterals.rows }, (_, row): string | number | null => {
      if (laterals.columns.get(column.key)!.kind !== "number")
        return textAt(laterals, column.key, row) || null;
      return numberCell(numberAt(laterals, column.key, row), column.measure, units) as string | number | null;
    }),
  );
  const numeric = shown.flatMap((column, i) => (isWords(column) ? [] : [i])).filter((i) => i < 26);
  return {
    columns: shown.map((column) => ({
      heading: column.key,
      text: isWords(column),
      format: formatOf(column.measure, style) ?? null,
    })),
    values,
    product: [numeric[0]!, numeric[1]!],
  };
}

export function bookOf({ columns, values, product }: PlainSheet, head: ProgramHead): Book {
  const length = values[0]!.length;
  const letters = product.map(columnLetter);
  return {
    title: "Bench",
    head,
    sheets: [
      {
        name: "Sheet",
        title: "Sheet",
        notes: [],
        columns: [
          ...columns.map(({ heading, format }) => ({
            heading,
            width: 12,
            ...(format === null ? {} : { format }),
          })),
          { heading: "Length by wall", width: 12, format: "#,##0.00" },
        ],
        rows: {
          length,
          *[Symbol.iterator](): Generator<Row> {
            for (let row = 0; row < length; row++) {
              const cells: Cell[] = values.map((column) => column[row]!);
              const at = firstRow([]) + row;
              const [a, b] = product.map((i) => Number(cells[i] ?? 0));
              cells.push(formula(`${letters[0]}${at}*${letters[1]}${at}`, a! * b!));
              yield cells;
            }
          },
        },
        frozenColumns: 1,
        pagesWide: 1,
        locked: false,
        filtered: true,
      },
    ],
  };
}

/** The same cells for the peers. */
export async function writeSheetCsv({ columns, values }: PlainSheet, path: string): Promise<void> {
  const text = (cell: string | number | null) => (cell === null ? "" : String(cell));
  const lines = [columns.map(({ heading }) => heading).join(",")];
  for (let row = 0; row < values[0]!.length; row++)
    lines.push(values.map((column) => `"${text(column[row]!).replaceAll('"', '""')}"`).join(","));
  await writeFile(path, `${lines.join("\n")}\n`);
}

import type { BookContents } from "../../../src/workbook/book-contents.ts";
import { designedRings, designInputsSheet, inputCells } from "../../../src/workbook/design/design-inputs.ts";
import { cellsOf, type Place } from "../../../src/workbook/design/design-line.ts";
import type { DesignRing } from "../../../src/workbook/design/design-ring.ts";
import { designLines, linesByKey, valueLines } from "../../../src/workbook/design/design-sheet.ts";
import { designTablesSheet, tableRange } from "../../../src/workbook/design/design-tables.ts";
import { columnLetter } from "../../../src/workbook/references.ts";
import { type Book, firstRow, type Row } from "../../../src/workbook/sheet-model.ts";

export const FANNED = "Fanned out";

/**
 * A book that only tests see: the lines of the design sheet, one row a ring, two columns a line. The formulas are the
 * design sheet's own; where that one looks a value up for what is picked, each row here refers to its own inputs.
 */
export function fannedOut(contents: BookContents): Book {
  const { basis } = contents.program;
  const lines = designLines(basis);
  const values = valueLines(lines);
  const [part, ...more] = designedRings(contents).parts;
  if (part === undefined || more.length > 0) throw new RangeError("fannedOut: one part is wanted");
  const inputs = inputCells(part, values);
  const byKey = linesByKey(lines);
  const columnOf = (key: string, second: number): string =>
    `$${columnLetter(1 + 2 * values.findIndex((line) => line.key === key) + second)}`;
  const rows = [...part].map((ring, i): Row => {
    const row = firstRow([]) + i;
    const place: Place = {
      shown: (key) => columnOf(key, 0) + row,
      si: (key) => columnOf(key, 1) + row,
      given: (key) => inputs.cell(key, inputs.firstRow + i),
      range: (name) => tableRange(name, basis),
    };
    return [
      ring.pick,
      ...values.flatMap((line) => {
        const { shown, si } = cellsOf(line, ring, place, byKey, basis.program.units);
        return [shown, si];
      }),
    ];
  });
  return {
    title: "Fanned out",
    head: basis.program,
    sheets: [
      {
        name: FANNED,
        title: FANNED,
        notes: [],
        columns: [
          { heading: "Lateral", width: 20 },
          ...values.flatMap(({ key }) => [
            { heading: key, width: 10 },
            { heading: `${key} SI`, width: 10 },
          ]),
        ],
        rows,
        frozenColumns: 1,
        pagesWide: 1,
        locked: false,
      },
      designInputsSheet(part, values, contents),
      designTablesSheet(basis),
    ],
  };
}

/** What is fanned out, in the order of its rows. */
export const ringsIn = (contents: BookContents): readonly DesignRing[] => [...designedRings(contents)];

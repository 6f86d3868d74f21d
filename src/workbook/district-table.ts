import { districtName } from "../quantity/district-name.ts";
import type { Totals } from "../season/totals.ts";
import type { BookContents } from "./book-contents.ts";
import { columnLetter, sumBelow } from "./references.ts";
import { firstRow, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";

/** A column of a table with a row a district: its figure of a district, and of the program. */
export interface DistrictColumn extends SheetColumn {
  readonly of: (totals: Totals) => number;
}

/** A table of districts under which each column is summed by formula to the program's own figure. */
export function districtSheet(
  { program }: BookContents,
  sheet: Pick<SheetModel, "name" | "title" | "notes">,
  columns: readonly DistrictColumn[],
): SheetModel {
  const { districts, program: all } = program.totals;
  const first = firstRow(sheet.notes);
  return {
    ...sheet,
    columns: [{ heading: "District", width: 20 }, ...columns],
    rows: districts.map(
      (totals): Row => [districtName(totals.district), ...columns.map(({ of }) => of(totals))],
    ),
    foot: [
      [
        "Program",
        ...columns.map(({ of }, i) => sumBelow(columnLetter(i + 1), first, districts.length, of(all))),
      ],
    ],
    frozenColumns: 1,
    pagesWide: Math.max(1, Math.ceil(columns.length / COLUMNS_A_PAGE)),
    locked: false,
  };
}

/** Columns of figures that are still easy to read on one page. */
const COLUMNS_A_PAGE = 17;

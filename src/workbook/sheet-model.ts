import type { ProgramHead } from "../reference/basis.ts";

/**
 * A workbook as plain data. Builders make it, tests read it, and write-xlsx.ts alone knows how it becomes a file.
 * Sheets are laid out alike: title, program line, notes, headings, rows, foot.
 */
export interface Book {
  /** Printed at the head of every page. */
  readonly title: string;
  readonly head: ProgramHead;
  readonly sheets: readonly SheetModel[];
}

export interface SheetModel {
  readonly name: string;
  readonly title: string;
  /** One line each, between the title and the headings; few and short, because they stay in view. */
  readonly notes: readonly string[];
  readonly columns: readonly SheetColumn[];
  readonly rows: Rows;
  /** Totals and checks under the rows. */
  readonly foot?: readonly Row[];
  /** Columns that stay in view and are printed again on each page to the right. */
  readonly frozenColumns: number;
  /** Pages the columns are spread over when printed. */
  readonly pagesWide: number;
  /**
   * Columns that a page holds, in characters, where groups of columns must not be torn: the sheet is printed at the scale of such a page, on
   * as many of them as it needs. A little more than the group that is to fit, and less than that with the next column.
   */
  readonly pageWidth?: number;
  readonly portrait?: true;
  /** Whether everything but the input cells is locked. */
  readonly locked: boolean;
  readonly filtered?: true;
  /** Below the rows, one under another. */
  readonly pictures?: readonly SheetPicture[];
  /** Names under which programs find cells of the sheet: name → `$E$6:$E$20`. */
  readonly names?: Readonly<Record<string, string>>;
}

/** A picture as PNG, put below the rows at the given size in pixels. */
export interface SheetPicture {
  /** What it shows, for those who do not see it. */
  readonly alt: string;
  readonly png: Uint8Array;
  readonly width: number;
  readonly height: number;
}

export interface SheetColumn {
  /** With the unit, where there is one. */
  readonly heading: string;
  /** In characters. */
  readonly width: number;
  /** Number format, as spreadsheets write it. */
  readonly format?: string;
  /** Long text, broken into lines. */
  readonly wrap?: true;
  /** A drawing in letters: in a type of fixed width. */
  readonly drawn?: true;
}

/** An array, or where there are many, rows that are worked out as they are read, as often as they are read. */
export interface Rows extends Iterable<Row> {
  readonly length: number;
}

export type Row = readonly Cell[];
/** Text is only ever text, whatever it looks like. Null is an empty cell. */
export type Cell = string | number | null | Formatted | Formula | Input | PickFromList | Section;

/** A number whose format is not its column's. */
export interface Formatted {
  readonly kind: "number";
  readonly value: number;
  readonly format: string;
}

/** A formula with the engine's own value, which the recalculation test compares with the spreadsheet's. */
export interface Formula {
  readonly kind: "formula";
  /** Without a leading =. Made of our own sheet names, addresses and numbers; never of a city's text. */
  readonly text: string;
  readonly result: number | string;
  readonly format?: string;
  /** Its results are words, to be aligned as such. */
  readonly isText?: true;
  /** Lines of its row, where its words may grow longer than those of its result. */
  readonly lines?: number;
}

/** An empty cell to be filled in: with a price, or with words. */
export interface Input {
  readonly kind: "unit price" | "answer";
  /** Lines kept free for long words. */
  readonly lines?: number;
}

/** A cell in which one of a list is picked. */
export interface PickFromList {
  readonly kind: "pick";
  readonly value: string;
  /** The range of what can be picked, with its sheet. */
  readonly list: string;
}

/** A cell of a row that begins a section of the sheet. */
export interface Section {
  readonly kind: "section";
  readonly text: string;
}

export const formula = (text: string, result: number | string, format?: string): Formula => ({
  kind: "formula",
  text,
  result,
  ...(format === undefined ? {} : { format }),
});

/** The rows of a list, each worked out when it is read. */
export const rowsOf = <Entry>(
  list: Iterable<Entry> & { readonly length: number },
  row: (entry: Entry) => Row,
): Rows => ({
  length: list.length,
  *[Symbol.iterator]() {
    for (const entry of list) yield row(entry);
  },
});

export const UNIT_PRICE: Input = { kind: "unit price" };
export const ANSWER: Input = { kind: "answer" };

/** Title and program line come before the notes. */
export const LINES_BEFORE_NOTES = 2;

/** Row of the headings, counting from 1. */
export const headingRow = (notes: readonly string[]): number => LINES_BEFORE_NOTES + notes.length + 1;
/** Row of the first data row, counting from 1. */
export const firstRow = (notes: readonly string[]): number => headingRow(notes) + 1;

/**
 * A book of more cells is written as a stream, with the same sheets. As a document it is kept whole first, about
 * three quarters of a kilobyte a cell (measured), but its texts are shared and the file is a quarter smaller.
 */
export const MOST_DOCUMENT_CELLS = 50_000;

export const cellsIn = (sheets: readonly SheetModel[]): number =>
  sheets.reduce((sum, { rows, columns }) => sum + rows.length * columns.length, 0);

import type { PrintStyle } from "../reference/basis.ts";
import { heightOf } from "./cell-content.ts";
import type { SheetColumn, SheetModel } from "./sheet-model.ts";
import { linesIn, rowHeight } from "./text-height.ts";

/** Points of the printable area: letter and A4, less the margins of sheet-options.ts. */
const points = {
  letter: { short: 612, long: 792 },
  A4: { short: 595.3, long: 841.9 },
} as const satisfies Record<PrintStyle["paper"], object>;
const BESIDE = 72;
const ABOVE_AND_BELOW = 93.6;

/** Points of a column: 7 pixels a character, the margin among them, at 96 pixels an inch (ECMA-376 Part 1, 18.3.1.13). */
const columnPoints = (width: number): number => 7 * width * 0.75;
/** Points of the title, the program line and of a row of headings beside its lines. */
const HEAD = 22 + 15;

/** Rows that stay with the foot on its page. */
const KEPT = 3;
/** A list of more rows is not laid out here: where it ends on a page is chance anyhow. */
const MOST_ROWS = 2_000;
/** Spreadsheet programs differ in the height of a page by about so much. */
const TOLERANCE = 0.04;

/** No smaller than this part of its size is a wide table printed: some 7 points, by eye. */
const READABLE = 0.7;

/** How many pages wide a table is printed so that it can be read; its first columns stand on each. */
export function pagesAcross(columns: readonly Pick<SheetColumn, "width">[], frozenColumns: number): number {
  const widthOf = (from: number, to?: number) =>
    columns.slice(from, to).reduce((sum, { width }) => sum + columnPoints(width), 0);
  const repeated = widthOf(0, frozenColumns);
  // The narrower of the papers: a table is as many pages wide on both.
  const page = (points.letter.long - BESIDE) / READABLE;
  return Math.max(1, Math.ceil(widthOf(frozenColumns) / (page - repeated)));
}

/** The percentage at which a page holds columns of so many characters. */
export function scaleFor(
  pageWidth: number,
  { portrait }: Pick<SheetModel, "portrait">,
  { paper }: PrintStyle,
): number {
  const across = portrait === true ? points[paper].short : points[paper].long;
  return Math.min(100, Math.round((100 * (across - BESIDE)) / columnPoints(pageWidth)));
}

/**
 * The place in the rows before which a new page begins, so that totals are not torn from each other nor stand alone on a
 * page with nothing above them. Null where they need no help: on one page, or well within the last.
 */
export function breakBeforeFoot(sheet: SheetModel, { paper }: PrintStyle): number | null {
  const { rows, foot = [], columns, pagesWide, notes } = sheet;
  if (foot.length === 0 || pagesWide !== 1 || rows.length <= KEPT || rows.length > MOST_ROWS) return null;
  const { short, long } = points[paper];
  const [across, down] = sheet.portrait ? [short, long] : [long, short];
  const width = columns.reduce((sum, column) => sum + columnPoints(column.width), 0);
  const scale = Math.min(1, (across - BESIDE) / width);
  const heights = [...rows, ...foot].map((row) => heightOf(row, columns));
  const first = heights.length - foot.length - KEPT;
  const headings = Math.max(...columns.map((column) => linesIn(column.heading, column.width, "bold")));
  const repeated = rowHeight(headings) + 4;
  const across1 = columns.reduce((sum, column) => sum + column.width, 0);
  const head =
    HEAD + notes.reduce((sum, note) => sum + rowHeight(linesIn(note, Math.min(110, across1), "plain")), 0);
  const pagesAt = (page: number): readonly number[] => pagesOf(heights, page, head + repeated, repeated);
  const most = (down - ABOVE_AND_BELOW) / scale;
  const torn = [most * (1 - TOLERANCE), most, most * (1 + TOLERANCE)].some((page) => {
    const pages = pagesAt(page);
    return pages[first] !== pages.at(-1) || (pages.at(-1)! > 0 && pages[first - 1] !== pages.at(-1));
  });
  return torn ? first : null;
}

/** The page of each row, 0 first. */
function pagesOf(
  heights: readonly number[],
  page: number,
  first: number,
  repeated: number,
): readonly number[] {
  let [number, used] = [0, first];
  return heights.map((height) => {
    if (used + height > page) {
      number++;
      used = repeated;
    }
    used += height;
    return number;
  });
}

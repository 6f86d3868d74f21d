import { type Align, fitTo, visible, widthOf } from "./cell-text.ts";
import { type Line, type Look, lineOf } from "./line.ts";

export interface TextColumn {
  readonly heading: string;
  readonly align: Align;
}

/** A column of words, and one of numbers. */
export const left = (heading: string): TextColumn => ({ heading, align: "left" });
export const right = (heading: string): TextColumn => ({ heading, align: "right" });

export interface TextRow {
  readonly cells: readonly string[];
  readonly look: Look;
}

const GAP = 2;

/**
 * A table in at most `width` cells. Columns that do not fit beside each other follow in a further block below, each
 * block beginning with the first column, so no number is ever cut.
 */
export function tableLines(
  columns: readonly TextColumn[],
  rows: readonly TextRow[],
  width: number,
): readonly Line[] {
  const widths = columns.map(({ heading }, i) =>
    Math.max(widthOf(visible(heading)), ...rows.map(({ cells }) => widthOf(visible(cells[i] ?? "")))),
  );
  // The first column names the row; it is cut before it crowds the numbers out.
  widths[0] = Math.min(widths[0] ?? 0, Math.max(1, Math.floor(width / 3)));
  return blocks(widths, width).flatMap((block, i) => {
    const line = (cells: readonly string[], look: Look): Line =>
      lineOf(
        block.map((at) => fitTo(cells[at] ?? "", widths[at]!, columns[at]!.align)).join(" ".repeat(GAP)),
        look,
      );
    return [
      ...(i === 0 ? [] : [lineOf("")]),
      line(
        columns.map(({ heading }) => heading),
        "bold",
      ),
      ...rows.map(({ cells, look }) => line(cells, look)),
    ];
  });
}

/** Columns by place, in blocks that fit; a column wider than the rest of the window still gets what there is. */
function blocks(widths: number[], width: number): readonly (readonly number[])[] {
  const found: number[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (let at = 1; at < widths.length; at++) {
    widths[at] = Math.min(widths[at]!, width - widths[0]! - GAP);
    if (used + GAP + widths[at]! > width) {
      found.push([0]);
      used = widths[0]!;
    }
    found.at(-1)!.push(at);
    used += GAP + widths[at]!;
  }
  return found;
}

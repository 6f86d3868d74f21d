import { left, type PlainColumn, plainTable } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** A row of short cells with words that may be longer than the line. */
export interface FoldedRow {
  readonly cells: readonly string[];
  readonly why: string;
}

const GAP = 2;
/** Fewer letters than this are no room for words beside the cells. */
const LEAST_ROOM = 36;
const UNDER = "    ";

/**
 * A table whose last column is words: folded into the room beside the other cells, or under its row where that room is too narrow.
 *
 * @param heading of the words
 * @param width letters a line holds
 */
export function foldedTable(
  columns: readonly PlainColumn[],
  heading: string,
  rows: readonly FoldedRow[],
  width: number,
): string {
  const used = columns.reduce(
    (sum, column, i) =>
      sum + GAP + Math.max(column.heading.length, ...rows.map(({ cells }) => (cells[i] ?? "").length)),
    0,
  );
  const room = width - used;
  if (room < LEAST_ROOM) return underRows(columns, heading, rows, width);
  const empty = columns.map(() => "");
  return plainTable(
    [...columns, left(heading)],
    rows.flatMap(({ cells, why }) =>
      wrapped(why, "", "", room)
        .split("\n")
        .map((line, i) => [...(i === 0 ? cells : empty), line]),
    ),
  );
}

function underRows(
  columns: readonly PlainColumn[],
  heading: string,
  rows: readonly FoldedRow[],
  width: number,
): string {
  const [head = "", rule = "", ...lines] = plainTable(
    columns,
    rows.map(({ cells }) => cells),
  ).split("\n");
  return [
    head,
    `${UNDER}${heading}`,
    rule,
    ...rows.flatMap(({ why }, i) => [lines[i] ?? "", wrapped(why, UNDER, UNDER, width)]),
  ].join("\n");
}

import { shownInLine } from "./shown-text.ts";

/** One column of a table in plain text. */
export interface PlainColumn {
  readonly heading: string;
  readonly align: "left" | "right";
}

/** A column of words, and one of numbers. */
export const left = (heading: string): PlainColumn => ({ heading, align: "left" });
export const right = (heading: string): PlainColumn => ({ heading, align: "right" });

type Rows = readonly (readonly string[] | null)[];

/**
 * Rows as plain text under their headings, with a rule below them; a row of null draws a rule.
 *
 * @param width letters a line holds: columns that do not fit follow in a further table below, behind the first column
 */
export function plainTable(
  columns: readonly PlainColumn[],
  given: Rows,
  width = Number.POSITIVE_INFINITY,
): string {
  const rows = given.map((row) => row?.map(shownInLine) ?? null);
  const widths = columns.map(({ heading }, i) =>
    Math.max(heading.length, ...rows.map((row) => (row === null ? 0 : (row[i] ?? "").length))),
  );
  return placesSideBySide(widths, width)
    .map((places) => partOfTable(columns, rows, widths, places))
    .join("\n\n");
}

const GAP = "  ";

/** The columns of each table, the first column in all of them. */
function placesSideBySide(widths: readonly number[], width: number): readonly (readonly number[])[] {
  const first = widths[0] ?? 0;
  const tables: number[][] = [[0]];
  let used = first;
  for (const [place, own] of widths.entries()) {
    if (place === 0) continue;
    const table = tables.at(-1)!;
    if (table.length > 1 && used + GAP.length + own > width) {
      tables.push([0, place]);
      used = first + GAP.length + own;
    } else {
      table.push(place);
      used += GAP.length + own;
    }
  }
  return tables;
}

function partOfTable(
  columns: readonly PlainColumn[],
  rows: Rows,
  widths: readonly number[],
  places: readonly number[],
): string {
  const line = (cells: readonly string[]) =>
    places
      .map((place) => {
        const cell = cells[place] ?? "";
        return columns[place]?.align === "left"
          ? cell.padEnd(widths[place] ?? 0)
          : cell.padStart(widths[place] ?? 0);
      })
      .join(GAP)
      .trimEnd();
  const rule = places.map((place) => "─".repeat(widths[place] ?? 0)).join(GAP);
  return [
    line(columns.map(({ heading }) => heading)),
    rule,
    ...rows.map((row) => (row === null ? rule : line(row))),
  ].join("\n");
}

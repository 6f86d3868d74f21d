/** One column of a table in plain text. */
export interface PlainColumn {
  readonly heading: string;
  readonly align: "left" | "right";
}

/** Rows as plain text under their headings, with a rule below them; a row of null draws a rule. */
export function plainTable(
  columns: readonly PlainColumn[],
  rows: readonly (readonly string[] | null)[],
): string {
  const widths = columns.map(({ heading }, i) =>
    Math.max(heading.length, ...rows.map((row) => (row === null ? 0 : (row[i] ?? "").length))),
  );
  const line = (cells: readonly string[]) =>
    columns
      .map(({ align }, i) =>
        align === "left"
          ? (cells[i] ?? "").padEnd(widths[i] ?? 0)
          : (cells[i] ?? "").padStart(widths[i] ?? 0),
      )
      .join("  ")
      .trimEnd();
  const rule = widths.map((width) => "─".repeat(width)).join("  ");
  return [
    line(columns.map(({ heading }) => heading)),
    rule,
    ...rows.map((row) => (row === null ? rule : line(row))),
  ].join("\n");
}

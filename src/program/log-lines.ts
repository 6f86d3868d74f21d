import { createHash } from "node:crypto";

export const logColumns = [
  "id",
  "change_set",
  "kind",
  "target",
  "when",
  "who",
  "lateral",
  "column",
  "value",
  "reason",
] as const;
export type LogColumn = (typeof logColumns)[number];

/** One physical line of decisions.csv, each cell as text without quotes and escapes. */
export type LogLine = Readonly<Record<LogColumn, string>>;

/** How a decisions.csv is written, so that a file a spreadsheet has saved is continued in its own form. */
export interface LogForm {
  /** What each cell of a line is; null for a column that is not ours. */
  readonly order: readonly (LogColumn | null)[];
  readonly delimiter: "," | ";" | "\t";
  readonly newline: "\n" | "\r\n";
}

export const ownForm: LogForm = { order: logColumns, delimiter: ",", newline: "\n" };

/** Heading line of a new decisions.csv. */
export const logHeading = `${logColumns.join(",")}\n`;

/** A form read from a heading line that has each of our columns once, in any order; null for any other line. */
export function readForm(heading: string, newline: "\n" | "\r\n"): LogForm | null {
  for (const delimiter of [",", ";", "\t"] as const) {
    const names = readCells(heading, delimiter)?.map((cell) => cell.trim().toLowerCase());
    if (names === undefined) continue;
    const order = names.map((name) => logColumns.find((column) => column === name) ?? null);
    if (logColumns.every((column) => order.filter((found) => found === column).length === 1)) {
      return { order, delimiter, newline };
    }
  }
  return null;
}

/** A line's cells by column; null when the line is cut, or has more cells than the heading. */
export function readLine(text: string, form: LogForm): LogLine | null {
  const cells = readCells(text, form.delimiter);
  if (cells === null || cells.slice(form.order.length).some((cell) => cell !== "")) return null;
  // A spreadsheet may leave out empty cells at the end; the set's checksum tells whether they were empty.
  const entries = logColumns.map((column) => [column, unescaped(cells[form.order.indexOf(column)] ?? "")]);
  return Object.fromEntries(entries) as Record<LogColumn, string>;
}

export const writeLine = (line: LogLine, form: LogForm): string =>
  form.order
    .map((column) => (column === null ? "" : quoted(escaped(line[column]))))
    .join(form.delimiter)
    .concat(form.newline);

/** Sixteen hexadecimal digits that change when any cell of a change set does, its closing line's cells included. */
export function checksum(records: readonly LogLine[], close: LogLine): string {
  const cells = [...records, { ...close, reason: "" }].map((line) =>
    logColumns.map((column) => line[column]),
  );
  return `sha256:${createHash("sha256").update(JSON.stringify(cells)).digest("hex").slice(0, 16)}`;
}

/** One line a record, whatever people type: line ends and other unseen characters are written as \n, \r, \t, \uXXXX. */
export function escaped(text: string): string {
  return text.replace(/[\\\p{Cc}\p{Cs}\u2028\u2029]/gu, (found) => {
    const short = { "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t" }[found];
    return short ?? `\\u${found.charCodeAt(0).toString(16).padStart(4, "0")}`;
  });
}

/** The inverse of {@link escaped}; a backslash before anything else is itself. */
export function unescaped(text: string): string {
  return text.replace(/\\(\\|n|r|t|u[0-9a-fA-F]{4})/g, (whole, code: string) => {
    const short = { "\\": "\\", n: "\n", r: "\r", t: "\t" }[code];
    return short ?? (code[0] === "u" ? String.fromCharCode(Number.parseInt(code.slice(1), 16)) : whole);
  });
}

const quoted = (cell: string): string =>
  /[",;]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;

/** Cells of one line (RFC 4180); null when a quoted cell does not end in it. */
function readCells(text: string, delimiter: string): readonly string[] | null {
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    if (text[at] === '"') {
      let end = at + 1;
      while (text[end] !== '"' || text[end + 1] === '"') {
        if (end >= text.length) return null;
        end += text[end] === '"' ? 2 : 1;
      }
      cells.push(text.slice(at + 1, end).replaceAll('""', '"'));
      at = end + 1;
      if (at < text.length && text[at] !== delimiter) return null;
    } else {
      const next = text.indexOf(delimiter, at);
      const end = next === -1 ? text.length : next;
      cells.push(text.slice(at, end));
      at = end;
    }
    if (at >= text.length) return cells;
    at++;
  }
}

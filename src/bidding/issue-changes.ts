/** What of an issue is kept to compare the next one with: the lines to be priced, and the cells of the other sheets. */
export interface IssuedContent {
  readonly lines: readonly IssuedRecordLine[];
  readonly sheets: readonly IssuedSheet[];
}

/** A line of the bid schedule. */
export interface IssuedRecordLine {
  /** The plan's name of the line, which stays when its number or its wording changes: `full-length liner | 4 in`. */
  readonly key: string;
  /** As printed: `6.04`. */
  readonly item: string;
  readonly wording: string;
  readonly unit: string;
  /** Whole hundredths of the unit. */
  readonly hundredths: number;
  /** The sheet of its part of the bid. */
  readonly sheet: string;
  /** The owner's own amount of an allowance, in cents; null is the bidder's to price. */
  readonly amount: number | null;
}

export interface IssuedSheet {
  readonly name: string;
  /** Title and notes. */
  readonly notes: readonly string[];
  readonly headings: readonly string[];
  /** The columns that say what a row is about, counting from 0. */
  readonly keys: readonly number[];
  readonly rows: readonly (readonly string[])[];
}

/** One thing that differs between two issues. */
export interface IssueChange {
  readonly sheet: string;
  /** The item of the schedule, or what the row is about. */
  readonly about: string;
  readonly what: string;
  /** Empty where it was not there, or was an empty cell. */
  readonly from: string;
  readonly to: string;
  /** The plan's name of the line, where it is one of the schedule. */
  readonly line: string | null;
}

/** What is said of a line that the issue before had not. */
export const LINE_ADDED = "line added";

/** A cell as its sheet shows it, from the text that is kept of it: rounded as the sheet rounds. */
export type ShownCell = (sheet: string, heading: string, text: string) => string;

/**
 * Everything that differs, the schedule first, then sheet after sheet; none where the content is the same.
 *
 * @param show as it is kept unless said
 */
export const changesBetween = (
  before: IssuedContent,
  after: IssuedContent,
  show: ShownCell = (_sheet, _heading, text) => text,
): readonly IssueChange[] => [
  ...lineChanges(before.lines, after.lines),
  ...sheetChanges(before.sheets, after.sheets, show),
];

function lineChanges(
  before: readonly IssuedRecordLine[],
  after: readonly IssuedRecordLine[],
): readonly IssueChange[] {
  const old = new Map(before.map((line) => [line.key, line]));
  const now = new Set(after.map(({ key }) => key));
  const change = (line: IssuedRecordLine, what: string, from: string, to: string): IssueChange => ({
    sheet: line.sheet,
    about: `${line.item} ${line.key}`,
    what,
    from,
    to,
    line: line.key,
  });
  const inOrder = after.flatMap((line) => {
    const was = old.get(line.key);
    if (was === undefined) return [change(line, LINE_ADDED, "", lineWords(line))];
    return [
      ["item number", was.item, line.item],
      ["wording", was.wording, line.wording],
      ["unit", was.unit, line.unit],
      ["quantity", amountOf(was), amountOf(line)],
      ["amount of the owner", moneyOf(was), moneyOf(line)],
    ].flatMap(([what = "", from = "", to = ""]) => (from === to ? [] : [change(line, what, from, to)]));
  });
  const gone = before.filter(({ key }) => !now.has(key));
  return [...inOrder, ...gone.map((line) => change(line, "line deleted", lineWords(line), DELETED))];
}

/** What a bidder is told beside the number of a line that went; the same work may stand under it in another part of the bid. */
const DELETED = "deleted: not to be priced here, and its number given to no other line";

const amountOf = ({ hundredths }: IssuedRecordLine): string => (hundredths / 100).toFixed(2);
const moneyOf = ({ amount }: IssuedRecordLine): string => (amount === null ? "" : (amount / 100).toFixed(2));
const lineWords = (line: IssuedRecordLine): string => `${amountOf(line)} ${line.unit}: ${line.wording}`;

function sheetChanges(
  before: readonly IssuedSheet[],
  after: readonly IssuedSheet[],
  show: ShownCell,
): readonly IssueChange[] {
  const old = new Map(before.map((sheet) => [sheet.name, sheet]));
  const now = new Set(after.map(({ name }) => name));
  const whole = (sheet: string, what: string): IssueChange => ({
    sheet,
    about: "the sheet",
    what,
    from: "",
    to: "",
    line: null,
  });
  return [
    ...after.flatMap((sheet) => {
      const was = old.get(sheet.name);
      return was === undefined ? [whole(sheet.name, "sheet added")] : rowChanges(was, sheet, show);
    }),
    ...before.filter(({ name }) => !now.has(name)).map(({ name }) => whole(name, "sheet removed")),
  ];
}

function rowChanges(before: IssuedSheet, after: IssuedSheet, show: ShownCell): readonly IssueChange[] {
  const { name: sheet } = after;
  const [old, now] = [byKey(before), byKey(after)];
  const change = (about: string, what: string, from: string, to: string): IssueChange => ({
    sheet,
    about,
    what,
    from,
    to,
    line: null,
  });
  // Columns are told by their headings, so that one more column is not a change of all behind it.
  const headings = [...new Set([...after.headings, ...before.headings])].filter(
    (heading) => !isToldOfLateral(sheet, heading),
  );
  const cell = (of: IssuedSheet, row: readonly string[], heading: string): string =>
    row[of.headings.indexOf(heading)] ?? "";
  const notes = after.notes.join("\n") === before.notes.join("\n");
  const added = headings.filter((heading) => !before.headings.includes(heading));
  const removed = headings.filter((heading) => !after.headings.includes(heading));
  const usual = new Map([
    ...added.map((heading) => [heading, usualIn(after, heading)] as const),
    ...removed.map((heading) => [heading, usualIn(before, heading)] as const),
  ]);
  const column = (heading: string): string => {
    const value = usual.get(heading) ?? "";
    return value === ""
      ? heading
      : `${heading}: ${show(sheet, heading, value)}, but where a row says otherwise`;
  };
  return [
    ...(notes ? [] : [change("notes", "text", before.notes.join(" "), after.notes.join(" "))]),
    ...added.map((heading) => change("columns", "column added", "", column(heading))),
    ...removed.map((heading) => change("columns", "column removed", column(heading), "")),
    ...[...now].flatMap(([key, row]) => {
      const was = old.get(key);
      if (was === undefined) return [change(aboutOf(key), "row added", "", shown(after, row, show))];
      return headings.flatMap((heading) => {
        const [from, to] = [cell(before, was, heading), cell(after, row, heading)];
        if (from === to || (usual.has(heading) && usual.get(heading) === (from === "" ? to : from)))
          return [];
        const [rounded, is] = [show(sheet, heading, from), show(sheet, heading, to)];
        // Where rounding hides the change, it is told as it is kept.
        return [
          rounded === is
            ? change(aboutOf(key), heading, from, to)
            : change(aboutOf(key), heading, rounded, is),
        ];
      });
    }),
    ...[...old].flatMap(([key, row]) =>
      now.has(key) ? [] : [change(aboutOf(key), "row removed", shown(before, row, show), "")],
    ),
  ];
}

/** The part of the bid that a row of quantities is in is its lateral's, which the lateral schedule tells once. */
const isToldOfLateral = (sheet: string, heading: string): boolean =>
  heading === "Part" && sheet.startsWith("Lateral quantities");

/**
 * What more than half of the rows hold in a column that comes or goes: it is told with the column, and only the rows that differ by
 * themselves. Null where there is no such value.
 */
function usualIn({ headings, rows }: IssuedSheet, heading: string): string | null {
  const at = headings.indexOf(heading);
  const count = new Map<string, number>();
  for (const row of rows) {
    const value = row[at] ?? "";
    count.set(value, (count.get(value) ?? 0) + 1);
  }
  const [most] = [...count].sort(([, a], [, b]) => b - a);
  return most !== undefined && 2 * most[1] > rows.length ? most[0] : null;
}

const BETWEEN = "\u0000";

/** Rows by what they are about; the second about the same thing is told apart by its number. */
function byKey({ rows, keys }: IssuedSheet): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, readonly string[]>();
  const count = new Map<string, number>();
  for (const row of rows) {
    const key = keys.map((column) => row[column] ?? "").join(BETWEEN);
    const number = (count.get(key) ?? 0) + 1;
    count.set(key, number);
    found.set(number === 1 ? key : `${key}${BETWEEN}(${number})`, row);
  }
  return found;
}

const aboutOf = (key: string): string =>
  key
    .split(BETWEEN)
    .filter((part) => part !== "")
    .join(", ");
/** A row with its headings; what it is about is told beside it. */
const shown = ({ name, headings, keys }: IssuedSheet, row: readonly string[], show: ShownCell): string =>
  row
    .flatMap((cell, i) =>
      cell === "" || keys.includes(i) ? [] : [`${headings[i]}: ${show(name, headings[i] ?? "", cell)}`],
    )
    .join(" | ");

import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type ChangeSet, type NumberedLine, numberedLine, readChangeSet } from "./change-sets.ts";
import { type LogForm, logHeading, readForm, readLine } from "./log-lines.ts";
import { DECISIONS_FILE } from "./program-files.ts";

/** What decisions.csv says, and what its next writer must know. */
export interface DecisionLog {
  /** Closed change sets, in order. */
  readonly sets: readonly ChangeSet[];
  /** `noted`: a torn end, which is not counted. `rejected`: damage; nothing is written until it is mended. */
  readonly problems: readonly Problem[];
  readonly nextId: number;
  readonly nextSet: number;
  /** Null while the file has no heading. */
  readonly form: LogForm | null;
  /** Bytes to keep: behind them stands what a kill left of an unfinished change. */
  readonly keep: number;
  /** Whether there is anything behind the bytes to keep. */
  readonly torn: boolean;
  /** Whether the bytes to keep end in a line end. */
  readonly endsLine: boolean;
  /** Lines among the bytes to keep. */
  readonly rows: number;
}

export const emptyLog: DecisionLog = {
  sets: [],
  problems: [],
  nextId: 1,
  nextSet: 1,
  form: null,
  keep: 0,
  torn: false,
  endsLine: true,
  rows: 0,
};

interface PhysicalLine {
  readonly row: number;
  readonly start: number;
  readonly end: number;
  /** Null when the bytes are no UTF-8. */
  readonly text: string | null;
  readonly ended: boolean;
}

interface Entry {
  readonly at: PhysicalLine;
  readonly found: NumberedLine | null;
}

/**
 * Reads the bytes of decisions.csv. Line ends, a byte order mark, the order of columns and rows, the delimiter and
 * quotes may be a spreadsheet's; a change set counts only when its closing line agrees with every cell.
 */
export function readLogBytes(bytes: Uint8Array): DecisionLog {
  const lines = physicalLines(bytes);
  const heading = lines[0];
  if (heading === undefined) return emptyLog;
  const form = heading.text === null ? null : readForm(heading.text, newlineOf(bytes, heading));
  if (form === null) return withoutHeading(heading, bytes.length);

  const entries = lines.slice(1).flatMap((at): Entry[] => {
    if (at.text !== null && /^[\s,;]*$/.test(at.text)) return [];
    const line = at.text === null ? null : readLine(at.text, form);
    return [{ at, found: line === null ? null : numberedLine(line, at.row) }];
  });

  const groups = groupBySet(entries);
  const closed = [...groups.values()].filter((group) => isClosed(group));
  const keep = closed.flat().reduce((end, { at }) => Math.max(end, at.end), heading.end);
  const torn = entries.filter(({ at }) => at.start >= keep);
  const kept = entries.filter(({ at }) => at.start < keep);

  const sets: ChangeSet[] = [];
  const problems: Problem[] = [];
  const ids = new Set<number>();
  for (const { at, found } of kept) {
    if (found === null)
      problems.push(damage(at.row, at.text ?? "bytes that are no UTF-8 text", "a whole record"));
    else if (ids.has(found.id)) problems.push(damage(at.row, `id ${found.id} again`, "each id once"));
    else ids.add(found.id);
  }
  for (const [number, group] of groups) {
    if (group.every(({ at }) => at.start >= keep)) continue;
    const row = group[0]?.at.row ?? null;
    const set = readChangeSet(numbered(group));
    if (set !== null) sets.push(set);
    else {
      const found = `change set ${number}, which is not as it was written`;
      problems.push(damage(row, found, "the records its closing line counts and its checksum covers"));
    }
  }
  if (torn.length > 0) problems.push(tornNote(torn[0]?.at.row ?? null, torn.length));

  const keptNumbers = kept.flatMap(({ found }) => (found === null ? [] : [found]));
  const end = torn.length > 0 ? keep : bytes.length;
  return {
    sets: sets.sort((a, b) => a.number - b.number),
    problems,
    nextId: 1 + keptNumbers.reduce((most, { id }) => Math.max(most, id), 0),
    nextSet: 1 + keptNumbers.reduce((most, { set }) => Math.max(most, set), 0),
    form,
    keep: end,
    torn: torn.length > 0,
    endsLine: bytes[end - 1] === NEWLINE,
    rows: lines.filter((line) => line.start < end).length,
  };
}

const NEWLINE = 10;

/** Lines are cut out of the bytes, so that a character cut in two spoils its own line only. */
function physicalLines(bytes: Uint8Array): readonly PhysicalLine[] {
  const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  const lines: PhysicalLine[] = [];
  for (let start = 0; start < bytes.length; ) {
    const found = bytes.indexOf(NEWLINE, start);
    const end = found === -1 ? bytes.length : found + 1;
    let text: string | null;
    try {
      text = decoder.decode(bytes.subarray(start, end)).replace(/\r?\n?$/, "");
      if (start === 0) text = text.replace(/^\ufeff/, "");
    } catch {
      text = null;
    }
    lines.push({ row: lines.length + 1, start, end, text, ended: found !== -1 });
    start = end;
  }
  return lines;
}

const newlineOf = (bytes: Uint8Array, line: PhysicalLine): "\n" | "\r\n" =>
  bytes[line.end - 2] === 13 ? "\r\n" : "\n";

function groupBySet(entries: readonly Entry[]): ReadonlyMap<number, readonly Entry[]> {
  const groups = new Map<number, Entry[]>();
  for (const entry of entries) {
    if (entry.found === null) continue;
    const group = groups.get(entry.found.set);
    if (group === undefined) groups.set(entry.found.set, [entry]);
    else group.push(entry);
  }
  // Sorting in a spreadsheet loses nothing: ids say the order.
  for (const group of groups.values()) group.sort((a, b) => a.found!.id - b.found!.id);
  return groups;
}

const numbered = (group: readonly Entry[]): readonly NumberedLine[] =>
  group.flatMap(({ found }) => (found === null ? [] : [found]));

/** A set with a closing line, even one that does not agree: unless that line itself is cut at the end of the file. */
function isClosed(group: readonly Entry[]): boolean {
  const close = group.find(({ found }) => found?.line.kind === "close");
  return close !== undefined && (close.at.ended || readChangeSet(numbered(group)) !== null);
}

/** A first line that is no heading: the start of ours, cut by a kill, or a file this program did not write. */
function withoutHeading(first: PhysicalLine, length: number): DecisionLog {
  const cut = first.text !== null && !first.ended && logHeading.startsWith(first.text);
  if (cut) return { ...emptyLog, problems: [tornNote(1, 1)], torn: true };
  const found = first.text ?? "bytes that are no UTF-8 text";
  const problem = damage(1, found, `a heading with the columns ${logHeading.trim()}`);
  return { ...emptyLog, problems: [problem], keep: length };
}

const damage = (row: number | null, found: string, expected: string): Problem => ({
  severity: "rejected",
  file: DECISIONS_FILE,
  row,
  column: null,
  found,
  expected,
  remedy:
    "It is not counted, and no decision is written until it is mended: put the file back as it was (text, UTF-8, commas), or take out every line of this change set and decide again.",
});

const tornNote = (row: number | null, count: number): Problem => ({
  severity: "noted",
  file: DECISIONS_FILE,
  row,
  column: null,
  found: `${showCount(count)} ${count === 1 ? "line" : "lines"} of a change that was never finished`,
  expected: "a closing line after each change",
  remedy:
    "The unfinished change is not counted; the next change keeps its lines aside in a file of their own.",
});

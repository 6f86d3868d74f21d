import { checksum, type LogLine } from "./log-lines.ts";

/** One value a person decided, as the log keeps it. */
export interface SetRecord {
  readonly id: number;
  readonly lateral: string;
  readonly column: string;
  /** The value as written, with its unit. */
  readonly value: string;
  readonly reason: string;
  /** Line of decisions.csv. */
  readonly row: number;
}

/** Records that count together or not at all. */
export type ChangeSet = {
  readonly number: number;
  readonly when: string;
  readonly who: string;
  readonly row: number;
} & (
  | { readonly kind: "set"; readonly records: readonly SetRecord[] }
  | { readonly kind: "undo" | "redo"; readonly target: number }
);

/** What a writer adds: decided values, or the number of the set to undo or redo. */
export type NewChange =
  | { readonly kind: "set"; readonly records: readonly Omit<SetRecord, "id" | "row">[] }
  | { readonly kind: "undo" | "redo"; readonly target: number };

/** Who made a change, and when (ISO 8601, UTC). */
export interface Stamp {
  readonly when: string;
  readonly who: string;
}

/** The lines of a change set: its records and its closing line, which carries their number and the checksum. */
export function changeSetLines(
  change: NewChange,
  stamp: Stamp,
  firstId: number,
  number: number,
): readonly LogLine[] {
  const blank = { target: "", lateral: "", column: "", value: "", reason: "", ...stamp };
  const given: readonly Partial<LogLine>[] =
    change.kind === "set" ? change.records : [{ target: String(change.target) }];
  const records = given.map(
    (record, i): LogLine => ({
      ...blank,
      ...record,
      id: String(firstId + i),
      change_set: String(number),
      kind: change.kind,
    }),
  );
  const open: LogLine = {
    ...blank,
    id: String(firstId + records.length),
    change_set: String(number),
    kind: "close",
    value: countText(records.length),
  };
  return [...records, { ...open, reason: checksum(records, open) }];
}

/** A line with its numbers read: what the log's reader groups by change set. */
export interface NumberedLine {
  readonly id: number;
  readonly set: number;
  readonly row: number;
  readonly line: LogLine;
}

/** A line whose numbers and kind are what this program writes; null for any other. */
export function numberedLine(line: LogLine, row: number): NumberedLine | null {
  const id = wholeNumber(line.id);
  const set = wholeNumber(line.change_set);
  if (id === null || set === null || !["set", "undo", "redo", "close"].includes(line.kind)) return null;
  return { id, set, row, line };
}

/**
 * The change set that these lines make, in order of their ids; null when they are not the ones that were written:
 * the closing line is not last, or its count or checksum does not agree.
 */
export function readChangeSet(lines: readonly NumberedLine[]): ChangeSet | null {
  const close = lines.at(-1);
  const records = lines.slice(0, -1);
  const first = records[0];
  if (close === undefined || first === undefined || close.line.kind !== "close") return null;
  if (close.line.value !== countText(records.length)) return null;
  const written = records.map((record) => record.line);
  if (close.line.reason !== checksum(written, close.line)) return null;
  const { when, who } = close.line;
  const head = { number: close.set, when, who, row: first.row };
  if (records.every((record) => record.line.kind === "set")) {
    return {
      ...head,
      kind: "set",
      records: records.map(({ id, row, line: { lateral, column, value, reason } }) => ({
        id,
        lateral,
        column,
        value,
        reason,
        row,
      })),
    };
  }
  const target = wholeNumber(first.line.target);
  const kind = first.line.kind;
  if (records.length !== 1 || target === null || (kind !== "undo" && kind !== "redo")) return null;
  return { ...head, kind, target };
}

const countText = (records: number): string => `${records} ${records === 1 ? "record" : "records"}`;

const wholeNumber = (text: string): number | null => (/^\d{1,15}$/.test(text) ? Number(text) : null);

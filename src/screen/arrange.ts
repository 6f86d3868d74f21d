import {
  type Arranging,
  type Group,
  type Grouping,
  HEADING,
  type Only,
  rowUnderCursor,
  type Session,
} from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** Up to so many rows an order is made before the key's frame is drawn: a few milliseconds. */
const AT_ONCE = 50_000;
/** Rows filtered between two looks at the keyboard. */
const ROWS_A_STEP = 100_000;

/**
 * The session with another order or filter, or in groups of a column. A big sheet is first drawn as it is and arranged
 * afterwards in steps, so that no key waits for a million rows.
 */
export function rearranged(
  session: Session,
  sheet: SheetView,
  before: Arranging["before"],
  groupBy: number | null = null,
): Session {
  const { pending } = session;
  const begun: Arranging = {
    kind: "arrange",
    done: 0,
    filtered: 0,
    kept: [],
    groupBy: groupBy ?? (pending?.kind === "arrange" ? pending.groupBy : null),
    before: pending?.kind === "arrange" ? pending.before : { sort: before.sort, only: before.only },
  };
  let next: Session = { ...session, pending: begun };
  if (sheet.rows <= AT_ONCE)
    while (next.pending?.kind === "arrange") next = arrangedOn(next, next.pending, sheet);
  return next;
}

/** One step on. */
export function arrangedOn(session: Session, pending: Arranging, sheet: SheetView): Session {
  const { only, sort, grouping } = session;
  const { groupBy } = pending;
  const by = groupBy ?? grouping?.column ?? null;
  const groups = [...(by === null ? [] : [by]), ...(only?.kind === "value" ? [only.column] : [])];
  const prepared = sheet.prepare({ sort, groups });
  if (prepared < 1) return { ...session, pending: { ...pending, done: 0.8 * prepared } };
  if (only !== null && pending.filtered < sheet.rows) {
    const to = Math.min(sheet.rows, pending.filtered + ROWS_A_STEP);
    const kept = [...pending.kept, keptBy(only, pending.filtered, to, sheet)];
    return { ...session, pending: { ...pending, filtered: to, kept, done: 0.8 + (0.2 * to) / sheet.rows } };
  }
  const arranged = inOrder(session, only === null ? null : joinedRows(pending.kept), sheet);
  return groupBy === null ? arranged : grouped(arranged, groupBy, null, sheet);
}

/** Back to the order and the filter that are on the screen still. */
export const stopped = (session: Session, { before }: Arranging): Session => ({
  ...session,
  ...before,
  pending: null,
  notice: "Stopped: the rows stay as they are.",
});

/** The rows that the order and the filter ask for, from the first on; people sort to see the extremes. */
function inOrder(session: Session, kept: Uint32Array | null, sheet: SheetView): Session {
  const rows =
    kept === null ? sheet.sorted(session.sort) : only(sheet.sorted(session.sort), kept, sheet.rows);
  const first: Session = {
    ...session,
    orderedAt: sheet.planned,
    kept,
    rows,
    order: rows,
    row: 0,
    top: 0,
    paneTop: 0,
    pending: null,
  };
  return session.grouping === null
    ? first
    : grouped(first, session.grouping.column, session.grouping.folded, sheet);
}

/** Those of the sorted rows that are kept. */
function only(sorted: Uint32Array, kept: Uint32Array, all: number): Uint32Array {
  const isKept = new Uint8Array(all);
  for (let i = 0; i < kept.length; i++) isKept[kept[i]!] = 1;
  const rows = new Uint32Array(kept.length);
  let count = 0;
  for (let i = 0; i < sorted.length; i++) if (isKept[sorted[i]!] === 1) rows[count++] = sorted[i]!;
  return rows;
}

/** The rows from `from` up to `to` that a filter keeps, rising. */
function keptBy(only: Only, from: number, to: number, sheet: SheetView): Uint32Array {
  if (only.kind === "formula") return sheet.formula.keeps(only.text, from, to);
  const keeps =
    only.kind === "named" ? sheet.filters[only.at]!.keeps : hasValue(sheet, only.column, only.text);
  const kept = new Uint32Array(to - from);
  let count = 0;
  for (let row = from; row < to; row++) if (keeps(row)) kept[count++] = row;
  return kept.slice(0, count);
}

function joinedRows(pieces: readonly Uint32Array[]): Uint32Array {
  const joined = new Uint32Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    joined.set(piece, at);
    at += piece.length;
  }
  return joined;
}

function hasValue(sheet: SheetView, column: number, text: string): (row: number) => boolean {
  const { codes, names } = sheet.groups(column);
  const code = names.indexOf(text);
  return (row) => codes[row] === code;
}

/** The rows by what a column says, each group under a heading. `folded` null folds all. */
function grouped(
  session: Session,
  column: number,
  folded: ReadonlySet<string> | null,
  sheet: SheetView,
): Session {
  const { codes, names, values } = sheet.groups(column);
  const counts = new Uint32Array(names.length + 1);
  const { rows: shown } = session;
  // By place: iterating over a million rows takes several times as long.
  const codeAt = new Uint32Array(shown.length);
  for (let i = 0; i < shown.length; i++) {
    const code = codes[shown[i]!]!;
    codeAt[i] = code;
    counts[code + 1]!++;
  }
  for (let code = 0; code < names.length; code++) counts[code + 1]! += counts[code]!;
  const inOrder = new Uint32Array(shown.length);
  const next = counts.slice();
  for (let i = 0; i < shown.length; i++) inOrder[next[codeAt[i]!]!++] = shown[i]!;
  // Numbers by what they are, and not by their digits; what is missing comes last.
  const precedes = (a: number, b: number): number =>
    Number(names[a] === "") - Number(names[b] === "") ||
    (values === undefined ? 0 : values[a]! - values[b]!) ||
    (names[a]! < names[b]! ? -1 : 1);
  const groups = [...names.keys()]
    .sort(precedes)
    .map((code): Group => ({ name: names[code]!, rows: inOrder.subarray(counts[code], counts[code + 1]) }))
    .filter(({ rows }) => rows.length > 0);
  return refolded(session, { column, groups, folded: folded ?? new Set(groups.map(({ name }) => name)) });
}

/** The lines of the grid for these groups; the cursor stays with its row, or with the group it is folded into. */
export function refolded(session: Session, grouping: Grouping): Session {
  const { groups, folded } = grouping;
  const row = rowUnderCursor(session);
  const here = session.order[session.row];
  const lines = groups.reduce((sum, { name, rows }) => sum + 1 + (folded.has(name) ? 0 : rows.length), 0);
  const order = new Uint32Array(lines);
  let at = 0;
  let cursor = 0;
  for (const [place, { name, rows }] of groups.entries()) {
    if (here === HEADING + place || (row !== null && folded.has(name) && rows.includes(row))) cursor = at;
    order[at++] = HEADING + place;
    if (folded.has(name)) continue;
    order.set(rows, at);
    if (row !== null) {
      const found = rows.indexOf(row);
      if (found >= 0) cursor = at + found;
    }
    at += rows.length;
  }
  return { ...session, grouping, order, row: cursor };
}

/** Back to rows without headings. */
export function ungrouped(session: Session): Session {
  const row = rowUnderCursor(session);
  const at = row === null ? -1 : session.rows.indexOf(row);
  return { ...session, grouping: null, order: session.rows, row: Math.max(0, at) };
}

/** The cursor on this row of the sheet; null when it is not among the rows shown. */
export function onRow(session: Session, row: number): Session | null {
  const at = session.order.indexOf(row);
  if (at >= 0) return { ...session, row: at, paneTop: 0 };
  const { grouping } = session;
  const group = grouping?.groups.find(({ rows }) => rows.includes(row));
  if (grouping === null || group === undefined) return null;
  const folded = new Set(grouping.folded);
  folded.delete(group.name);
  const open = refolded(session, { ...grouping, folded });
  return { ...open, row: open.order.indexOf(row), paneTop: 0 };
}

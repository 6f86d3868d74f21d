import { type Group, type Grouping, HEADING, type Only, rowUnderCursor, type Session } from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** Up to so many rows an order is made before the key's frame is drawn: a few milliseconds. */
const AT_ONCE = 50_000;

/**
 * The session with another order or filter. A big sheet is first drawn as it is and arranged afterwards, so that no
 * key waits for a million rows to be sorted.
 */
export function rearranged(session: Session, sheet: SheetView): Session {
  return sheet.rows <= AT_ONCE ? arranged(session, sheet) : { ...session, pending: { kind: "arrange" } };
}

/** The rows that the order and the filter ask for, from the first on; people sort to see the extremes. */
export function arranged(session: Session, sheet: SheetView): Session {
  const kept = session.only === null ? null : keptBy(session.only, sheet);
  const sorted = sheet.sorted(session.sort);
  let rows = sorted;
  if (kept !== null) {
    const isKept = new Uint8Array(sheet.rows);
    for (const row of kept) isKept[row] = 1;
    rows = sorted.filter((row) => isKept[row] === 1);
  }
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

function keptBy(only: Only, sheet: SheetView): Uint32Array {
  if (only.kind === "formula") return sheet.formula.keeps(only.text);
  const keeps =
    only.kind === "named"
      ? (row: number) => sheet.filters[only.at]!.keeps(row)
      : hasValue(sheet, only.column, only.text);
  const kept = new Uint32Array(sheet.rows);
  let count = 0;
  for (let row = 0; row < sheet.rows; row++) if (keeps(row)) kept[count++] = row;
  return kept.slice(0, count);
}

function hasValue(sheet: SheetView, column: number, text: string): (row: number) => boolean {
  const { codes, names } = sheet.groups(column);
  const code = names.indexOf(text);
  return (row) => codes[row] === code;
}

/** The rows by what a column says, each group under a heading. `folded` null folds all. */
export function grouped(
  session: Session,
  column: number,
  folded: ReadonlySet<string> | null,
  sheet: SheetView,
): Session {
  const { codes, names } = sheet.groups(column);
  const counts = new Uint32Array(names.length + 1);
  for (const row of session.rows) counts[codes[row]! + 1]!++;
  for (let code = 0; code < names.length; code++) counts[code + 1]! += counts[code]!;
  const inOrder = new Uint32Array(session.rows.length);
  const next = counts.slice();
  for (const row of session.rows) inOrder[next[codes[row]!]!++] = row;
  const groups = names
    .map((name, code): Group => ({ name, rows: inOrder.subarray(counts[code], counts[code + 1]) }))
    .filter(({ rows }) => rows.length > 0)
    .sort((a, b) => Number(a.name === "") - Number(b.name === "") || (a.name < b.name ? -1 : 1));
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

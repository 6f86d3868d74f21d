import { showCount } from "../quantity/show-quantity.ts";
import { cut, fitTo, visible, widthOf, wrap } from "./cell-text.ts";
import { drawGrid } from "./draw-grid.ts";
import { drawList, drawPrompt } from "./draw-prompt.ts";
import { bindings, keyLabel, type Showing } from "./keymap.ts";
import { isTooSmall, type Layout, layOut, SEPARATOR, SMALLEST } from "./layout.ts";
import { type Line, lineOf, padLine, span, textOfLine } from "./line.ts";
import { paneText } from "./pane-text.ts";
import { describeOnly, isList } from "./prompt.ts";
import { columnUnderCursor, groupOnLine, rowUnderCursor, type Session } from "./session.ts";
import type { SheetView, Size } from "./sheet-view.ts";

/** The whole window: exactly `size.rows` lines of at most `size.columns` cells. */
export function drawFrame(session: Session, sheet: SheetView, size: Size): readonly Line[] {
  if (isTooSmall(size)) return tooSmall(size);
  const { prompt, notice } = session;
  const layout = layOut(session.pane, size);
  const above = [
    title(session, sheet, size),
    ...(isList(prompt)
      ? drawList(session, sheet, { columns: size.columns, lines: size.rows - 4 })
      : body(session, sheet, layout)),
  ];
  if (prompt !== null) {
    const { lines, whole } = drawPrompt(session, prompt, sheet, size.columns);
    return [...over(above, whole), ...lines];
  }
  const below = [lineOf(joined(sheet.totals, size.columns), "bold"), cellInFull(session, sheet, size)];
  if (notice === null) return [...above, ...below, hints(session, sheet, layout, size)];
  const [last = [], ...before] = wrap(notice, size.columns)
    .map((text) => lineOf(text, "bold"))
    .reverse();
  return [...over([...above, ...below], before.reverse()), last];
}

/** The lines, and in the place of the last of them what is told whole. The title stays. */
const over = (lines: readonly Line[], told: readonly Line[]): readonly Line[] => {
  const shown = told.slice(0, lines.length - 1);
  return [...lines.slice(0, lines.length - shown.length), ...shown];
};

function tooSmall({ columns, rows }: Size): readonly Line[] {
  const words = `Window too small: ${SMALLEST.columns} × ${SMALLEST.rows} at least. q leaves.`;
  const lines = wrap(words, columns).map((text) => lineOf(text));
  return Array.from({ length: rows }, (_, i) => lines[i] ?? []);
}

/** From this width the title says in words what the cursor is on. */
const ROOMY = 70;

/** The program's name takes at most half of the line: the order and the place are what changes under somebody's hands. */
function title(session: Session, sheet: SheetView, { columns }: Size): Line {
  const { grouping } = session;
  const place = `${showCount(session.row + 1)} of ${showCount(session.order.length)}`;
  const what = grouping === null ? "lateral" : "line";
  const placed = columns < ROOMY ? place : `${what} ${place}`;
  const right = `  ${session.order.length === 0 ? "no laterals" : placed}`;
  const room = Math.max(0, columns - widthOf(right));
  const [name = "", ...more] = sheet.title;
  const only = session.only === null ? [] : [cut(describeOnly(session.only, sheet), Math.floor(columns / 2))];
  const by = grouping === null ? [] : [`in groups of ${sheet.columns[grouping.column]!.heading}`];
  const marked = session.marked.size === 0 ? [] : [`${showCount(session.marked.size)} marked`];
  const state = [
    ...(session.pending === null
      ? []
      : [
          session.pending.kind === "arrange"
            ? `arranging, ${Math.floor(100 * session.pending.done)} % (${keyLabel("escape")} stops)`
            : `looking (${keyLabel("escape")} stops)`,
        ]),
    // Before the plan is there everybody only looks, and what is said of the planning says so.
    ...(sheet.closedBecause === null || sheet.planned < 0 ? [] : ["read only"]),
    ...(sheet.stale === null ? [] : [sheet.stale]),
    ...(sheet.stale === null && session.orderedAt !== sheet.planned ? ["old order: b renews"] : []),
  ];
  const parts = [
    cut(name, Math.floor(columns / 2)),
    ...state,
    ...marked,
    ...only,
    ...by,
    describeOrder(session, sheet),
    ...more,
  ];
  return [span(fitTo(joined(parts, room), room, "left"), "bold"), span(right)];
}

/** `by Rank`, `by Cost, largest first`, `by District, Z to A`. */
function describeOrder({ sort }: Session, sheet: SheetView): string {
  return `by ${sort
    .map(({ column, descending }) => {
      const { heading, align } = sheet.columns[column]!;
      if (column === sheet.firstSort.column && descending === sheet.firstSort.descending) return heading;
      const words = align === "right" ? ["smallest first", "largest first"] : ["A to Z", "Z to A"];
      return `${heading}, ${words[descending ? 1 : 0]}`;
    })
    .join(", then ")}`;
}

function body(session: Session, sheet: SheetView, { grid, pane }: Layout): readonly Line[] {
  const gridLines = grid === null ? [] : drawGrid(session, sheet, grid);
  if (pane === null) return gridLines;
  const paneLines = drawPane(session, sheet, pane);
  return pane.place === "beside" && grid !== null
    ? gridLines.map((line, i) => [...padLine(line, grid.columns), span(SEPARATOR), ...(paneLines[i] ?? [])])
    : [...gridLines, ...paneLines];
}

/** The pane's title, which says where in the text one is and whether the arrows move it, and its lines. */
function drawPane(session: Session, sheet: SheetView, area: NonNullable<Layout["pane"]>): readonly Line[] {
  const { title: name, lines, links } = paneText(session, sheet, area);
  const high = area.lines - 1;
  const last = Math.min(session.paneTop + high, lines.length);
  const place =
    lines.length > high
      ? ` ${showCount(session.paneTop + 1)}–${showCount(last)} of ${showCount(lines.length)} ─`
      : "";
  const start = `─ ${cut(name, area.columns - widthOf(place) - 4)} `;
  const rule = "─".repeat(Math.max(0, area.columns - widthOf(start) - widthOf(place)));
  const chosen = session.focus === "pane" ? links?.[session.paneAt]?.line : undefined;
  const inView = lines
    .slice(session.paneTop, last)
    .map((line, i) => (session.paneTop + i === chosen ? withCursor(line) : line));
  return [
    lineOf(`${start}${rule}${place}`, session.focus === "pane" ? "reverse" : "bold"),
    ...inView,
    ...Array.from({ length: high - inView.length }, (): Line => []),
  ];
}

/** The line that Enter follows: a sign in its first cell, and reversed. */
const withCursor = (line: Line): Line => [span(`>${textOfLine(line).replace(/^ /, "")}`, "reverse")];

/** Everything about the cell under the cursor, which its column may be too narrow for. */
function cellInFull(session: Session, sheet: SheetView, { columns }: Size): Line {
  const group = groupOnLine(session, session.row);
  if (group !== null && session.grouping !== null) {
    const { heading } = sheet.columns[session.grouping.column]!;
    const total = sheet.total(group.rows, columnUnderCursor(session));
    const of = total === "" ? "" : `   ${sheet.columns[columnUnderCursor(session)]!.heading}: ${total}`;
    const name = group.name === "" ? "no value" : group.name;
    return lineOf(
      cut(
        `${heading} ${name}: ${showCount(group.rows.length)} laterals${of}   Enter folds and unfolds`,
        columns,
      ),
    );
  }
  const row = rowUnderCursor(session);
  if (row === null) {
    const why =
      session.only === null
        ? "No laterals. Press p for the problems found in the files."
        : "No lateral meets this filter. Press a for all laterals.";
    return lineOf(cut(why, columns));
  }
  const at = columnUnderCursor(session);
  const { heading, unit, help, filledBy } = sheet.columns[at]!;
  const reason = sheet.decided(row, at);
  const text = sheet.cell(row, at);
  const value = text === "" ? "no value" : unit === "" ? text : `${text} ${unit}`;
  const shown = cut(`${heading}: ${value}`, columns);
  const room = columns - widthOf(shown) - 3;
  const from = { city: "the city's", plan: "worked out", formula: "the program's own" }[filledBy];
  const words = reason === null ? `${from}: ${help}` : `* decided: ${reason}`;
  return [span(shown), ...(room < 12 ? [] : [span(`   ${cut(words, room)}`, "dim")])];
}

/** The keys that matter now; those that always do come first, for they are the last to give way to a narrow window. */
function hints(session: Session, sheet: SheetView, { grid, pane }: Layout, { columns }: Size): Line {
  const showing: Showing = pane === null ? "sheet" : grid === null ? "pane" : "both";
  const shown = bindings.filter(({ hint }) => hint?.when.includes(showing));
  const inOrder = shown.toSorted((a, b) => b.hint!.when.length - a.hint!.when.length);
  const leads =
    pane !== null && session.focus === "pane" && (paneText(session, sheet, pane).links?.length ?? 0) > 0;
  return lineOf(
    joined(
      [
        ...(leads ? [`${keyLabel("enter")} goes where the line leads`] : []),
        ...inOrder.map(({ keys, hint }) => `${keyLabel(keys[0]!)} ${hint!.words}`),
      ],
      columns,
    ),
    "dim",
  );
}

/** As many of the parts as fitTo, three blanks between, the first ones first. */
function joined(parts: readonly string[], width: number): string {
  let line = "";
  for (const part of parts) {
    const more = line === "" ? visible(part) : `${line}   ${visible(part)}`;
    if (widthOf(more) > width) return line === "" ? cut(more, width) : line;
    line = more;
  }
  return line;
}

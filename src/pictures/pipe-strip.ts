import type { SeenAlong } from "../plan/defects-along.ts";
import type { PipeStrip } from "../plan/explain-along.ts";
import { toShown } from "../quantity/measure.ts";
import { type NumberStyle, showQuantity, unitLabel } from "../quantity/show-quantity.ts";

/** The narrowest strip that can be read. */
export const NARROWEST_STRIP = 60;

/** Room for the name of each row. */
const NAMES = 12;

/** What is no defect and is drawn on the pipe itself. Letters of our own, each in the legend. */
const marks: Readonly<Record<string, readonly [letter: string, means: string]>> = {
  bend: ["B", "bend"],
  "size change": ["S", "change of size"],
  "material change": ["M", "change of material"],
  connection: ["C", "connection"],
  cleanout: ["O", "cleanout"],
};

const SEVERAL = "*";

/**
 * The pipe drawn along its length in plain letters: marks on it, defects as the digits of their grades, sections with
 * their letters, distances, and a legend of what is in it. The same without colour, in any type of fixed width.
 *
 * @param width letters of the longest line, {@link NARROWEST_STRIP} or more
 */
export function drawStrip(strip: PipeStrip, width: number): readonly string[] {
  if (!(Number.isInteger(width) && width >= NARROWEST_STRIP))
    throw new RangeError(`drawStrip needs ${NARROWEST_STRIP} whole letters or more, got ${width}`);
  const { style } = strip;
  const cells = width - NAMES;
  const scale = scaleOf(strip, style, cells);
  const structural = strip.seen.filter(({ mode, grade }) => mode === "structural" && grade !== 0);
  const others = strip.seen.filter(
    ({ mode, grade }) => (mode === "operation" || mode === "unknown") && grade !== 0,
  );
  const marked = strip.seen.filter(({ kind, mode }) => mode === "inventory" && kind in marks);
  const rows = [
    named("", endsOf(strip, cells)),
    named("pipe", pipeRow(marked, scale)),
    ...(structural.length === 0 ? [] : [named("structural", gradeRow(structural, scale))]),
    ...(others.length === 0 ? [] : [named("other", gradeRow(others, scale))]),
    ...sectionRows(strip, scale).map((row, i) => named(i === 0 ? "sections" : "", row)),
    named(unitLabel("length", style), numberRow(scale)),
  ];
  return [
    ...rows,
    ...strip.sections.flatMap((section, i) => sectionLines(strip, section, i, style, width)),
    ...joined(legendOf(structural, others, marked, scale), " · ", width),
  ].map((row) => row.trimEnd());
}

interface Scale {
  readonly cells: number;
  /** The cell of a place, the last one for the far end. */
  readonly cellOf: (at: number) => number;
  /** Where the distances are written, with their text. */
  readonly ticks: readonly { readonly cell: number; readonly text: string }[];
  readonly end: string;
}

const named = (name: string, row: string): string => `${name.padEnd(NAMES)}${row}`;

/** What is at each end: the connection with the main, and whether there is a cleanout at the house. */
function endsOf({ measuredFrom, cleanout, connectionGrade }: PipeStrip, cells: number): string {
  const grade = connectionGrade === null ? "" : `, connection grade ${connectionGrade}`;
  const access = cleanout === null ? "" : cleanout ? ", cleanout" : ", no cleanout";
  const [left, right] =
    measuredFrom === "main" ? [`main${grade}`, `house${access}`] : ["where the survey started", "other end"];
  return `${left}${right.padStart(cells - left.length)}`;
}

/** Steps of a scale, in the units shown, and the fewest cells from one to the next. */
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
const CELLS_A_STEP = 8;

function scaleOf({ length }: PipeStrip, style: NumberStyle, cells: number): Scale {
  const shown = toShown(length, "length", style.units);
  const cellOf = (at: number) => Math.min(cells - 1, Math.max(0, Math.floor((at / length) * cells)));
  const step = STEPS.find((each) => (each / shown) * cells >= CELLS_A_STEP) ?? shown;
  const end = shown.toFixed(1);
  const ticks = [];
  for (let i = 0; i * step < shown; i++) {
    const cell = cellOf((i * step * length) / shown);
    if (cell + String(i * step).length < cells - end.length) ticks.push({ cell, text: String(i * step) });
  }
  return { cells, cellOf, ticks, end };
}

function pipeRow(marked: readonly SeenAlong[], { cells, cellOf, ticks }: Scale): string {
  const row = Array.from({ length: cells }, () => "-");
  for (const { cell } of ticks) row[cell] = "+";
  row[0] = "|";
  row[cells - 1] = "|";
  const taken = new Map<number, string>();
  for (const { kind, from } of marked) {
    const cell = cellOf(from);
    const letter = marks[kind]![0];
    const other = taken.get(cell);
    taken.set(cell, other === undefined || other === letter ? letter : SEVERAL);
  }
  for (const [cell, letter] of taken) row[cell] = letter;
  return row.join("");
}

/** A defect over every cell that it touches; the worse grade wins. */
function gradeRow(defects: readonly SeenAlong[], { cells, cellOf }: Scale): string {
  const worst = Array.from({ length: cells }, () => Number.NaN);
  const NOT_GRADED = 0;
  for (const { from, to, grade } of defects) {
    for (let cell = cellOf(from); cell <= cellOf(to); cell++) {
      const before = worst[cell]!;
      const here = grade ?? NOT_GRADED;
      if (!(before >= here)) worst[cell] = here;
    }
  }
  return worst
    .map((grade) => (Number.isNaN(grade) ? " " : grade === NOT_GRADED ? "?" : String(grade)))
    .join("");
}

const letterOf = (i: number): string => "abcdefghijklmnopqrstuvwxyz"[i] ?? SEVERAL;

/** One row, or more where two sections share a cell. */
function sectionRows({ sections, length }: PipeStrip, { cells, cellOf }: Scale): readonly string[] {
  const rows: { text: string }[] = [];
  for (const [i, section] of sections.entries()) {
    const from = cellOf(section.start);
    const end = ((section.start + section.length) / length) * cells;
    const to = Math.min(cells, Math.max(from + 1, Math.round(end)));
    let row = rows.find(({ text }) => text.length <= from);
    if (row === undefined) {
      row = { text: "" };
      rows.push(row);
    }
    row.text = `${row.text.padEnd(from)}${bracketed(letterOf(i), to - from)}`;
  }
  return rows.map(({ text }) => text);
}

/** `[=a=]` over so many cells; only the letter where there is no room. */
function bracketed(letter: string, cells: number): string {
  if (cells < 3) return letter.repeat(cells);
  const left = Math.floor((cells - 3) / 2);
  return `[${"=".repeat(left)}${letter}${"=".repeat(cells - 3 - left)}]`;
}

function numberRow({ cells, ticks, end }: Scale): string {
  let row = "";
  for (const { cell, text } of ticks) if (cell >= row.length) row = `${row.padEnd(cell)}${text} `;
  return `${row.slice(0, cells - end.length).padEnd(cells - end.length)}${end}`;
}

function sectionLines(
  { seen }: PipeStrip,
  { start, length }: PipeStrip["sections"][number],
  i: number,
  style: NumberStyle,
  width: number,
): readonly string[] {
  const place = (at: number) => showQuantity(at, "length", style);
  const end = start + length;
  const over = seen.filter(
    ({ mode, grade, from, to }) =>
      mode !== "inventory" && grade !== null && grade > 0 && from >= start && to <= end,
  );
  const what = over.map(
    ({ kind, grade, from, to }) => `${kind} ${grade} at ${place(from)}${to > from ? ` to ${place(to)}` : ""}`,
  );
  const text = `${place(length)} from ${place(start)} to ${place(end)}: ${what.join("; ")}`;
  return folded(text, width - NAMES).map((part, j) => named(j === 0 ? `  section ${letterOf(i)}` : "", part));
}

function legendOf(
  structural: readonly SeenAlong[],
  others: readonly SeenAlong[],
  marked: readonly SeenAlong[],
  { cellOf }: Scale,
): readonly string[] {
  const used = Object.entries(marks).filter(([kind]) => marked.some((each) => each.kind === kind));
  const places = new Map(marked.map(({ from, kind }) => [cellOf(from), kind]));
  const shared = marked.some(({ from, kind }) => places.get(cellOf(from)) !== kind);
  const defects = [...structural, ...others];
  return [
    ...(defects.length === 0 ? [] : ["digits: grades, the worst where several share a place"]),
    ...(defects.some(({ grade }) => grade === null) ? ["? not graded"] : []),
    ...used.map(([, [letter, means]]) => `${letter} ${means}`),
    ...(shared ? [`${SEVERAL} several of them`] : []),
  ];
}

/** Broken at blanks into lines of at most so many letters. */
const folded = (text: string, width: number): readonly string[] => joined(text.split(" "), " ", width);

/** As many parts a line as fit, with this between them; a part longer than a line is cut. */
function joined(parts: readonly string[], between: string, width: number): readonly string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + between.length + part.length <= width)
      lines[lines.length - 1] = `${last}${between}${part}`;
    else lines.push(part.slice(0, width));
  }
  return lines;
}

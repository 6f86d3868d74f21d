import {
  CLASS_LETTERS,
  cellAt,
  frameOf,
  type MapFrame,
  type MapPoint,
  mapCells,
} from "../pictures/map-cells.ts";
import { districtName } from "../quantity/district-name.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import { wrap } from "./cell-text.ts";
import { type Line, lineOf, type Span, span } from "./line.ts";
import type { PaneRoom } from "./sheet-view.ts";

const CLASSES = 5;

/** The cells of a map, kept between two keys: only the cursor's mark moves. */
interface DrawnMap {
  readonly frame: MapFrame | null;
  readonly cells: Int8Array;
  readonly without: number;
  readonly shown: number;
}

/** Draws the laterals at their coordinates and remembers the map while the program stays as it is. */
export function mapDrawer(of: () => PlannedProgram): {
  get(row: number | null, room: PaneRoom): readonly Line[];
  forget(): void;
} {
  const known = new Map<string, DrawnMap>();
  return {
    get: (row, { columns, lines, zoomed }) => {
      const program = of();
      const district = zoomed && row !== null ? textAt(program.laterals, "district", row) : null;
      const legend = legendLines(program.laterals, row, district, columns);
      const high = Math.max(1, lines - legend.length);
      const key = `${columns} ${high} ${district}`;
      const map = known.get(key) ?? drawMap(program, district, columns, high);
      known.set(key, map);
      return [...mapLines(map, program.laterals, row, columns, high), ...legend, ...notDrawn(map, columns)];
    },
    forget: () => known.clear(),
  };
}

function drawMap(
  { laterals }: PlannedProgram,
  district: string | null,
  columns: number,
  lines: number,
): DrawnMap {
  const rows: number[] = [];
  let without = 0;
  let shown = 0;
  for (let row = 0; row < laterals.rows; row++) {
    if (district !== null && textAt(laterals, "district", row) !== district) continue;
    shown++;
    if (Number.isNaN(numberAt(laterals, "x", row) + numberAt(laterals, "y", row))) without++;
    else rows.push(row);
  }
  const at = (i: number): MapPoint => ({
    x: numberAt(laterals, "x", rows[i]!),
    y: numberAt(laterals, "y", rows[i]!),
    class: riskClass(laterals, rows[i]!),
  });
  const frame = frameOf(rows.length, at, columns, lines);
  return {
    frame,
    cells: frame === null ? new Int8Array(0) : mapCells(frame, rows.length, at),
    without,
    shown,
  };
}

/**
 * Fifths of the ranking, 5 the worst fifth: it needs no threshold of points, which nobody publishes and which a recipe
 * may move.
 */
export function riskClass(laterals: Table, row: number): number {
  if (Number.isNaN(numberAt(laterals, "risk", row))) return 0;
  const rank = numberAt(laterals, "rank", row);
  return CLASSES - Math.floor(((rank - 1) / laterals.rows) * CLASSES);
}

function mapLines(
  map: DrawnMap,
  laterals: Table,
  row: number | null,
  columns: number,
  lines: number,
): readonly Line[] {
  const { frame, cells } = map;
  if (frame === null)
    return wrap(
      "No lateral here has coordinates. Name their columns under laterals.columns in program.json: x and y.",
      columns,
    ).map((text) => lineOf(text));
  const here =
    row === null ? null : cellAt(frame, numberAt(laterals, "x", row), numberAt(laterals, "y", row));
  return Array.from({ length: lines }, (_, line): Line => {
    const spans: Span[] = [];
    let run = "";
    let look: Span["look"] = "plain";
    const flush = () => {
      if (run !== "") spans.push(span(run, look));
      run = "";
    };
    for (let column = 0; column < columns; column++) {
      const cell = line * columns + column;
      const own = cells[cell]!;
      const next: Span["look"] = cell === here ? "reverse" : own === CLASSES ? "bold" : "plain";
      if (next !== look) flush();
      look = next;
      run += cell === here ? "X" : own < 0 ? " " : CLASS_LETTERS[own]!;
    }
    flush();
    return spans;
  });
}

function legendLines(
  laterals: Table,
  row: number | null,
  district: string | null,
  columns: number,
): readonly Line[] {
  const lacks = row !== null && Number.isNaN(numberAt(laterals, "x", row) + numberAt(laterals, "y", row));
  const name = row === null ? "" : textAt(laterals, "lateral", row);
  const cursor = row === null ? "" : lacks ? `${name} has no coordinates. ` : `X ${name}. `;
  const where =
    district === null ? "z: only its district." : `District ${districtName(district)}; z: the whole city.`;
  return wrap(
    `${cursor}5 worst fifth of the ranking … 1 least; the worst where several share a cell. North is up. ${where}`,
    columns,
  ).map((text) => lineOf(text, "dim"));
}

const notDrawn = ({ without, shown, frame }: DrawnMap, columns: number): readonly Line[] =>
  without === 0 || frame === null
    ? []
    : wrap(
        `${showCount(without)} of ${showCount(shown)} laterals have no coordinates and are not drawn.`,
        columns,
      ).map((text) => lineOf(text, "dim"));

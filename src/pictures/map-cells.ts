/** A lateral on the map. */
export interface MapPoint {
  readonly x: number;
  readonly y: number;
  /** 1 to 5, 5 the worst; 0 where it is not known. */
  readonly class: number;
}

/** What a map shows: a rectangle of coordinates, north up, in so many cells. */
export interface MapFrame {
  readonly columns: number;
  readonly lines: number;
  readonly left: number;
  readonly top: number;
  /** Units of the coordinates a cell is wide; a cell is about twice as high as wide. */
  readonly cellWidth: number;
}

/** Cells of a terminal are about twice as high as wide; so a map is not stretched. */
const CELL_HEIGHT = 2;

/** The smallest frame that holds all points at one scale; null where no point has both coordinates. */
export function frameOf(
  count: number,
  at: (i: number) => MapPoint,
  columns: number,
  lines: number,
): MapFrame | null {
  if (!(Number.isInteger(columns) && columns > 0 && Number.isInteger(lines) && lines > 0))
    throw new RangeError(`frameOf needs whole cells above 0, got ${columns} by ${lines}`);
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    const { x, y } = at(i);
    if (!Number.isFinite(x) || !Number.isFinite(y)) continue;
    west = Math.min(west, x);
    east = Math.max(east, x);
    south = Math.min(south, y);
    north = Math.max(north, y);
  }
  if (west > east) return null;
  const wide = (east - west) / Math.max(1, columns - 1);
  const high = (north - south) / Math.max(1, lines - 1) / CELL_HEIGHT;
  const cellWidth = Math.max(wide, high) || 1;
  // In the middle of what is left over.
  const left = west - (columns * cellWidth - (east - west)) / 2;
  const top = north + (lines * cellWidth * CELL_HEIGHT - (north - south)) / 2;
  return { columns, lines, left, top, cellWidth };
}

/** The cell of a point; null outside of the frame or without coordinates. */
export function cellAt(
  { columns, lines, left, top, cellWidth }: MapFrame,
  x: number,
  y: number,
): number | null {
  const column = Math.floor((x - left) / cellWidth);
  const line = Math.floor((top - y) / (cellWidth * CELL_HEIGHT));
  return column >= 0 && column < columns && line >= 0 && line < lines ? line * columns + column : null;
}

/** Letters of the map: the class, 1 to 5; where several share a cell, the worst; `?` a lateral of no class. */
export const CLASS_LETTERS = "?12345";

/** The worst class in each cell, line by line; -1 for an empty one. */
export function mapCells(frame: MapFrame, count: number, at: (i: number) => MapPoint): Int8Array {
  const cells = new Int8Array(frame.columns * frame.lines).fill(-1);
  for (let i = 0; i < count; i++) {
    const { x, y, class: own } = at(i);
    const cell = cellAt(frame, x, y);
    if (cell === null) continue;
    if (CLASS_LETTERS[own] === undefined)
      throw new RangeError(`mapCells: a class lies in 0 … ${CLASS_LETTERS.length - 1}, got ${own}`);
    if (own > cells[cell]!) cells[cell] = own;
  }
  return cells;
}

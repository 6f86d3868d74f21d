import { METRES_PER_FOOT } from "../quantity/factors.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { plausibility } from "../reference/plausibility.ts";
import { numberAt, numbersOf, type Table } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** Metres of a degree of latitude, near enough to tell a city from another country. */
const METRES_A_DEGREE = 111_000;

/**
 * Takes as missing the coordinates that are no place in the city: 0/0, which many files write for none, and the few that lie nowhere near
 * all others. One such lateral would shrink the city to a dot on every map, and send a crew there.
 *
 * @param table just read: its columns are written into
 * @param units the program's: bare coordinates are taken to be in metres or feet, or in degrees where they may be
 */
export function refusePlaces(table: Table, units: UnitSystem, problems: ProblemList): void {
  const x = numbersOf(table, "x");
  const y = numbersOf(table, "y");
  const refuse = (row: number, found: string, expected: string, remedy: string) => {
    problems.add("rejected", numberAt(table, FILE_ROW, row), null, found, expected, remedy);
    x[row] = Number.NaN;
    y[row] = Number.NaN;
  };
  for (let row = 0; row < table.rows; row++)
    if (x[row] === 0 && y[row] === 0)
      refuse(
        row,
        "x 0, y 0",
        "coordinates of a place",
        "Taken as missing: the lateral is on no map. Write its coordinates, or leave both cells empty.",
      );
  const { farthest_m: farthest, share_of_laterals: share } = plausibility.place;
  const frame = frameOfMost(x, y);
  if (frame === null) return;
  const { atX, atY, usual } = frame;
  const inDegrees = Math.abs(atX) <= 180 && Math.abs(atY) <= 90;
  const metres = inDegrees ? METRES_A_DEGREE : units === "us" ? METRES_PER_FOOT : 1;
  const limit = Math.max(farthest / metres, plausibility.place.over_usual * usual);
  const far: number[] = [];
  const most = Math.max(1, share * table.rows);
  for (let row = 0; row < table.rows && far.length <= most; row++) {
    const [east, north] = [x[row]! - atX, y[row]! - atY];
    // Nearly all are near even by the way round the corner, which is soon told.
    if (Math.abs(east) + Math.abs(north) > limit && Math.hypot(east, north) > limit) far.push(row);
  }
  // Of more the city may have two parts.
  if (far.length > most) return;
  for (const row of far)
    refuse(
      row,
      `x ${x[row]}, y ${y[row]}`,
      `a place near the others, whose middle is x ${atX}, y ${atY}`,
      "It lies far outside of the city and is taken as missing: the lateral is on no map. Correct the coordinates.",
    );
}

/** Laterals looked at for where most of them are; of fewer than the least nobody can say. */
const MOST_ASKED = 10_000;
const LEAST = 4;

/** The middle of the laterals and the usual distance from it, by medians: a few wrong places move neither. Null of too few. */
function frameOfMost(x: Float64Array, y: Float64Array) {
  const every = Math.ceil(x.length / MOST_ASKED);
  const rows: number[] = [];
  for (let row = 0; row < x.length; row += every) if (!Number.isNaN(x[row]! + y[row]!)) rows.push(row);
  if (rows.length < LEAST) return null;
  const atX = median(rows.map((row) => x[row]!));
  const atY = median(rows.map((row) => y[row]!));
  return { atX, atY, usual: median(rows.map((row) => Math.hypot(x[row]! - atX, y[row]! - atY))) };
}

const median = (values: readonly number[]): number => Float64Array.from(values).sort()[values.length >> 1]!;

import type { InspectionFile } from "../columns/city-file.ts";
import { type DecimalMark, readNumber } from "../quantity/quantity-text.ts";
import { type CellProblem, refusedNumber } from "./cell-problem.ts";
import { plainDecimal } from "./plain-decimal.ts";

const WORST = 5;

/** A written number, NaN when it is none. */
export function numberIn(text: string, mark: DecimalMark): number {
  const plain = plainDecimal(text, mark);
  if (!Number.isNaN(plain)) return plain;
  const slow = readNumber(text, mark);
  return slow.ok ? slow.value : Number.NaN;
}

/**
 * A condition grade, turned to 5 = worst and 0 = no defect. By the city's worst grade w:
 *
 *   w = 5: g (0 to 5);   w = 1: 6 − g (1 to 5);   w = 0: 5 − g (0 to 5)
 *
 * On a scale from 1 (worst) a 0 is refused: cities use it for "no defect" and for "not rated", and taking one for
 * the other would hide a bad pipe. An empty cell is not a grade 0: nobody looked.
 */
export function readGrade(
  text: string,
  worst: InspectionFile["worstGrade"],
  mark: DecimalMark,
): number | CellProblem<number> {
  const grade = numberIn(text, mark);
  const best = worst === 1 ? 1 : 0;
  if (worst === 1 && grade === 0)
    return refusedNumber(
      "a whole grade from 1 (worst) to 5",
      "A 0 may mean no defect or not rated: write 5 for no defect, or empty the cell if it was not rated.",
    );
  const turned = gradeFrom(grade, worst);
  if (Number.isNaN(turned))
    return refusedNumber(
      `a whole grade from ${best} to 5`,
      "Write the grade as one digit, or leave the cell empty if it was not rated.",
    );
  return turned;
}

/**
 * The city's grade turned as in {@link readGrade}; NaN when its scale has no such grade. A scale with 0 the worst has five grades of defects,
 * 0 to 4, and 5 for none: so 4 is a defect, our 1, and only 5 is our 0.
 */
export function gradeFrom(grade: number, worst: InspectionFile["worstGrade"]): number {
  if (!Number.isInteger(grade) || grade < (worst === 1 ? 1 : 0) || grade > WORST) return Number.NaN;
  switch (worst) {
    case 5:
      return grade;
    case 1:
      return 6 - grade;
    case 0:
      return 5 - grade;
    default:
      return worst satisfies never;
  }
}

/** A whole number of things, with or without thousands marks. */
export function readCount(
  text: string,
  range: readonly [number, number],
  mark: DecimalMark,
): number | CellProblem<number> {
  const count = wholeWithin(numberIn(text, mark), range);
  if (Number.isNaN(count))
    return refusedNumber(
      `a whole number from ${range[0]} to ${range[1]}`,
      "Correct the number, or leave the cell empty.",
    );
  return count;
}

/** The number, NaN unless it is whole and in the range. */
export const wholeWithin = (number: number, range: readonly [number, number]): number =>
  Number.isInteger(number) ? numberWithin(number, range) : Number.NaN;

/** The number, NaN unless it is in the range. */
export const numberWithin = (number: number, range: readonly [number, number]): number =>
  number >= range[0] && number <= range[1] ? number : Number.NaN;

/** A turn in degrees, `45`, `45°` or `45 deg`. */
export function readDegrees(
  text: string,
  range: readonly [number, number],
  mark: DecimalMark,
): number | CellProblem<number> {
  const turn = numberWithin(numberIn(text.replace(/ *(°|deg\.?|degrees?)$/i, ""), mark), range);
  if (Number.isNaN(turn))
    return refusedNumber(
      `degrees from ${range[0]} to ${range[1]}`,
      "Write the turn as a plain number: 45 for a 1/8 bend, 22.5 for a 1/16 bend.",
    );
  return turn;
}

/** A coordinate in the city's own system: any number. Exponents are refused, because they come from lost digits. */
export function readCoordinate(text: string, mark: DecimalMark): number | CellProblem<number> {
  const coordinate = numberIn(text, mark);
  if (Number.isNaN(coordinate))
    return refusedNumber(
      "a coordinate as a plain number",
      "Export the column as plain numbers: degrees with decimals, or feet or metres of the city's grid.",
    );
  return coordinate;
}

import type { ForecastYear } from "../season/forecast.ts";

/** Years between two bars: twenty years then fit a window of 24 lines twice. */
const YEARS_A_BAR = 2;

/**
 * A forecast as stacked bars of terminal cells, one every other year: each cell holds the digit of its grade, so it reads the same
 * without colour. Cells of a bar are shared out by largest remainder and always fill the width.
 */
export function gradeBars(years: readonly ForecastYear[], width: number): readonly string[] {
  if (!(Number.isInteger(width) && width > 0))
    throw new RangeError(`gradeBars needs a width of whole cells above 0, got ${width}`);
  return years
    .filter(({ year }) => year % YEARS_A_BAR === 0)
    .map(({ year, expected }) => {
      const cells = shareCells(expected, width);
      return `year ${String(year).padStart(2)}  ${cells.map((n, grade) => String(grade).repeat(n)).join("")}`;
    });
}

/** Whole cells that sum to the width, in proportion; none where there is nothing to show. */
export function shareCells(parts: readonly number[], width: number): readonly number[] {
  const total = parts.reduce((sum, part) => sum + part, 0);
  if (!(total > 0)) return parts.map(() => 0);
  const exact = parts.map((part) => (part / total) * width);
  const cells = exact.map(Math.floor);
  const left = width - cells.reduce((sum, n) => sum + n, 0);
  const byRemainder = exact
    .map((value, i) => ({ i, remainder: value - Math.floor(value) }))
    .sort((a, b) => b.remainder - a.remainder || a.i - b.i);
  for (const { i } of byRemainder.slice(0, left)) cells[i]!++;
  return cells;
}

/** One point of a curve; a missing y leaves a gap. */
export interface CurveDot {
  readonly x: number;
  readonly y: number | null;
  /** Drawn with another letter: the knee, the amount of the season. */
  readonly mark?: string;
}

/** A curve in terminal cells: dots over their place along the width, lowest value at the bottom line, in `height` lines without axes. */
export function drawCurve(dots: readonly CurveDot[], width: number, height: number): readonly string[] {
  if (!(Number.isInteger(width) && width > 1 && Number.isInteger(height) && height > 1))
    throw new RangeError(
      `drawCurve needs a width and height of whole cells above 1, got ${width}, ${height}`,
    );
  const known = dots.filter((dot): dot is CurveDot & { readonly y: number } => dot.y !== null);
  const cells = Array.from({ length: height }, () => new Array<string>(width).fill(" "));
  const place = (value: number, least: number, most: number, count: number) =>
    most === least ? 0 : Math.round(((value - least) / (most - least)) * (count - 1));
  const xs = dots.map(({ x }) => x);
  const ys = known.map(({ y }) => y);
  for (const { x, y, mark } of known) {
    const column = place(x, Math.min(...xs), Math.max(...xs), width);
    const line = height - 1 - place(y, Math.min(...ys), Math.max(...ys), height);
    // A marked dot is not covered by a plain one.
    if (mark !== undefined || cells[line]![column] === " ") cells[line]![column] = mark ?? "●";
  }
  return cells.map((line) => line.join("").trimEnd());
}

import { INK, type Picture } from "./chart-svg.ts";
import { svgLabel } from "./svg-label.ts";

/** A value of a range, as a row of its own. */
export interface RangeRow {
  readonly name: string;
  readonly value: number;
  /** The value as people read it. */
  readonly shown: string;
  /** Of the plan itself, which is marked otherwise. */
  readonly isPlan?: true;
}

/** So little that a phone need not shrink it past reading. */
const WIDTH = 480;
/** Where names end, and between which marks lie; what they stand for is right of that. */
const [LEFT, RIGHT] = [124, 360];
const [TOP, LINE] = [12, 30];
/** From the middle of a row to the line its words stand on. */
const BELOW = 4.5;

/**
 * Values of one range under one another, each a mark on a common scale with its number beside it: no two words can lie on one another,
 * whatever the values are. The field from the least to the greatest that is not the plan's is shaded; the plan is a diamond and its line goes through all
 * rows. The scale begins at the least value, not at 0.
 */
export function rangeRows(rows: readonly RangeRow[], what: string): Picture {
  if (rows.length === 0) throw new RangeError("rangeRows needs a row");
  const values = rows.map(({ value }) => value);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const x = (value: number): number =>
    most === least ? LEFT : LEFT + ((value - least) / (most - least)) * (RIGHT - LEFT);
  const y = (i: number): number => TOP + LINE * (i + 0.5);
  const height = 2 * TOP + LINE * rows.length;
  const range = rows.filter(({ isPlan }) => isPlan !== true).map(({ value }) => x(value));
  const [from, to] = [Math.min(...range), Math.max(...range)];
  const field =
    range.length === 0
      ? ""
      : `<rect x="${place(from)}" y="${TOP}" width="${place(to - from)}" height="${height - 2 * TOP}" fill="#e7edf2"/>`;
  const plan = rows
    .filter(({ isPlan }) => isPlan === true)
    .map(
      ({ value }) =>
        `<path d="M${place(x(value))} ${TOP}V${height - TOP}" stroke="${INK}" stroke-dasharray="4 3"/>`,
    );
  const drawn = rows.map(({ name, value, shown, isPlan }, i) => {
    const [atX, atY] = [place(x(value)), y(i)];
    const mark =
      isPlan === true
        ? `<path d="M${atX} ${atY - 7}l7 7l-7 7l-7 -7z" fill="#ffffff" stroke="${INK}" stroke-width="2"/>`
        : `<circle cx="${atX}" cy="${atY}" r="6" fill="#0072b2" stroke="${INK}"/>`;
    return (
      `<path d="M${LEFT - 8} ${atY}H${atX}" stroke="#8c959f"/>${mark}` +
      `${svgLabel(LEFT - 16, atY + BELOW, name, "end")}${svgLabel(RIGHT + 16, atY + BELOW, shown)}`
    );
  });
  return {
    svg:
      `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}">` +
      `${field}${plan.join("")}${drawn.join("")}</svg>`,
    width: WIDTH,
    height,
    alt: `${what}: ${rows.map(({ name, shown }) => `${name} ${shown}`).join(", ")}.`,
  };
}

const place = (value: number): number => Math.round(value * 10) / 10;

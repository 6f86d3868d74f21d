import { showCount } from "../quantity/show-quantity.ts";
import { INK, type Picture } from "./chart-svg.ts";
import { svgLabel } from "./svg-label.ts";

/** A lateral on the map: degrees, and its class by index, 0 drawn last and on top. */
export interface Mark {
  readonly longitude: number;
  readonly latitude: number;
  readonly of: number;
}

/** How the marks of a class look: a shape as well as a colour. */
export interface MarkClass {
  readonly name: string;
  readonly shape: "triangle" | "square" | "diamond" | "circle" | "ring";
  readonly colour: string;
}

const WIDTH = 760;
const MARGIN = 16;
/** Between the least and the most that a page can use. */
const [LOWEST, HIGHEST] = [240, 620];
const LEGEND_LINE = 22;
/** Marks nearer to each other than this and of one class are drawn as one. */
const GRID = 2;
/** Metres of a degree of latitude, of a sphere of 6371 km: for the scale bar, good to half a percent. */
const METRES_A_DEGREE = (Math.PI / 180) * 6_371_000;

/**
 * The laterals as marks on a plain sheet, north up, with a scale bar: degrees of longitude are drawn as short as they are
 * in the middle of the map (equirectangular), which is true enough over a city. No base map: nothing is fetched.
 */
export function lateralMap(
  marks: readonly Mark[],
  classes: readonly MarkClass[],
  units: "us" | "si",
  what: string,
): Picture {
  if (marks.length === 0) throw new RangeError("lateralMap needs a mark");
  const [west, east] = ends(marks.map(({ longitude }) => longitude));
  const [south, north] = ends(marks.map(({ latitude }) => latitude));
  const shrink = Math.cos((((south + north) / 2) * Math.PI) / 180);
  const least = 50 / METRES_A_DEGREE;
  const [wide, high] = [Math.max((east - west) * shrink, least), Math.max(north - south, least)];
  const inner = WIDTH - 2 * MARGIN;
  const scale = Math.min(inner / wide, (HIGHEST - 2 * MARGIN) / high);
  const field = Math.max(LOWEST, high * scale + 2 * MARGIN);
  const x = (longitude: number) => WIDTH / 2 + (longitude - (west + east) / 2) * shrink * scale;
  const y = (latitude: number) => field / 2 - (latitude - (south + north) / 2) * scale;
  const drawn = new Set<string>();
  const shapes: string[] = [];
  for (let of = classes.length - 1; of >= 0; of--)
    for (const mark of marks) {
      if (mark.of !== of) continue;
      const [atX, atY] = [
        Math.round(x(mark.longitude) / GRID) * GRID,
        Math.round(y(mark.latitude) / GRID) * GRID,
      ];
      const key = `${of} ${atX} ${atY}`;
      if (drawn.has(key)) continue;
      drawn.add(key);
      shapes.push(shapeAt(classes[of]!, atX, atY));
    }
  const height = Math.round(field + 34 + LEGEND_LINE * classes.length);
  const counts = classes.map(
    ({ name }, of) => `${name}: ${showCount(marks.filter((mark) => mark.of === of).length)}`,
  );
  const legend = classes.map((each, i) => {
    const at = field + 40 + LEGEND_LINE * i;
    return `${shapeAt(each, MARGIN + 8, at - 4)}${svgLabel(MARGIN + 24, at, counts[i]!)}`;
  });
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}">` +
    `<rect x="0.5" y="0.5" width="${WIDTH - 1}" height="${Math.round(field) - 1}" fill="#ffffff" stroke="#57606a"/>` +
    `${shapes.join("")}${scaleBar(scale, field, units)}${legend.join("")}</svg>`;
  return {
    svg,
    width: WIDTH,
    height,
    alt: `Map: ${what}, north up. ${counts.join("; ")}.`,
  };
}

function ends(values: readonly number[]): readonly [number, number] {
  let [least, most] = [values[0]!, values[0]!];
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return [least, most];
}

function shapeAt({ shape, colour }: MarkClass, x: number, y: number): string {
  const edge = `fill="${colour}" stroke="${INK}" stroke-width="0.8"`;
  switch (shape) {
    case "triangle":
      return `<path d="M${x} ${y - 6}l6 10.5h-12z" ${edge}/>`;
    case "square":
      return `<rect x="${x - 4}" y="${y - 4}" width="8" height="8" ${edge}/>`;
    case "diamond":
      return `<path d="M${x} ${y - 6}l6 6l-6 6l-6 -6z" ${edge}/>`;
    case "circle":
      return `<circle cx="${x}" cy="${y}" r="3.5" ${edge}/>`;
    case "ring":
      return `<circle cx="${x}" cy="${y}" r="2.5" fill="#ffffff" stroke="${colour}" stroke-width="1.2"/>`;
    default:
      return shape satisfies never;
  }
}

/** A bar of a round length, at most a quarter of the map. */
function scaleBar(pixelsADegree: number, field: number, units: "us" | "si"): string {
  const metresAUnit = units === "us" ? 0.3048 : 1;
  const pixelsAUnit = (pixelsADegree / METRES_A_DEGREE) * metresAUnit;
  const most = WIDTH / 4 / pixelsAUnit;
  const power = 10 ** Math.floor(Math.log10(most));
  const length = [5, 2, 1].map((digit) => digit * power).find((each) => each <= most) ?? power;
  const [x, y] = [MARGIN, field + 14];
  const end = x + length * pixelsAUnit;
  return (
    `<path d="M${x} ${y - 5}v5H${end.toFixed(1)}v-5" fill="none" stroke="${INK}" stroke-width="1.5"/>` +
    svgLabel(end + 8, y, `${length} ${units === "us" ? "ft" : "m"}`) +
    `<path d="M${WIDTH - 24} ${y}v-12l-4 6m4 -6l4 6" fill="none" stroke="${INK}" stroke-width="1.5"/>` +
    svgLabel(WIDTH - 44, y, "N")
  );
}

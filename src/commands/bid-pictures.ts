import { createRequire } from "node:module";
import { Resvg } from "@resvg/resvg-js";
import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Picture } from "../pictures/chart-svg.ts";
import { lateralMap, type MarkClass } from "../pictures/lateral-map.ts";
import { barsChart } from "../pictures/plan-charts.ts";
import { toShown } from "../quantity/measure.ts";
import { showCount, unitLabel } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { textAt } from "../sheet/table.ts";
import type { BidView } from "../workbook/bid-view.ts";
import type { BidPicture } from "../workbook/pictures-sheet.ts";
import type { Place } from "./declared-system.ts";

/** Where the laterals are, by row, or why that is not known. */
export type Places = readonly (Place | null)[] | { readonly none: string };

/** Kinds of work on the map, each of a shape of its own. */
const classes: readonly MarkClass[] = [
  { name: "replaced", shape: "triangle", colour: "#a40000" },
  { name: "lined over the full length", shape: "square", colour: "#0072b2" },
  { name: "lined in sections or at the connection", shape: "circle", colour: "#e69f00" },
  { name: "inspected, cleaned or grouted", shape: "ring", colour: "#57606a" },
];

const classOf = (treatment: TreatmentKind): number => {
  if (treatment === "open-cut replacement" || treatment === "pipe bursting") return 0;
  if (treatment.startsWith("full-length") || treatment === "one-piece liner") return 1;
  return treatment.startsWith("sectional") || treatment === "connection liner" ? 2 : 3;
};

/** Districts of a chart; the rest is one bar. */
const MOST_BARS = 24;

/** The pictures of the bid book: from what bidders may see, and the places of the laterals that have paid work. */
export function bidPictures(view: BidView, program: PlannedProgram, places: Places): readonly BidPicture[] {
  return [mapOf(view, program, places), lengthsOf(view)];
}

function mapOf({ laterals, head }: BidView, program: PlannedProgram, places: Places): BidPicture {
  const title = "Map of the laterals";
  if ("none" in places) return { title, picture: null, drawing: "", words: `No map: ${places.none}` };
  const treatments = new Map([...laterals].map(({ id, treatment }) => [id, treatment]));
  const marks = places.flatMap((place, row) => {
    const treatment = treatments.get(textAt(program.laterals, "lateral", row));
    return place === null || treatment === undefined
      ? []
      : [{ longitude: place[0], latitude: place[1], of: classOf(treatment) }];
  });
  const without = treatments.size - marks.length;
  if (marks.length === 0)
    return { title, picture: null, drawing: "", words: "No map: no lateral with paid work has coordinates." };
  const map = lateralMap(marks, classes, head.units, "laterals with paid work by kind of work");
  const words = without > 0 ? ` ${without} more have no coordinates and are not on the map.` : "";
  return { title, picture: pngOf(map), drawing: map.svg, words: `${map.alt}${words}` };
}

function lengthsOf({ laterals, head }: BidView): BidPicture {
  const metres = new Map<string, number>();
  let unknown = 0;
  for (const { district, hostLength } of laterals) {
    if (hostLength === null) unknown += 1;
    else metres.set(district, (metres.get(district) ?? 0) + hostLength);
  }
  const all = [...metres].map(([name, length]) => ({ name, value: toShown(length, "length", head.units) }));
  const rest = all.slice(MOST_BARS);
  const bars = [
    ...all.slice(0, MOST_BARS),
    ...(rest.length === 0
      ? []
      : [{ name: `${rest.length} other districts`, value: rest.reduce((sum, { value }) => sum + value, 0) }]),
  ];
  const unit = unitLabel("length", head);
  const chart = barsChart(bars, unit, "length of the laterals with paid work by district", (value) =>
    value.toFixed(0),
  );
  const words = unknown > 0 ? ` ${showCount(unknown)} lateral(s) of unknown length are not in it.` : "";
  return {
    title: "Length by district",
    picture: pngOf(chart),
    drawing: chart.svg,
    words: `${chart.alt}${words}`,
  };
}

/** Pixels drawn for each one shown, so that print is sharp. */
const SHARPNESS = 2;
/** The picture fits the width of the columns above it. */
const SHOWN_WIDTH = 720;

/** Drawn with our own fonts only: the same on every machine. */
function pngOf({ svg, width, height }: Picture): NonNullable<BidPicture["picture"]> {
  const fonts = createRequire(import.meta.url).resolve("dejavu-fonts-ttf/ttf/DejaVuSans.ttf");
  const drawn = new Resvg(svg, {
    fitTo: { mode: "width", value: width * SHARPNESS },
    background: "#ffffff",
    font: { fontFiles: [fonts], loadSystemFonts: false, defaultFontFamily: "DejaVu Sans" },
  });
  const scale = Math.min(1, SHOWN_WIDTH / width);
  return {
    png: drawn.render().asPng(),
    width: Math.round(width * scale),
    height: Math.round(height * scale),
  };
}

import { BarChart, type BarSeriesOption, HeatmapChart, type HeatmapSeriesOption } from "echarts/charts";
import {
  AriaComponent,
  GridComponent,
  type GridComponentOption,
  LegendComponent,
  type LegendComponentOption,
  VisualMapComponent,
  type VisualMapComponentOption,
} from "echarts/components";
import { type ComposeOption, init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";
import { xmlText } from "../quantity/xml-text.ts";

use([BarChart, HeatmapChart, AriaComponent, GridComponent, LegendComponent, VisualMapComponent, SVGRenderer]);

export type ChartOption = ComposeOption<
  | BarSeriesOption
  | HeatmapSeriesOption
  | GridComponentOption
  | LegendComponentOption
  | VisualMapComponentOption
>;

/** A picture as SVG text, which stands alone: no script, nothing from elsewhere. */
export interface Picture {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** What it shows, for those who do not see it: what, and the figures that matter. */
  readonly alt: string;
}

/** A type that our own fonts have and every browser replaces by its own. */
export const FONT = "DejaVu Sans, Verdana, sans-serif";
export const INK = "#1f2328";

/** Four colours told apart by eyes of all kinds, dark to light; beside them every series has its own hatching. Okabe and Ito, 2008. */
export const SERIES_COLOURS = ["#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00"] as const;

/** A chart drawn without a screen. The same option gives the same bytes. */
export function drawChart(option: ChartOption, width: number, height: number, alt: string): Picture {
  const chart = init(null, null, { renderer: "svg", ssr: true, width, height });
  try {
    chart.setOption({
      animation: false,
      color: [...SERIES_COLOURS],
      textStyle: { fontFamily: FONT, color: INK, fontSize: 13 },
      ...option,
    });
    return { svg: xmlText(plain(chart.renderToSVGString())), width, height, alt };
  } finally {
    // A chart that is left open keeps the process alive.
    chart.dispose();
  }
}

/** Without what only a live chart needs; names of patterns count from one in each picture, not in each process. */
function plain(svg: string): string {
  return svg
    .replace(/ ecmeta_[a-z_]+="[^"]*"/g, "")
    .replace(/ class="zr\d+-cls-\d+"/g, "")
    .replace(/ pointer-events="[a-z]+"/g, "")
    .replace(/<style[^>]*>[\s\S]*?<\/style>/g, "")
    .replace(/\bzr\d+-/g, "picture-")
    .replace(/\n/g, "");
}

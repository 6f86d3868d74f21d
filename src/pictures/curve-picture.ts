import { LineChart } from "echarts/charts";
import { GridComponent, LegendComponent, TitleComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";
import { xmlText } from "../quantity/xml-text.ts";

use([LineChart, GridComponent, LegendComponent, TitleComponent, SVGRenderer]);

/** A curve to draw: its points as words beside their places, so that a date and money stand as they are shown elsewhere. */
export interface PicturedCurve {
  readonly title: string;
  readonly xName: string;
  readonly yName: string;
  readonly points: readonly {
    /** What stands under the point. */
    readonly label: string;
    /** In the unit of `yName`; null leaves a gap. */
    readonly y: number | null;
    readonly isKnee: boolean;
  }[];
  /** What it is called beside another one. */
  readonly name?: string;
  /** Another curve over the same points, drawn broken and with squares, so that no colour is needed to tell them apart. */
  readonly beside?: { readonly name: string; readonly ys: readonly (number | null)[] };
}

const WIDTH = 960;
const HEIGHT = 540;
/** Room under the axis, and what a letter and the way to the next label take of it. */
const AXIS_WIDTH = WIDTH - 150;
const LETTER = 7.2;
const BETWEEN = 14;

/** Every how many points a label fits. */
function labelInterval(labels: readonly string[]): number {
  const longest = labels.reduce((most, { length }) => Math.max(most, length), 1);
  const fitting = Math.max(2, Math.floor(AXIS_WIDTH / (longest * LETTER + BETWEEN)));
  return Math.max(0, Math.ceil(labels.length / fitting) - 1);
}
const INK = "#24303a";
const LINE = "#2b6ca3";
const KNEE = "#b5451b";
const BESIDE = "#7a4a9c";

/** The curve as SVG. The same curve gives the same text. */
export function pictureCurve({ title, xName, yName, points, name, beside }: PicturedCurve): string {
  const chart = init(null, null, { renderer: "svg", ssr: true, width: WIDTH, height: HEIGHT });
  try {
    chart.setOption({
      animation: false,
      textStyle: { fontFamily: "DejaVu Sans, sans-serif", color: INK },
      title: { text: title, left: 16, top: 10, textStyle: { fontSize: 16, color: INK } },
      ...(beside === undefined
        ? {}
        : { legend: { data: [name ?? "", beside.name], right: 24, top: 36, textStyle: { color: INK } } }),
      grid: { left: 110, right: 40, top: 70, bottom: 70 },
      xAxis: {
        type: "category",
        name: xName,
        nameLocation: "middle",
        nameGap: 40,
        data: points.map(({ label }) => label),
        axisLabel: { interval: labelInterval(points.map(({ label }) => label)), color: INK },
      },
      yAxis: { type: "value", name: yName, scale: true, axisLabel: { color: INK } },
      series: [
        {
          type: "line",
          ...(name === undefined ? {} : { name }),
          symbol: "circle",
          itemStyle: { color: LINE },
          silent: true,
          z: 4,
          // Beside another one an amount may be missing that nobody asked for; alone, a gap is where no season keeps the rules.
          connectNulls: beside !== undefined,
          lineStyle: { color: LINE, width: 2 },
          data: points.map(({ y, isKnee }) => ({
            value: y ?? "-",
            symbol: isKnee ? "diamond" : "circle",
            symbolSize: isKnee ? 14 : 7,
            itemStyle: { color: isKnee ? KNEE : LINE },
            label: { show: isKnee, formatter: "knee", position: "top", color: KNEE },
          })),
        },
        ...(beside === undefined
          ? []
          : [
              {
                type: "line" as const,
                name: beside.name,
                silent: true,
                connectNulls: true,
                // Larger and open, so that where both are one the other shows in it.
                symbol: "emptyRect",
                symbolSize: 13,
                lineStyle: { color: BESIDE, width: 2, type: "dashed" as const },
                itemStyle: { color: BESIDE },
                data: beside.ys.map((y) => y ?? "-"),
              },
            ]),
      ],
    });
    return xmlText(plainIds(chart.renderToSVGString()));
  } finally {
    chart.dispose();
  }
}

/** The library numbers what it names over all charts it has drawn: the names are numbered again, so that the same curve gives the same text. */
function plainIds(svg: string): string {
  const known = new Map<string, string>();
  return svg.replace(/\bzr\d+-[a-z]+-?\d+/g, (name) => {
    const plain = known.get(name) ?? `n${known.size}`;
    known.set(name, plain);
    return plain;
  });
}

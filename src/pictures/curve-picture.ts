import { LineChart } from "echarts/charts";
import { GridComponent, TitleComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";
import { xmlText } from "../quantity/xml-text.ts";

use([LineChart, GridComponent, TitleComponent, SVGRenderer]);

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
}

const WIDTH = 960;
const HEIGHT = 540;
/** Labels of an axis that fit its width. */
const LABELS = 9;
const INK = "#24303a";
const LINE = "#2b6ca3";
const KNEE = "#b5451b";

/** The curve as SVG. The same curve gives the same text. */
export function pictureCurve({ title, xName, yName, points }: PicturedCurve): string {
  const chart = init(null, null, { renderer: "svg", ssr: true, width: WIDTH, height: HEIGHT });
  try {
    chart.setOption({
      animation: false,
      textStyle: { fontFamily: "DejaVu Sans, sans-serif", color: INK },
      title: { text: title, left: 16, top: 10, textStyle: { fontSize: 16, color: INK } },
      grid: { left: 110, right: 40, top: 70, bottom: 70 },
      xAxis: {
        type: "category",
        name: xName,
        nameLocation: "middle",
        nameGap: 40,
        data: points.map(({ label }) => label),
        axisLabel: { interval: Math.max(0, Math.ceil(points.length / LABELS) - 1), color: INK },
      },
      yAxis: { type: "value", name: yName, scale: true, axisLabel: { color: INK } },
      series: [
        {
          type: "line",
          silent: true,
          connectNulls: false,
          lineStyle: { color: LINE, width: 2 },
          data: points.map(({ y, isKnee }) => ({
            value: y ?? "-",
            symbol: isKnee ? "diamond" : "circle",
            symbolSize: isKnee ? 14 : 7,
            itemStyle: { color: isKnee ? KNEE : LINE },
            label: { show: isKnee, formatter: "knee", position: "top", color: KNEE },
          })),
        },
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

import { FONT, INK } from "./chart-svg.ts";

/** A word beside a mark of a picture drawn by hand; `y` is the line it stands on. */
export const svgLabel = (x: number, y: number, text: string, anchor: "start" | "end" = "start"): string =>
  `<text x="${x}" y="${y}"${anchor === "end" ? ' text-anchor="end"' : ""} font-family="${FONT}" font-size="13" fill="${INK}">${escaped(text)}</text>`;

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");

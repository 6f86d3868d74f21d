import { showPercent } from "../quantity/percent.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { cut, fitTo, wrap } from "./cell-text.ts";
import { type Line, lineOf, span } from "./line.ts";
import type { RankingMoved } from "./pane-data.ts";
import type { PaneLink } from "./sheet-view.ts";

/** What moved, agreement first, then the laterals that moved farthest; each leads to its row. */
export function movedLines(
  { head, tauB, top, stay, overlap, movers, passed }: RankingMoved,
  rowOf: (id: string) => number | null,
  width: number,
): { readonly lines: readonly Line[]; readonly links: readonly PaneLink[] } {
  const say = (text: string, look: "plain" | "dim" = "plain") =>
    wrap(text, width).map((line) => lineOf(line, look));
  const share = overlap === null ? "none is selected" : showPercent(overlap, 1);
  const lines: Line[] = [
    ...head.flatMap((text) => say(text)),
    lineOf(""),
    ...say(
      `Agreement of the scores: Kendall's tau-b ${tauB === null ? "not defined" : tauB.toFixed(4)} (1: the same order)`,
    ),
    ...say(`First ${showCount(top)} with paid work: ${showCount(stay)} stay, overlap ${share}`),
    lineOf(""),
  ];
  if (movers.length === 0)
    return { lines: [...lines, ...say("No lateral moved by something of its own.")], links: [] };
  const idWidth = Math.min(24, Math.max(7, ...movers.map(({ id }) => id.length)));
  lines.push(
    lineOf(
      cut(
        `  ${fitTo("Lateral", idWidth, "left")} ${"Rank".padStart(15)} ${"Places".padStart(7)}  Why`,
        width,
      ),
      "bold",
    ),
  );
  const links: PaneLink[] = [];
  const signed = (value: number) =>
    value > 0 ? `+${showCount(value)}` : value < 0 ? `−${showCount(-value)}` : "0";
  for (const { id, from, to, places, selection, why } of movers) {
    const row = rowOf(id);
    if (row !== null) links.push({ line: lines.length, to: { kind: "lateral", row } });
    const start = `  ${fitTo(id, idWidth, "left")} ${`${showCount(from)} → ${showCount(to)}`.padStart(15)} ${signed(places).padStart(7)}  `;
    const words = [selection, why].filter((text) => text !== "").join("; ");
    const room = width - start.length;
    if (room < 16)
      lines.push(
        lineOf(cut(start.trimEnd(), width)),
        ...wrap(words, Math.max(1, width - 4)).map((text) => lineOf(`    ${text}`, "dim")),
      );
    else
      for (const [i, text] of (words === "" ? [""] : wrap(words, room)).entries())
        lines.push([span(i === 0 ? start : " ".repeat(start.length)), span(text, "dim")]);
  }
  lines.push(
    ...(passed === 0
      ? []
      : [lineOf(""), ...say(`${showCount(passed)} more moved only because others passed them.`, "dim")]),
  );
  return { lines, links };
}

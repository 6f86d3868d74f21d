import { drawStrip, NARROWEST_STRIP } from "../pictures/pipe-strip.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";
import { wrapped } from "./wrapped.ts";

const LABEL_WIDTH = 34;
const NOTE_INDENT = "  ".padEnd(LABEL_WIDTH + 5);
/** Wide enough for an equation, narrow enough to read and print. */
const PAGE_WIDTH = 110;
/** A drawing may be wider: it is looked along, not read. */
const DRAWING_WIDTH = 160;
const STRIP_INDENT = "  ";

/**
 * An explanation as plain text: a heading a stage, a line a value, its note below.
 *
 * @param columns letters that a line of the terminal holds; what is narrower than the page is the page
 */
export const explainedText = (stages: readonly ExplainedStage[], columns = PAGE_WIDTH): string => {
  const width = Math.min(columns, PAGE_WIDTH);
  const drawingWidth = Math.min(columns, DRAWING_WIDTH) - STRIP_INDENT.length;
  return stages
    .map(({ stage, lines, strip }) => {
      const drawn =
        strip === undefined || drawingWidth < NARROWEST_STRIP
          ? []
          : ["", ...drawStrip(strip, drawingWidth).map((row) => `${STRIP_INDENT}${row}`)];
      return [stage, ...lines.map((line) => lineText(line, width)), ...drawn].join("\n");
    })
    .join("\n\n");
};

function lineText({ label, value, origin, note }: ExplainedLine, width: number): string {
  const tag = origin === null ? "" : `  [${origin}]`;
  const lead = `  ${label.padEnd(LABEL_WIDTH)} `;
  const first = wrapped(`${value}${tag}`, lead, "  ".padEnd(LABEL_WIDTH + 3), width);
  return note === null || note === "" ? first : `${first}\n${wrapped(note, NOTE_INDENT, NOTE_INDENT, width)}`;
}

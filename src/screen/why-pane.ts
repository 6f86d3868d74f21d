import { drawStrip, NARROWEST_STRIP } from "../pictures/pipe-strip.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import type { PipeStrip } from "../plan/explain-along.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";
import { fitTo, wrap } from "./cell-text.ts";
import { type Line, lineOf, span } from "./line.ts";

/** Every stage of one lateral's plan: its values, where each comes from, and the equation or rule behind it. */
export function whyLines(stages: readonly ExplainedStage[], width: number): readonly Line[] {
  // Labels stand in one column; a longer one has a line of its own.
  const labels = Math.min(26, Math.floor(width * 0.42));
  return stages.flatMap(({ stage, lines, strip }, i) => [
    ...(i === 0 ? [] : [lineOf("")]),
    ...wrap(`${stage.slice(0, 1).toUpperCase()}${stage.slice(1)}`, width).map((text) => lineOf(text, "bold")),
    ...lines.flatMap((line) => explainedLines(line, labels, width)),
    ...(strip === undefined ? [] : stripLines(strip, width - INDENT)),
  ]);
}

const INDENT = 2;

/** The pipe drawn, where there is room for it. */
function stripLines(strip: PipeStrip, width: number): readonly Line[] {
  const rows =
    width < NARROWEST_STRIP
      ? wrap(`(the pipe is drawn in a window ${NARROWEST_STRIP + INDENT - width} columns wider)`, width)
      : drawStrip(strip, width);
  return [lineOf(""), ...rows.map((row) => lineOf(`${" ".repeat(INDENT)}${row}`))];
}

function explainedLines(
  { label, value, origin, note }: ExplainedLine,
  labels: number,
  width: number,
): readonly Line[] {
  const said = origin === null ? value : `${value} [${origin}]`;
  const beside = width - labels - INDENT - 1;
  const [head, ...more] = wrap(label, labels);
  const values = wrap(said, beside);
  const labelled = Array.from({ length: Math.max(values.length, more.length + 1) }, (_, i) => {
    const name = i === 0 ? head! : (more[i - 1] ?? "");
    return [span(`${" ".repeat(INDENT)}${fitTo(name, labels, "left")} ${values[i] ?? ""}`.trimEnd())];
  });
  const notes = note === null ? [] : wrap(note, width - 2 * INDENT);
  return [...labelled, ...notes.map((text) => lineOf(`${" ".repeat(2 * INDENT)}${text}`, "dim"))];
}

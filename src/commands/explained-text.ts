import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";
import { wrapped } from "./wrapped.ts";

const LABEL_WIDTH = 34;
const NOTE_INDENT = "  ".padEnd(LABEL_WIDTH + 5);
/** Wide enough for an equation, narrow enough to read and print. */
const PAGE_WIDTH = 110;

/**
 * An explanation as plain text: a heading a stage, a line a value, its note below.
 *
 * @param columns letters that a line of the terminal holds; what is narrower than the page is the page
 */
export const explainedText = (stages: readonly ExplainedStage[], columns = PAGE_WIDTH): string => {
  const width = Math.min(columns, PAGE_WIDTH);
  return stages
    .map(({ stage, lines }) => `${stage}\n${lines.map((line) => lineText(line, width)).join("\n")}`)
    .join("\n\n");
};

function lineText({ label, value, origin, note }: ExplainedLine, width: number): string {
  const tag = origin === null ? "" : `  [${origin}]`;
  const lead = `  ${label.padEnd(LABEL_WIDTH)} `;
  const first = wrapped(`${value}${tag}`, lead, "  ".padEnd(LABEL_WIDTH + 3), width);
  return note === null || note === "" ? first : `${first}\n${wrapped(note, NOTE_INDENT, NOTE_INDENT, width)}`;
}

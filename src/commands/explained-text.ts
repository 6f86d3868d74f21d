import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";

const LABEL_WIDTH = 34;
const NOTE_INDENT = "  ".padEnd(LABEL_WIDTH + 5);
/** Wide enough for an equation, narrow enough to read and print. */
const PAGE_WIDTH = 110;

/** An explanation as plain text: a heading a stage, a line a value, its note below. */
export const explainedText = (stages: readonly ExplainedStage[]): string =>
  stages.map(({ stage, lines }) => `${stage}\n${lines.map(lineText).join("\n")}`).join("\n\n");

function lineText({ label, value, origin, note }: ExplainedLine): string {
  const tag = origin === null ? "" : `  [${origin}]`;
  const first = wrapped(`${value}${tag}`, `  ${label.padEnd(LABEL_WIDTH)} `, "  ".padEnd(LABEL_WIDTH + 3));
  return note === null || note === "" ? first : `${first}\n${wrapped(note, NOTE_INDENT, NOTE_INDENT)}`;
}

/** Words put into lines of the page, the first behind `lead`, the others behind `indent`. */
function wrapped(text: string, lead: string, indent: string): string {
  const lines: string[] = [];
  let line = lead;
  let empty = true;
  for (const word of text.split(" ")) {
    if (!empty && line.length + 1 + word.length > PAGE_WIDTH) {
      lines.push(line);
      line = indent;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line].join("\n");
}

import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";

const LABEL_WIDTH = 34;

/** An explanation as plain text: a heading a stage, a line a value, its note below. */
export const explainedText = (stages: readonly ExplainedStage[]): string =>
  stages.map(({ stage, lines }) => `${stage}\n${lines.map(lineText).join("\n")}`).join("\n\n");

function lineText({ label, value, origin, note }: ExplainedLine): string {
  const tag = origin === null ? "" : `  [${origin}]`;
  const first = `  ${label.padEnd(LABEL_WIDTH)} ${value}${tag}`;
  return note === null ? first : `${first}\n  ${" ".repeat(LABEL_WIDTH)}   ${note}`;
}

import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";
import type { Citations } from "./source-citations.ts";

/** Prints on a page in a fixed-width type of usual size. */
const PAGE_WIDTH = 98;
const LABEL_WIDTH = 25;
const INDENT = " ".repeat(LABEL_WIDTH + 3);

/** A calculation sheet as plain text: a heading a stage, a value a line, sources by number. */
export function sheetText(title: string, stages: readonly ExplainedStage[], citations: Citations): string {
  const body = stages.map(
    ({ stage, lines }) => `${stage}\n${lines.map((found) => lineText(found, citations)).join("\n")}`,
  );
  const sources = citations
    .list()
    .map((source, i) => wrapped(source, `  ${`[${i + 1}]`.padEnd(5)}`, " ".repeat(7)));
  return [wrapped(title, "", "  "), ...body, `Sources\n${sources.join("\n")}`].join("\n");
}

function lineText({ label, value, origin, note }: ExplainedLine, citations: Citations): string {
  const parts = [value, origin === null ? "" : `(${origin})`, note === null ? "" : note];
  const text = citations.cite(parts.filter((part) => part !== "").join("  "));
  return wrapped(text, `  ${label.padEnd(LABEL_WIDTH)} `, INDENT);
}

/** Words put into lines of the page, the first behind `lead`, the others behind `indent`. */
function wrapped(text: string, lead: string, indent: string): string {
  const lines: string[] = [];
  let line = lead;
  let isBare = true;
  for (const word of text.split(" ")) {
    if (!isBare && line.length + 1 + word.length > PAGE_WIDTH) {
      lines.push(line.trimEnd());
      line = indent;
      isBare = true;
    }
    line += isBare ? word : ` ${word}`;
    isBare = false;
  }
  return [...lines, line.trimEnd()].join("\n");
}

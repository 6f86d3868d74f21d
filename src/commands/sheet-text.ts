import type { ExplainedStage } from "../plan/explain.ts";
import type { ExplainedLine } from "../plan/explained-line.ts";
import type { Citations } from "./source-citations.ts";
import { wrapped } from "./wrapped.ts";

/** Prints on a page in a fixed-width type of usual size. */
const PAGE_WIDTH = 100;
const LABEL_WIDTH = 21;
const INDENT = " ".repeat(LABEL_WIDTH + 3);

/** A calculation sheet as plain text: a heading a stage, a value a line, sources by number in one paragraph. */
export function sheetText(title: string, stages: readonly ExplainedStage[], citations: Citations): string {
  const body = stages.map(
    ({ stage, lines }) =>
      `${wrapped(citations.cite(stage), "", "  ", PAGE_WIDTH)}\n${together(lines)
        .map((found) => lineText(found, citations))
        .join("\n")}`,
  );
  const sources = citations.list().map((source, i) => `[${i + 1}] ${source.replace(/\.?$/, ".")}`);
  return [
    wrapped(title, "", "  ", PAGE_WIDTH),
    ...body,
    `Sources\n${wrapped(sources.join(" "), "  ", "  ", PAGE_WIDTH)}`,
  ].join("\n");
}

/** Lines of sources one after another share one line. */
function together(lines: readonly ExplainedLine[]): readonly ExplainedLine[] {
  const joined: ExplainedLine[] = [];
  for (const found of lines) {
    const last = joined.at(-1);
    if (last?.label === "source" && found.label === "source")
      joined[joined.length - 1] = { ...last, value: `${last.value} ${found.value}` };
    else joined.push(found);
  }
  return joined;
}

function lineText({ label, value, origin, note }: ExplainedLine, citations: Citations): string {
  const shown = citations.cite(origin === null ? value : `${value} (${origin})`);
  const said = note === null ? "" : citations.cite(note);
  const between = said === "" ? "" : /^[[◀]/.test(said) ? " " : "; ";
  return wrapped(`${shown}${between}${said}`, `  ${label.padEnd(LABEL_WIDTH)} `, INDENT, PAGE_WIDTH);
}

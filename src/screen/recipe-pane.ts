import { cut, wrap } from "./cell-text.ts";
import { type Line, lineOf, span } from "./line.ts";
import { movedLines } from "./moved-pane.ts";
import type { RecipeSeen } from "./pane-data.ts";
import type { PaneLink } from "./sheet-view.ts";

const LABEL = 22;
const NOT_YET = "What it would move is still being worked out; then it can be accepted.";

/** The recipe of the ranking, each value open to change; a change that is tried shows what it would move before it is accepted. */
export function recipeLines(
  { parts, trial }: RecipeSeen,
  rowOf: (id: string) => number | null,
  width: number,
): { readonly lines: readonly Line[]; readonly links: readonly PaneLink[] } {
  const lines: Line[] = [];
  const links: PaneLink[] = [];
  const say = (text: string, look: "plain" | "dim" | "bold" = "plain") =>
    wrap(text, width).map((line) => lineOf(line, look));
  const leading = (to: PaneLink["to"], label: string, text: string) => {
    links.push({ line: lines.length, to });
    const room = Math.max(1, width - LABEL - 3);
    const wrapped = text === "" ? [""] : wrap(text, room);
    for (const [i, part] of wrapped.entries())
      lines.push([span(`  ${cut(i === 0 ? label : "", LABEL).padEnd(LABEL)} `, "bold"), span(part)]);
  };
  if (trial !== null) {
    const { item, text, moved } = trial;
    lines.push(...say("Tried, not accepted", "bold"));
    lines.push(...say(`${item.label}: ${item.text || item.empty} → ${text || item.empty}`));
    switch (moved.kind) {
      case "working":
        lines.push(...say("working: the whole ranking is planned with it …", "dim"));
        // The lines stand as they will: who presses Enter as the answer comes has the same line under the cursor.
        leading(
          { kind: "accept trial", notYet: NOT_YET },
          "accept it",
          "once it is known what it would move",
        );
        leading({ kind: "drop trial" }, "leave it", "nothing changes");
        break;
      case "none":
        lines.push(...refusal(`It cannot be taken. ${moved.because}`, width));
        leading({ kind: "drop trial" }, "leave it", "nothing changes");
        break;
      case "known": {
        leading(
          { kind: "accept trial" },
          "accept it",
          "program.json is changed and the whole planned anew; a run is saved before",
        );
        leading({ kind: "drop trial" }, "leave it", "nothing changes");
        lines.push(lineOf(""));
        const shown = movedLines(moved.value, rowOf, width);
        links.push(...shown.links.map((link) => ({ ...link, line: link.line + lines.length })));
        lines.push(...shown.lines);
        break;
      }
      default:
        moved satisfies never;
    }
    lines.push(lineOf(""));
  } else
    lines.push(
      ...say(
        "Enter on a value changes it on trial: what it would move is shown before it is accepted.",
        "dim",
      ),
      lineOf(""),
    );
  for (const { heading, items } of parts) {
    lines.push(...say(heading, "bold"));
    for (const item of items) leading({ kind: "recipe item", item }, item.label, item.text || item.empty);
    lines.push(lineOf(""));
  }
  return { lines, links };
}

/** Words are wrapped; a formula and the sign under its character, which are indented, stay under each other. */
const refusal = (because: string, width: number): readonly Line[] =>
  because
    .split("\n")
    .flatMap((text) => (text.startsWith(" ") ? [cut(text, width)] : wrap(text, width)))
    .map((text) => lineOf(text));

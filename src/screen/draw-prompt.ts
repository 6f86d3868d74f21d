import { showCount } from "../quantity/show-quantity.ts";
import { cut, endWithin, fitTo, headOf, visible, widthOf, wrap } from "./cell-text.ts";
import { choices, completionsFor, valueMeant } from "./choices.ts";
import type { Area } from "./layout.ts";
import { type Line, lineOf, type Span, span } from "./line.ts";
import type { Prompt } from "./prompt.ts";
import type { Session } from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** What stands below the sheet while something is typed. */
export interface DrawnPrompt {
  /** What could be typed, what is, and what it would be taken as. */
  readonly lines: readonly [Line, Line, Line];
  /** What is wrong, where the last line has no room for all of it: over the end of the sheet, so that what is typed keeps its place. */
  readonly whole: readonly Line[];
}

export function drawPrompt(session: Session, prompt: Prompt, sheet: SheetView, columns: number): DrawnPrompt {
  const label = `${cut(labelOf(prompt, sheet), Math.max(8, Math.floor(columns / 2)))}: `;
  const { line, start } = typedLine(label, prompt, columns);
  const verdict = verdictOn(prompt, sheet);
  const last = message(prompt, verdict, label, start, columns);
  const isWhole = verdict === null || verdict.ok || last.includes(visible(verdict.words));
  return {
    lines: [completionLine(session, prompt, sheet, columns), line, lineOf(last)],
    whole: isWhole ? [] : wrap(verdict.words, columns).map((text) => lineOf(text, "bold")),
  };
}

/** Of the cost for each foot: cost / host_length alone would be a quantity for which there is no column. */
const EXAMPLE = "cost / (host_length / (1 ft))";

type Verdict =
  | { readonly ok: true; readonly takes: string }
  /** `at` is the character of a formula that is wrong. */
  | { readonly ok: false; readonly words: string; readonly at: number | null };

/** What the text would be taken as, or why it is not taken; null where there is nothing to say of it yet. */
function verdictOn(prompt: Prompt, sheet: SheetView): Verdict | null {
  const { purpose, text, refusal } = prompt;
  if (refusal !== null) return { ok: false, words: refusal, at: null };
  if (text.trim() === "") return null;
  switch (purpose.kind) {
    case "only":
    case "column formula": {
      const check = sheet.formula.check(text, purpose.kind === "only" ? "filter" : "column");
      return check.ok ? { ok: true, takes: `: gives ${check.gives}` } : check;
    }
    case "value": {
      const check = sheet.check(purpose.column, valueMeant(prompt, purpose.column, sheet));
      return check.ok ? { ok: true, takes: ` as ${check.shows}` } : { ...check, at: null };
    }
    default:
      return null;
  }
}

function labelOf({ purpose }: Prompt, sheet: SheetView): string {
  switch (purpose.kind) {
    case "find":
      return "Find";
    case "go to id":
      return "To the lateral";
    case "only":
      return "Only laterals for which";
    case "value": {
      const { heading } = sheet.columns[purpose.column]!;
      const [first = 0] = purpose.rows;
      const of =
        purpose.rows.length === 1
          ? sheet.cell(first, sheet.shownAtFirst[0]!)
          : `${showCount(purpose.rows.length)} marked laterals`;
      return `${heading} of ${of}`;
    }
    case "copies":
      return "Extend to how many laterals below";
    case "reason":
      return "Why";
    case "column name":
      return "Name of the new column";
    case "column formula":
      return purpose.name;
    case "recipe":
      return purpose.item.label;
    case "recipe reason":
      return "Why";
    case "actions":
      return "What to do";
    case "columns":
      return "Column";
    default:
      return purpose satisfies never;
  }
}

/** The label and as much of the text as fits, the place of the next character in reverse; `start` is where the shown text begins. */
function typedLine(
  label: string,
  { text, at, offered }: Prompt,
  columns: number,
): { line: Line; start: number } {
  const room = Math.max(4, columns - widthOf(label) - 1);
  if (text === "" && offered !== "") {
    return {
      line: [span(label, "bold"), span(" ", "reverse"), span(cut(`(Enter: ${offered})`, room), "dim")],
      start: 0,
    };
  }
  const start = endWithin(text.slice(0, at), room);
  const spans: Span[] = [span(label, "bold")];
  if (at > start) spans.push(span(text.slice(start, at)));
  const [next = " "] = text.slice(at, at + 2);
  spans.push(span(next, "reverse"));
  const left = room - widthOf(visible(text.slice(start, at))) - widthOf(visible(next));
  const rest = text.slice(at + (text.length > at ? next.length : 0));
  if (rest !== "" && left > 0) spans.push(span(cut(headOf(rest, left + 1), left)));
  return { line: spans, start };
}

function completionLine(session: Session, prompt: Prompt, sheet: SheetView, columns: number): Line {
  const found = completionsFor(session, sheet);
  if (found.length === 0) {
    const about = prompt.purpose.kind === "reason" ? prompt.purpose.about : "";
    return lineOf(cut(about, columns), "bold");
  }
  const spans: Span[] = [];
  let left = columns;
  const from = Math.max(0, prompt.choice - 1);
  for (const [i, { name, shows }] of found.slice(from).entries()) {
    const isChosen = from + i === prompt.choice;
    const text = isChosen ? `[${name}]${shows === "" ? "" : ` ${shows}`}  ` : ` ${name}   `;
    if (widthOf(visible(text)) > left) {
      if (isChosen) spans.push(span(cut(text, left), "bold"));
      break;
    }
    spans.push(span(text, isChosen ? "bold" : "dim"));
    left -= widthOf(visible(text));
  }
  return spans;
}

/** What the text would be taken as, or what is wrong with it, with a caret under the character. */
function message(
  { purpose, text }: Prompt,
  verdict: Verdict | null,
  label: string,
  start: number,
  columns: number,
): string {
  const keys = (words: string) => cut(`Enter ${words}   Esc leaves everything as it is`, columns);
  if (verdict !== null) {
    if (verdict.ok) return keys(`takes it${verdict.takes}`);
    if (verdict.at === null) return cut(verdict.words, columns);
    const before = widthOf(label) + widthOf(visible(text.slice(start, Math.max(start, verdict.at))));
    const caret = Math.min(before, columns - 1);
    const words = `^ ${verdict.words}`;
    if (columns - caret >= widthOf(visible(words)) || caret < columns / 3)
      return cut(" ".repeat(caret) + words, columns);
    // Not enough room to the right of the character: the words stand to its left.
    const shown = cut(verdict.words, caret - 1);
    return `${shown}${" ".repeat(caret - widthOf(shown))}^`;
  }
  switch (purpose.kind) {
    case "only":
      return keys("shows all");
    case "column formula":
      return cut(`A formula, as ${EXAMPLE}. Tab completes a name.`, columns);
    case "value":
      return keys("takes the value");
    case "find":
      return cut("Down and Up find the next and the one before   Enter stays   Esc goes back", columns);
    case "reason":
      return keys("decides");
    case "recipe":
      return cut(
        `Enter tries it, nothing is written yet   empty: ${purpose.item.empty}   Esc leaves it`,
        columns,
      );
    case "recipe reason":
      return keys("changes program.json");
    case "columns":
      return cut("Enter shows or hides it   Up and Down choose   Esc closes the list", columns);
    case "actions":
      return cut("Type words of it   Up and Down choose   Enter does it   Esc closes the list", columns);
    default:
      return keys("takes it");
  }
}

/** A list to choose from, over the whole sheet. */
export function drawList(session: Session, sheet: SheetView, area: Area): readonly Line[] {
  const { prompt } = session;
  const all = choices(session, sheet);
  const title = prompt?.purpose.kind === "columns" ? "Columns" : "Everything that can be done";
  const high = area.lines - 1;
  const choice = Math.min(prompt?.choice ?? 0, Math.max(0, all.length - 1));
  const top = Math.max(0, Math.min(choice - Math.floor(high / 2), all.length - high));
  const start = `─ ${title} (${showCount(all.length)}) `;
  const lines: Line[] = [
    lineOf(cut(start + "─".repeat(Math.max(0, area.columns - widthOf(start))), area.columns), "bold"),
  ];
  const noteWidth = Math.max(1, Math.min(32, Math.floor(area.columns / 3)));
  for (const [i, { label, note }] of all.slice(top, top + high).entries()) {
    const here = top + i === choice;
    const wide = Math.max(1, area.columns - noteWidth - 3);
    lines.push([
      span(here ? "> " : "  "),
      span(fitTo(label, wide, "left"), here ? "reverse" : "plain"),
      span(" "),
      span(cut(note, noteWidth), "dim"),
    ]);
  }
  while (lines.length < area.lines) lines.push([]);
  return lines;
}

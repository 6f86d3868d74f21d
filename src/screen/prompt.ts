import type { RecipeItem } from "./pane-data.ts";
import type { Asked, Only, Session } from "./session.ts";

/** What is being typed, and for what. */
export interface Prompt {
  readonly purpose: Purpose;
  readonly text: string;
  /** Where the next character goes, in UTF-16 units. */
  readonly at: number;
  /** Taken when nothing is typed. */
  readonly offered: string;
  /** Of the choices listed, the one Enter takes. */
  readonly choice: number;
  /** Why what was typed is not taken; until it is changed. */
  readonly refusal: string | null;
}

export type Purpose =
  /** `row` and `column` are where the cursor was, to go back to. */
  | { readonly kind: "find"; readonly row: number; readonly column: number }
  | { readonly kind: "go to id" }
  | { readonly kind: "only" }
  | { readonly kind: "value"; readonly column: number; readonly rows: readonly number[] }
  | { readonly kind: "copies"; readonly column: number; readonly row: number; readonly line: number }
  /** `about` says in words what is decided. */
  | { readonly kind: "reason"; readonly decisions: readonly Asked[]; readonly about: string }
  | { readonly kind: "column name" }
  | { readonly kind: "column formula"; readonly name: string }
  | { readonly kind: "recipe"; readonly item: RecipeItem }
  | { readonly kind: "recipe reason" }
  | { readonly kind: "actions" }
  | { readonly kind: "columns" };

export const promptFor = (purpose: Purpose, text = "", offered = ""): Prompt => ({
  purpose,
  text,
  at: text.length,
  offered,
  choice: 0,
  refusal: null,
});

/** Whether the choices of this prompt stand over the grid. */
export const isList = (prompt: Prompt | null): boolean =>
  prompt?.purpose.kind === "actions" || prompt?.purpose.kind === "columns";

/** Characters a prompt holds: as many as a formula may have. */
const LONGEST = 10_000;

/** The text with something else typed at the cursor. Line ends have no place in one line. What would be too long is not taken at all. */
export function typed(prompt: Prompt, text: string): Prompt {
  const { text: before, at } = prompt;
  if (before.length + text.length > LONGEST)
    return { ...prompt, refusal: `Not taken: with it the line would be longer than ${LONGEST} characters.` };
  const clean = text.replace(/[\r\n\t]+/g, " ");
  return changed(prompt, before.slice(0, at) + clean + before.slice(at), at + clean.length);
}

export function rubbedOut(prompt: Prompt, which: "before" | "after"): Prompt {
  const { text, at } = prompt;
  const start = which === "before" ? beforeOf(text, at) : at;
  const end = which === "before" ? at : afterOf(text, at);
  return changed(prompt, text.slice(0, start) + text.slice(end), start);
}

export function movedInText(prompt: Prompt, to: "left" | "right" | "start" | "end"): Prompt {
  const { text, at } = prompt;
  const place = { left: beforeOf(text, at), right: afterOf(text, at), start: 0, end: text.length }[to];
  return { ...prompt, at: place };
}

const changed = (prompt: Prompt, text: string, at: number): Prompt => ({
  ...prompt,
  text,
  at,
  choice: 0,
  refusal: null,
});

// What people call a character may be several code points: a letter and its marks go together.
const clusters = new Intl.Segmenter("en", { granularity: "grapheme" });

/** Characters around the cursor that are looked at: the segmenter reads the whole of what it is given, at every key. */
const NEAR = 256;

function beforeOf(text: string, at: number): number {
  const from = Math.max(0, at - NEAR);
  const last = clusters.segment(text.slice(from, at)).containing(at - from - 1);
  return last === undefined ? 0 : from + last.index;
}

function afterOf(text: string, at: number): number {
  const next = clusters.segment(text.slice(at, at + NEAR)).containing(0);
  return next === undefined ? text.length : at + next.segment.length;
}

/** The filter in words, for the title. */
export function describeOnly(
  only: Only,
  sheet: {
    readonly filters: readonly { readonly name: string }[];
    readonly columns: readonly { readonly heading: string }[];
  },
): string {
  switch (only.kind) {
    case "named":
      return `only ${sheet.filters[only.at]?.name}`;
    case "formula":
      return `only ${only.text}`;
    case "value":
      return `only ${sheet.columns[only.column]?.heading}: ${only.text === "" ? "no value" : only.text}`;
    default:
      return only satisfies never;
  }
}

/** A prompt over a session: keys are typed from now on. */
export const withPrompt = (session: Session, prompt: Prompt): Session => ({ ...session, prompt });

import type { KeyPress } from "./keys.ts";
import type { Action } from "./session.ts";

export const keyGroups = ["Moving", "Order", "Panes", "Program"] as const;

export interface Binding {
  readonly keys: readonly string[];
  readonly action: Action;
  readonly group: (typeof keyGroups)[number];
  /** What it does, for the help. */
  readonly words: string;
  /** One or two words for the line of keys at the bottom, and when they are shown there. */
  readonly hint?: { readonly words: string; readonly when: readonly Showing[] };
}

/** What the window shows: the sheet, the sheet and a pane, or a pane over the whole sheet. */
export type Showing = "sheet" | "both" | "pane";

const hint = (words: string, ...when: readonly Showing[]) => ({ words, when });

/** What each key does. The help and the line of keys are printed from this table. */
export const bindings: readonly Binding[] = [
  {
    keys: ["up"],
    action: { kind: "move rows", by: -1 },
    group: "Moving",
    words: "one lateral up; in a pane, one line",
  },
  {
    keys: ["down"],
    action: { kind: "move rows", by: 1 },
    group: "Moving",
    words: "one lateral down; in a pane, one line",
    hint: hint("scroll", "pane"),
  },
  {
    keys: ["left"],
    action: { kind: "move columns", by: -1 },
    group: "Moving",
    words: "one column to the left",
  },
  {
    keys: ["right"],
    action: { kind: "move columns", by: 1 },
    group: "Moving",
    words: "one column to the right",
  },
  { keys: ["page up"], action: { kind: "move pages", by: -1 }, group: "Moving", words: "one page up" },
  {
    keys: ["page down", "space"],
    action: { kind: "move pages", by: 1 },
    group: "Moving",
    words: "one page down",
  },
  { keys: ["home"], action: { kind: "go to column", end: "first" }, group: "Moving", words: "first column" },
  { keys: ["end"], action: { kind: "go to column", end: "last" }, group: "Moving", words: "last column" },
  {
    keys: ["ctrl+home", "ctrl+up"],
    action: { kind: "go to row", end: "first" },
    group: "Moving",
    words: "first lateral; in a pane, its beginning",
  },
  {
    keys: ["ctrl+end", "ctrl+down"],
    action: { kind: "go to row", end: "last" },
    group: "Moving",
    words: "last lateral; in a pane, its end",
  },
  {
    keys: ["s"],
    action: { kind: "sort by column" },
    group: "Order",
    words: "sort by the column under the cursor; again, the other way round",
    hint: hint("sort", "sheet"),
  },
  { keys: ["r"], action: { kind: "turn order round" }, group: "Order", words: "turn the order round" },
  {
    keys: ["o"],
    action: { kind: "order as at first" },
    group: "Order",
    words: "back to the order of rank",
    hint: hint("order of rank", "sheet"),
  },
  {
    keys: ["f"],
    action: { kind: "next filter" },
    group: "Order",
    words: "only the laterals of the program's next filter; after the last, all again",
  },
  {
    keys: ["w"],
    action: { kind: "show pane", pane: "why" },
    group: "Panes",
    words: "why the plan says what it says of this lateral",
    hint: hint("why", "sheet"),
  },
  {
    keys: ["d"],
    action: { kind: "show pane", pane: "districts" },
    group: "Panes",
    words: "totals of each district",
    hint: hint("districts", "sheet"),
  },
  {
    keys: ["p"],
    action: { kind: "show pane", pane: "problems" },
    group: "Panes",
    words: "problems found in the program's files",
    hint: hint("problems", "sheet"),
  },
  {
    keys: ["tab"],
    action: { kind: "change focus" },
    group: "Panes",
    words: "let the arrows move the pane's text, or the sheet again",
    hint: hint("sheet or pane", "both"),
  },
  {
    keys: ["escape"],
    action: { kind: "close pane" },
    group: "Panes",
    words: "close the pane",
    hint: hint("close", "both", "pane"),
  },
  {
    keys: ["?", "f1"],
    action: { kind: "show pane", pane: "help" },
    group: "Panes",
    words: "this help",
    hint: hint("help", "sheet", "both", "pane"),
  },
  { keys: ["ctrl+l"], action: { kind: "redraw" }, group: "Program", words: "draw the screen again" },
  {
    keys: ["q", "ctrl+c"],
    action: { kind: "leave" },
    group: "Program",
    words: "leave the sheet",
    hint: hint("leave", "sheet", "both", "pane"),
  },
];

const byKey = new Map(
  bindings.flatMap((binding) => binding.keys.map((key) => [key, binding.action] as const)),
);

/** What a key does; null for a key that does nothing here. A capital letter does what its small one does: Caps Lock is no command. */
export const actionOf = ({ key }: KeyPress): Action | null =>
  byKey.get(key) ?? byKey.get(key.toLowerCase()) ?? null;

/** A key as it is written on keyboards: `Ctrl+Home`, `Page Down`, `Esc`, `w`. */
export function keyLabel(key: string): string {
  return key
    .split("+")
    .map(
      (part) =>
        shortNames[part] ??
        (part.length === 1 ? part : part.replace(/\b[a-z]/g, (letter) => letter.toUpperCase())),
    )
    .join("+");
}

const shortNames: Readonly<Record<string, string>> = { escape: "Esc" };

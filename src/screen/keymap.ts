import type { KeyPress } from "./keys.ts";
import type { Action, PromptAction } from "./session.ts";

export const keyGroups = ["Moving", "Deciding", "Rows", "Columns", "Panes", "Program"] as const;

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
    keys: ["page down"],
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
    keys: ["i"],
    action: { kind: "ask", what: "go to id" },
    group: "Moving",
    words: "to the lateral of an id",
  },
  {
    keys: ["f"],
    action: { kind: "ask", what: "find" },
    group: "Moving",
    words: "find text in the columns shown, as you type it",
    hint: hint("find", "sheet"),
  },
  {
    keys: ["enter"],
    action: { kind: "enter" },
    group: "Deciding",
    words: "decide this value, of all marked laterals if any; fold a group; in a pane, go there",
    hint: hint("decide", "sheet", "both"),
  },
  {
    keys: ["backspace", "delete"],
    action: { kind: "as given" },
    group: "Deciding",
    words: "take the decision under the cursor back: as given",
  },
  {
    keys: ["m"],
    action: { kind: "mark row" },
    group: "Deciding",
    words: "mark this lateral, or take its mark away",
  },
  {
    keys: ["shift+down"],
    action: { kind: "mark and move", by: 1 },
    group: "Deciding",
    words: "mark this lateral and go down",
  },
  {
    keys: ["shift+up"],
    action: { kind: "mark and move", by: -1 },
    group: "Deciding",
    words: "mark this lateral and go up",
  },
  { keys: [], action: { kind: "mark all" }, group: "Deciding", words: "mark all laterals shown" },
  { keys: [], action: { kind: "unmark all" }, group: "Deciding", words: "take all marks away" },
  {
    keys: ["e"],
    action: { kind: "ask", what: "copies" },
    group: "Deciding",
    words: "extend this value to laterals below",
  },
  {
    keys: ["ctrl+z"],
    action: { kind: "undo" },
    group: "Deciding",
    words: "undo the last change of decisions",
    hint: hint("undo", "sheet"),
  },
  { keys: ["ctrl+y"], action: { kind: "redo" }, group: "Deciding", words: "redo what was undone last" },
  {
    keys: ["s"],
    action: { kind: "sort by column" },
    group: "Rows",
    words: "sort by the column under the cursor; again, the other way round",
    hint: hint("sort", "sheet"),
  },
  {
    keys: ["t"],
    action: { kind: "then by column" },
    group: "Rows",
    words: "then by this column, among laterals that are alike so far",
  },
  { keys: ["r"], action: { kind: "turn order round" }, group: "Rows", words: "turn the order round" },
  { keys: ["b"], action: { kind: "order as at first" }, group: "Rows", words: "back to the order of rank" },
  {
    keys: ["o"],
    action: { kind: "ask", what: "only" },
    group: "Rows",
    words: "only the laterals for which a formula is true",
    hint: hint("only", "sheet"),
  },
  {
    keys: ["v"],
    action: { kind: "only this value" },
    group: "Rows",
    words: "only the laterals with the value under the cursor",
  },
  {
    keys: ["n"],
    action: { kind: "next filter" },
    group: "Rows",
    words: "only the laterals of the program's next filter; after the last, all again",
  },
  { keys: ["a"], action: { kind: "all rows" }, group: "Rows", words: "all laterals again" },
  {
    keys: ["g"],
    action: { kind: "group by column" },
    group: "Rows",
    words: "group by the column under the cursor, with subtotals; again, no groups",
    hint: hint("group", "sheet"),
  },
  { keys: [], action: { kind: "fold", which: "all" }, group: "Rows", words: "fold all groups" },
  { keys: [], action: { kind: "fold", which: "none" }, group: "Rows", words: "unfold all groups" },
  {
    keys: ["c"],
    action: { kind: "ask", what: "column name" },
    group: "Columns",
    words: "a new column by a formula",
  },
  {
    keys: ["l"],
    action: { kind: "ask", what: "columns" },
    group: "Columns",
    words: "list of all columns, to show and hide them",
  },
  {
    keys: ["h"],
    action: { kind: "hide column" },
    group: "Columns",
    words: "hide the column under the cursor",
  },
  {
    keys: ["alt+left", "ctrl+left"],
    action: { kind: "shift column", by: -1 },
    group: "Columns",
    words: "move the column to the left",
  },
  {
    keys: ["alt+right", "ctrl+right"],
    action: { kind: "shift column", by: 1 },
    group: "Columns",
    words: "move the column to the right",
  },
  { keys: ["+"], action: { kind: "widen column", by: 1 }, group: "Columns", words: "make the column wider" },
  {
    keys: ["-"],
    action: { kind: "widen column", by: -1 },
    group: "Columns",
    words: "make the column narrower",
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
    words: "problems found in the program's files; Enter goes to the lateral of one",
    hint: hint("problems", "sheet"),
  },
  {
    keys: ["k"],
    action: { kind: "show pane", pane: "map" },
    group: "Panes",
    words: "map of the laterals, by their place in the ranking",
    hint: hint("map", "sheet"),
  },
  {
    keys: ["z"],
    action: { kind: "zoom" },
    group: "Panes",
    words: "on the map, only the district under the cursor; again, the whole city",
  },
  {
    keys: ["x"],
    action: { kind: "show pane", pane: "risk" },
    group: "Panes",
    words: "how many laterals by likelihood and consequence",
  },
  {
    keys: ["y"],
    action: { kind: "show pane", pane: "season" },
    group: "Panes",
    words: "the season: who is in and why, the money, the weeks of the crews",
    hint: hint("season", "sheet"),
  },
  {
    keys: ["u"],
    action: { kind: "show pane", pane: "bid" },
    group: "Panes",
    words: "bid schedule: units, quantities and the city's own prices",
  },
  {
    keys: ["j"],
    action: { kind: "show pane", pane: "moved" },
    group: "Panes",
    words: "what jumped in the ranking since the last saved run; Enter goes to the lateral",
  },
  {
    keys: ["%"],
    action: { kind: "show pane", pane: "recipe" },
    group: "Panes",
    words: "recipe of the ranking: weights and formulas, changed on trial first",
    hint: hint("recipe", "sheet"),
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
    words: "close the pane; stop arranging a big sheet",
    hint: hint("close", "both", "pane"),
  },
  {
    keys: ["?", "f1"],
    action: { kind: "show pane", pane: "help" },
    group: "Panes",
    words: "this help",
    hint: hint("help", "sheet", "both", "pane"),
  },
  {
    keys: ["space"],
    action: { kind: "ask", what: "actions" },
    group: "Panes",
    words: "list of everything that can be done, found by its words",
    hint: hint("all that can be done", "sheet", "both"),
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

/**
 * What a key does; null for a key that does nothing here. A capital letter does what its small one does: Caps Lock is
 * no command. A digit begins a value, for it begins one in nearly every column that is decided.
 */
export function actionOf({ key, text }: KeyPress, isTyping: boolean): Action | null {
  if (isTyping) return typingAction({ key, text });
  if (key === "paste") return { kind: "paste", text: text ?? "" };
  if (/^[0-9]$/.test(key)) return { kind: "begin value", text: key };
  return byKey.get(key) ?? byKey.get(key.toLowerCase()) ?? null;
}

/** What keys do while something is typed; the help prints it. */
export const typingKeys: readonly {
  readonly keys: readonly string[];
  readonly action: PromptAction;
  readonly words: string;
}[] = [
  { keys: ["enter"], action: { kind: "accept" }, words: "take it" },
  { keys: ["escape"], action: { kind: "give up" }, words: "leave everything as it was" },
  { keys: ["tab"], action: { kind: "complete" }, words: "complete the word" },
  { keys: ["up"], action: { kind: "choose", by: -1 }, words: "the choice before; the place found before" },
  { keys: ["down"], action: { kind: "choose", by: 1 }, words: "the next choice; the next place found" },
  { keys: ["left"], action: { kind: "move in text", to: "left" }, words: "one character to the left" },
  { keys: ["right"], action: { kind: "move in text", to: "right" }, words: "one character to the right" },
  { keys: ["home"], action: { kind: "move in text", to: "start" }, words: "to the beginning" },
  { keys: ["end"], action: { kind: "move in text", to: "end" }, words: "to the end" },
  {
    keys: ["backspace"],
    action: { kind: "rub out", which: "before" },
    words: "rub out the character before",
  },
  { keys: ["delete"], action: { kind: "rub out", which: "after" }, words: "rub out the character after" },
];

const byTypingKey = new Map(
  typingKeys.flatMap(({ keys, action }) => keys.map((key) => [key, action] as const)),
);

function typingAction({ key, text }: KeyPress): Action | null {
  if (key === "ctrl+c") return { kind: "leave" };
  if (key === "ctrl+l") return { kind: "redraw" };
  const action = byTypingKey.get(key);
  if (action !== undefined) return action;
  return text === null || text === "" ? null : { kind: "type", text };
}

/** The first key of an action, as it is written on keyboards. @throws RangeError when it has none */
export function keyOf(is: (action: Action) => boolean): string {
  const key = bindings.find(({ action }) => is(action))?.keys[0];
  if (key === undefined) throw new RangeError("keyOf: an action without a key");
  return keyLabel(key);
}

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

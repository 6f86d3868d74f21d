import { wrap } from "./cell-text.ts";
import { bindings, keyLabel } from "./keymap.ts";
import { type Line, lineOf, span } from "./line.ts";
import type { Action } from "./session.ts";

/** The first things to do in a new program. The keys are those of the table that handles them. */
const steps: readonly (readonly [is: (action: Action) => boolean, words: string])[] = [
  [
    ({ kind }) => kind === "move rows",
    "The sheet: a lateral a row, the worst risk first. The arrows move; the line under the totals shows the cell in full.",
  ],
  [
    (action) => action.kind === "show pane" && action.pane === "why",
    "why the plan says what it says of this lateral: every step, equation and source.",
  ],
  [
    ({ kind }) => kind === "enter",
    "decide a value with a reason, in a column that people decide (Host dia., Treatment, …). It is kept at once; the city's files stay as they are.",
  ],
  [
    (action) => action.kind === "show pane" && action.pane === "map",
    "the laterals on a map; the cursor's own is marked.",
  ],
  [
    (action) => action.kind === "show pane" && action.pane === "problems",
    "what was found wrong in the city's files, each a way to its lateral.",
  ],
  [
    (action) => action.kind === "ask" && action.what === "actions",
    "everything that can be done, found by its words.",
  ],
  [(action) => action.kind === "show pane" && action.pane === "help", "all keys."],
];

/** Shown in a program in which nothing was decided or saved yet; the next key closes it and does what it does. */
export function firstStepsLines(width: number): readonly Line[] {
  const KEYS = 11;
  return [
    ...steps.flatMap(([is, words]) => {
      const key = bindings.find(({ action }) => is(action))?.keys[0];
      if (key === undefined) throw new RangeError("firstStepsLines: a step without a key");
      const label = key === "up" ? "arrows" : keyLabel(key);
      return wrap(words, Math.max(1, width - KEYS - 2)).map(
        (text, i): Line => [span(`  ${(i === 0 ? label : "").padEnd(KEYS)}`, "bold"), span(text)],
      );
    }),
    ...wrap("Any key closes this and does what it does.", width).map((text) => lineOf(text, "dim")),
  ];
}

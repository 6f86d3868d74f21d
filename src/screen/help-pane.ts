import { fitTo, wrap } from "./cell-text.ts";
import { bindings, keyGroups, keyLabel, typingKeys } from "./keymap.ts";
import { type Line, lineOf, span } from "./line.ts";

/** Signs of the sheet that explain themselves badly. */
const signs = [
  ["> [ ]", "the lateral and the cell under the cursor"],
  ["·", "no value; a zero is written 0"],
  ["…", "does not fit; the line below the totals shows the cell under the cursor in full"],
  ["‹ ›", "there are more columns on that side"],
  ["*", "a person decided this value; the reason stands below the totals"],
  ["=", "under a heading: the plan or a formula works this column out; without it, it is the city's"],
  ["+ »", "a marked lateral; the same under the cursor"],
  ["ø n", "in the lines of totals: mean of the values there are; number of them. Sums have no sign"],
  ["› ▼", "before a group: its laterals are folded away, or stand below"],
  ["▲ ▼", "the column the rows are sorted by, rising or falling; rows without a value come last"],
] as const;

const KEY_WIDTH = 24;

/** What the keys do, from the table that makes them do it. */
export function helpLines(width: number): readonly Line[] {
  const entry = (name: string, words: string): readonly Line[] =>
    wrap(words, Math.max(1, width - KEY_WIDTH - 3)).map((text, i) => [
      span(`  ${fitTo(i === 0 ? name : "", KEY_WIDTH, "left")} `, "bold"),
      span(text),
    ]);
  return [
    ...keyGroups.flatMap((group) => [
      lineOf(group, "bold"),
      ...bindings
        .filter((binding) => binding.group === group)
        // What has no key of its own is in the list of everything that can be done.
        .flatMap(({ keys, words }) => entry(keys.map(keyLabel).join(" or ") || "(in the list)", words)),
      lineOf(""),
    ]),
    lineOf("While typing", "bold"),
    ...typingKeys.flatMap(({ keys, words }) => entry(keys.map(keyLabel).join(" or "), words)),
    lineOf(""),
    lineOf("Signs", "bold"),
    ...signs.flatMap(([sign, words]) => entry(sign, words)),
  ];
}

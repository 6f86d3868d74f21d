import { bindings, keyLabel } from "./keymap.ts";
import type { Prompt } from "./prompt.ts";
import type { Action, Session } from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** One line of a list somebody chooses from. */
export interface Choice {
  readonly label: string;
  readonly note: string;
  /** What Enter does with it. */
  readonly does:
    | { readonly kind: "act"; readonly action: Action }
    | { readonly kind: "toggle column"; readonly column: number };
}

/** The choices whose words have what was typed; none where nothing is chosen from a list. */
export function choices(
  { prompt, columns }: Pick<Session, "prompt" | "columns">,
  sheet: SheetView,
): readonly Choice[] {
  const wanted = (prompt?.text ?? "").toLowerCase().split(" ");
  const all = (kind: string | undefined): readonly Choice[] => {
    switch (kind) {
      case "actions":
        return bindings.flatMap(({ keys, action, words }) =>
          action.kind === "ask" && action.what === "actions"
            ? []
            : [{ label: words, note: keys.map(keyLabel).join(" or "), does: { kind: "act", action } }],
        );
      case "columns":
        return sheet.columns.map(({ heading, key, help }, column) => ({
          label: `${columns.includes(column) ? "shown " : "      "} ${heading}`,
          note: `${key}: ${help}`,
          does: { kind: "toggle column", column },
        }));
      default:
        return [];
    }
  };
  return all(prompt?.purpose.kind).filter(({ label, note }) => {
    const text = `${label} ${note}`.toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

/** A word of the column's list, or a name of the formula language, that could stand where somebody is typing. */
export interface Completion {
  readonly name: string;
  readonly shows: string;
}

export function completionsFor({ prompt }: Pick<Session, "prompt">, sheet: SheetView): readonly Completion[] {
  if (prompt === null) return [];
  switch (prompt.purpose.kind) {
    case "only":
    case "column formula":
      return sheet.formula.complete(prompt.text.slice(0, prompt.at));
    case "value": {
      const start = prompt.text.toLowerCase();
      return sheet.columns[prompt.purpose.column]!.words.filter((word) =>
        word.toLowerCase().startsWith(start),
      ).map((name) => ({ name, shows: "" }));
    }
    default:
      return [];
  }
}

/** The value that is typed; where that is none, the one word of the column's list that begins so. */
export function valueMeant(prompt: Prompt, column: number, sheet: SheetView): string {
  const text = prompt.text.trim();
  const [word, ...others] = completionsFor({ prompt }, sheet);
  return word !== undefined && others.length === 0 && !sheet.check(column, text).ok ? word.name : text;
}

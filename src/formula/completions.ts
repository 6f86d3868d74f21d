import { type UnitKey, units } from "../quantity/units.ts";
import { unitInFormula } from "./check.ts";
import { describeType, typeOfMeasure } from "./formula-type.ts";
import { AS_OF, functions, isEarlier, unitNamed, type Vocabulary, wordOperators } from "./vocabulary.ts";

export interface Completion {
  /** What to write in place of the unfinished word. */
  readonly name: string;
  /** What it is: `a length`, `abs(a): without its sign`. */
  readonly shows: string;
}

/**
 * What could become of the word begun at the end of the formula so far: in quotes beside a column its words, after a
 * number its units, after any other value `and` and `or`, else the columns of earlier stages, the functions and the
 * words of the language, in alphabetical order; first of all the word itself, where it is one. After a finished number,
 * name or parenthesis there is nothing to complete until a word is begun: `12` is not to become `12L`.
 *
 * @param before the formula up to the cursor
 */
export function completions(before: string, vocabulary: Vocabulary): readonly Completion[] {
  const inQuotes = /([A-Za-z_][A-Za-z0-9_]*)\s*[=!]=\s*(["'])([^"']*)$/.exec(before);
  if (inQuotes !== null) {
    const [, key, quote, start = ""] = inQuotes;
    const words = vocabulary.columns.find((column) => column.key === key)?.words ?? [];
    return words
      .filter((word) => word.startsWith(start))
      .map((word) => ({ name: `${word}${quote}`, shows: `a word of ${key}` }));
  }
  const begun = /[A-Za-z_][A-Za-z0-9_]*$/.exec(before)?.[0] ?? "";
  const ahead = before.slice(0, before.length - begun.length);
  const afterValue = endsValue(ahead);
  if (afterValue && begun === "") return [];
  const prefix = begun.toLowerCase();
  const all = endsNumber(ahead)
    ? [...unitCompletions(vocabulary), ...joiningWords]
    : afterValue
      ? joiningWords
      : nameCompletions(vocabulary);
  return all
    .filter(({ name }) => name.toLowerCase().startsWith(prefix))
    .sort((a, b) => Number(b.name === begun) - Number(a.name === begun) || (a.name < b.name ? -1 : 1));
}

const endsNumber = (text: string): boolean =>
  /(?:^|[^A-Za-z0-9_.])(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?\s*$/.test(text);

/** Whether a number, a name, a text or a parenthesis is finished there, and not a word that asks for another value. */
const endsValue = (text: string): boolean =>
  /[A-Za-z0-9_.)"']\s*$/.test(text) && !/(?:^|[^A-Za-z0-9_])(?:and|or|not)\s*$/.test(text);

const wordOf = (name: string): Completion => ({ name, shows: "yes or no" });
const joiningWords: readonly Completion[] = ["and", "or"].map(wordOf);

function nameCompletions(vocabulary: Vocabulary): Completion[] {
  const columns = vocabulary.columns.filter((column) => isEarlier(column, vocabulary.stage));
  return [
    ...columns.map(({ key, measure }) => ({ name: key, shows: describeType(typeOfMeasure(measure)) })),
    ...Object.entries(functions).map(([name, { shows }]) => ({ name, shows })),
    ...[...wordOperators, "true", "false"].map(wordOf),
    { name: AS_OF, shows: "a date: the program's as-of date" },
  ];
}

function unitCompletions({ currency }: Vocabulary): Completion[] {
  return (Object.keys(units) as UnitKey[])
    .map((unit) => ({ name: unitInFormula(unit, currency), unit }))
    .filter(({ name, unit }) => unitNamed(name, currency) === unit)
    .map(({ name, unit }) => ({
      name,
      shows: describeType({ kind: "number", dimension: units[unit].dimension }),
    }));
}

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
 * What could stand at the end of the formula so far: after a number its units, in quotes beside a column its words,
 * else the columns of earlier stages, the functions and the words of the language, in alphabetical order.
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
  const prefix = (/[A-Za-z_][A-Za-z0-9_]*$/.exec(before)?.[0] ?? "").toLowerCase();
  const afterNumber = /(?:^|[^A-Za-z0-9_.])(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?\s*$/.test(
    before.slice(0, before.length - prefix.length),
  );
  const all = afterNumber ? unitCompletions(vocabulary) : nameCompletions(vocabulary);
  return all
    .filter(({ name }) => name.toLowerCase().startsWith(prefix))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

function nameCompletions(vocabulary: Vocabulary): Completion[] {
  const columns = vocabulary.columns.filter((column) => isEarlier(column, vocabulary.stage));
  return [
    ...columns.map(({ key, measure }) => ({ name: key, shows: describeType(typeOfMeasure(measure)) })),
    ...Object.entries(functions).map(([name, { shows }]) => ({ name, shows })),
    ...[...wordOperators, "true", "false"].map((name) => ({ name, shows: "yes or no" })),
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

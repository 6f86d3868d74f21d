import * as z from "zod";
import { type QuantityMeasure, quantities } from "../quantity/measure.ts";
import { readNumber, readQuantity } from "../quantity/quantity-text.ts";
import { units } from "../quantity/units.ts";

/*
 * The kinds of value in program.json, as people write them. Each message says what is expected; a second line
 * says what to write instead. A number with a unit is text that carries it; a plain number is one that needs no
 * unit, or whose key names it.
 */

export const text = (expected: string) =>
  z.string(expected).refine((written) => written.trim() !== "", expected);

export const words = <const Words extends readonly string[]>(list: Words) =>
  z.enum(list, `one of ${list.map((word) => JSON.stringify(word)).join(", ")}`);

export const quantity = (measure: QuantityMeasure) => {
  const error = ({ input }: { readonly input?: unknown }) => quantityExpected(measure, input);
  // A later refinement may read the value, so it must not run on one that is none.
  return z
    .string({ error })
    .refine((written) => readTyped(written, measure) !== null, { error, abort: true });
};

/** A part of one: `0.02`, or `"2 %"`. */
export const part = z.union(
  [z.number(), quantity("percent")],
  'a fraction such as 0.02, or text such as "2 %"',
);

export const number = z.number("a number");
export const whole = z.int("a whole number");
export const list = <Item extends z.ZodType>(item: Item) => z.array(item, "a list in square brackets");

/** A quantity that carries its own unit, in the measure's stored unit; null for anything else, a bare number too. */
export function readTyped(written: string, measure: QuantityMeasure): number | null {
  if (readNumber(written, ".").ok) return null;
  const found = readQuantity(written, measure, quantities[measure].stored);
  return found.ok && Number.isFinite(found.value) ? found.value : null;
}

/** What to write for a quantity; for a bare number, that number with each unit it may be in; for a decimal comma, a point. */
export function quantityExpected(measure: QuantityMeasure, found: unknown): string {
  const { us, si } = quantities[measure];
  const spelled = [...new Set([us, si])].map((key) => units[key].spellings[0]);
  const shown = (value: string) => spelled.map((unit) => JSON.stringify(`${value} ${unit}`)).join(" or ");
  const expected = `a number with its unit, such as ${shown("4")}`;
  const bare = typeof found === "number" || (typeof found === "string" && readNumber(found, ".").ok);
  if (!bare)
    return typeof found === "string" && /\d,\d/.test(found)
      ? `${expected}\nWrite decimals with a point, whichever mark the city's files have.`
      : expected;
  const choice = spelled.length > 1 ? ", whichever it is" : "";
  return `${expected}\nWrite ${shown(String(found).trim())}${choice}.`;
}

/** A part of one as written: `0.02`, or `"2 %"`. */
export const partOf = (written: number | string): number =>
  typeof written === "number" ? written : typedValue(written, "percent");

/**
 * A quantity the settings' schema has already accepted, in its stored unit.
 *
 * @throws RangeError when it has not
 */
export function typedValue(written: string, measure: QuantityMeasure): number {
  const value = readTyped(written, measure);
  if (value === null) throw new RangeError(`typedValue: ${JSON.stringify(written)} is no ${measure}`);
  return value;
}

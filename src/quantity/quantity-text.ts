import { type QuantityMeasure, quantities } from "./measure.ts";
import { convert, sameDimension, type UnitKey, units, unitWritten } from "./units.ts";

/** Which mark separates decimals; the other one may group thousands. Declared per file, never guessed per cell. */
export type DecimalMark = "." | ",";

export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly expected: string };

export const read = <T>(value: T): Read<T> => ({ ok: true, value });
export const unread = (expected: string): Read<never> => ({ ok: false, expected });

/**
 * A plain number: `12`, `-3.5`, `1,234.5`, `.5`, and `04` as 4. Nothing else: no exponent (a quick rating like
 * `3E00` is not a number), no hexadecimal, no trailing text. Thousands marks must group by three.
 */
export function readNumber(text: string, mark: DecimalMark): Read<number> {
  const trimmed = text.trim();
  const pattern =
    mark === "."
      ? /^[+-]?(\d+|\d{1,3}(,\d{3})+)?(\.\d*)?$/
      : /^[+-]?(\d+|\d{1,3}([.\u00a0 ]\d{3})+)?(,\d*)?$/;
  if (!pattern.test(trimmed) || !/\d/.test(trimmed)) return unread("a number");
  const plain =
    mark === "." ? trimmed.replaceAll(",", "") : trimmed.replace(/[.\u00a0 ]/g, "").replace(",", ".");
  return read(Number(plain));
}

/** DN and a whole number, near the bore in mm but without a unit of its own: ISO 6708:1995, 3.1 (from memory). */
const NOMINAL_SIZE = /^DN ?(\d{2,4})$/i;

/**
 * A quantity, in the measure's stored unit. A bare number is in `bareUnit`; a number may carry its own unit
 * (`100 mm`, `4"`, `8 ft`), feet and inches may be written together (`37'-6"`), and a vulgar fraction may follow
 * whole inches (`4 1/2"`). A diameter may be a nominal size (`DN 150`), which counts as so many mm.
 *
 * @param bareUnit the unit that a number without a unit is in, from the file's heading or the program's settings
 */
export function readQuantity(
  text: string,
  measure: QuantityMeasure,
  bareUnit: UnitKey,
  mark: DecimalMark = ".",
): Read<number> {
  const trimmed = text.trim();
  const { stored } = quantities[measure];
  const plain = readNumber(trimmed, mark);
  if (plain.ok) return read(convert(plain.value, bareUnit, stored));
  const nominal = measure === "diameter" ? NOMINAL_SIZE.exec(trimmed)?.[1] : undefined;
  if (nominal !== undefined) return read(convert(Number(nominal), "mm", stored));
  const other = mark === "." ? "," : ".";
  const decimals = `decimals with a ${mark === "," ? "comma" : "point"}`;
  if (readNumber(trimmed, other).ok) return unread(decimals);

  const feetInches =
    /^(\d+)\s*(?:'|′|’|ft\.?|feet)\s*-?\s*(\d+(?:\.\d+)?)(?:\s+(\d+)\/(\d+))?\s*(?:"|″|”|''|in\.?|inches)$/i.exec(
      trimmed,
    );
  if (feetInches !== null && sameDimension(units[stored].dimension, units.ft.dimension)) {
    const inches = Number(feetInches[2]) + vulgar(feetInches[3], feetInches[4]);
    return read(convert(Number(feetInches[1]) * 12 + inches, "in", stored));
  }

  const withUnit = /^([+-]?[\d.,\u00a0]*\d[.,]?)(?:\s+(\d+)\/(\d+))?\s*([^\d\s].*)$/.exec(trimmed);
  if (withUnit === null) return unread(`a number, or a number with its unit (${exampleOf(measure)})`);
  const number = readNumber(withUnit[1] ?? "", mark);
  const unit = unitWritten(withUnit[4] ?? "");
  if (!number.ok)
    return unread(
      readNumber(withUnit[1] ?? "", other).ok ? decimals : `a number before the unit (${exampleOf(measure)})`,
    );
  if (unit === null) return unread(`a unit the program knows after the number (${exampleOf(measure)})`);
  if (!sameDimension(units[unit].dimension, units[stored].dimension)) {
    return unread(`a unit of ${measure.replace("_", " ")} after the number (${exampleOf(measure)})`);
  }
  return read(convert(number.value + vulgar(withUnit[2], withUnit[3]), unit, stored));
}

/** How somebody might write this measure, for messages. */
function exampleOf(measure: QuantityMeasure): string {
  const { us, si } = quantities[measure];
  const spelling = (key: UnitKey) => units[key].spellings[0];
  return us === si ? `such as 4 ${spelling(us)}` : `such as 4 ${spelling(us)} or 4 ${spelling(si)}`;
}

function vulgar(top: string | undefined, bottom: string | undefined): number {
  if (top === undefined || bottom === undefined || Number(bottom) === 0) return 0;
  return Number(top) / Number(bottom);
}

import { dimensionOf, type QuantityMeasure, quantities, toStored } from "../quantity/measure.ts";
import { type DecimalMark, readQuantity } from "../quantity/quantity-text.ts";
import { convert, converter, sameDimension, type UnitKey, unitInWords, units } from "../quantity/units.ts";
import { type CellProblem, type NumberReading, refusedNumber } from "./cell-problem.ts";
import { plainDecimal } from "./plain-decimal.ts";

/** Units somebody may have meant, likeliest first: pipes are measured in millimetres and inches, lengths in feet and metres. */
const LIKELY_FOR_PIPES: readonly UnitKey[] = ["mm", "in", "ft", "m", "cm"];
const LIKELY: readonly UnitKey[] = ["ft", "m", "in", "cm", "mm", "percent", "one"];

/**
 * Makes the reader of a column of quantities; it gives the stored unit. A bare number is in the column's unit, a
 * number may carry its own.
 *
 * @param range believable values, in the stored unit
 */
export function quantityReading(
  measure: QuantityMeasure,
  bareUnit: UnitKey,
  mark: DecimalMark,
  range: readonly [number, number],
): NumberReading {
  const [least, most] = range;
  const stored = storedWithin(measure, bareUnit, range);
  return (text) => {
    const plain = plainDecimal(text, mark);
    if (!Number.isNaN(plain)) {
      const one = Float64Array.of(plain);
      stored(one);
      const value = one[0]!;
      return Number.isNaN(value) ? outOfRange(text, plain, measure, bareUnit, range) : value;
    }
    const slow = readQuantity(text, measure, bareUnit, mark);
    if (!slow.ok) return refusedNumber(slow.expected, remedyForText(bareUnit));
    if (slow.value >= least && slow.value <= most) return slow.value;
    return outOfRange(text, null, measure, bareUnit, range);
  };
}

/** Makes of bare numbers, in their place, what they are in the stored unit; NaN of one that is not believable, and of none. */
export function storedWithin(
  measure: QuantityMeasure,
  bareUnit: UnitKey,
  [least, most]: readonly [number, number],
): (numbers: Float64Array) => void {
  const toStored = converter(bareUnit, quantities[measure].stored);
  return (numbers) => {
    for (let i = 0; i < numbers.length; i++) {
      const value = toStored(numbers[i]!);
      numbers[i] = value >= least && value <= most ? value : Number.NaN;
    }
  };
}

function outOfRange(
  text: string,
  bare: number | null,
  measure: QuantityMeasure,
  unit: UnitKey,
  range: readonly [number, number],
): CellProblem<number> {
  const { stored } = quantities[measure];
  const [least, most] = range.map((end) => Number(convert(end, stored, unit).toPrecision(3)));
  const expected = `${least} to ${most} ${spelling(unit)}`.trim();
  const likely = measure === "diameter" ? LIKELY_FOR_PIPES : LIKELY;
  // Who measures in metres has no inches: a number beside the metric range is another mistake.
  const mayBe = units[unit].system === "si" ? likely.filter((other) => units[other].system !== "us") : likely;
  const meant = bare === null ? undefined : mayBe.find((other) => fits(bare, measure, other, unit, range));
  if (meant === undefined)
    return refusedNumber(expected, "Taken as missing. Correct the value, or leave the cell empty.");
  return refusedNumber(
    expected,
    `If ${unitInWords(meant) || "parts of one"} are meant, write ${JSON.stringify(`${text} ${spelling(meant)}`.trim())} or set the column's "unit" to "${meant}" in program.json.`,
  );
}

function fits(
  bare: number,
  measure: QuantityMeasure,
  other: UnitKey,
  unit: UnitKey,
  range: readonly [number, number],
): boolean {
  if (other === unit || !sameDimension(units[other].dimension, dimensionOf(measure))) return false;
  const value = toStored(bare, measure, other);
  return value >= range[0] && value <= range[1];
}

function remedyForText(unit: UnitKey): string {
  const example = spelling(unit) === "" ? "" : `, alone or with its unit (${spelling(unit)})`;
  return `Taken as missing. Write one number${example}, or leave the cell empty.`;
}

const spelling = (unit: UnitKey): string => units[unit].spellings[0];

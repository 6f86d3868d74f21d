import {
  isQuantity,
  type Measure,
  type QuantityMeasure,
  quantities,
  toShown,
  type UnitSystem,
} from "./measure.ts";
import { type DateStyle, showDate } from "./show-date.ts";
import { day } from "./si.ts";
import { units } from "./units.ts";
import { wholeParts } from "./whole-parts.ts";

/** How numbers are written: the program's unit system and its currency. */
export interface NumberStyle {
  readonly units: UnitSystem;
  /** ISO 4217 code. */
  readonly currency: string;
  /** ISO unless said: on screens, where dates are typed, and in files that programs read. */
  readonly dates?: DateStyle;
}

/** A number as people see it, without its unit: `37.5`, `1,284.50`, `2026-03-01`. NaN, the missing number, is empty. */
export function showNumber(value: number, measure: Measure, style: NumberStyle): string {
  if (Number.isNaN(value)) return "";
  if (isQuantity(measure)) {
    return grouped(toShown(value, measure, style.units), quantities[measure].decimals[style.units]);
  }
  switch (measure) {
    case "date":
      return showDate(day(value), style.dates);
    case "flag":
      return value === 0 ? "no" : "yes";
    case "year":
    case "grade":
    case "coordinate":
      return String(value);
    case "points":
    case "factor":
    case "days":
      return grouped(value, 2);
    case "count":
    case "degrees":
      return showCount(value);
    case "code":
    case "text":
      throw new RangeError(`showNumber: a ${measure} is not a number, got ${value}`);
    default:
      return measure satisfies never;
  }
}

/** The same with its unit: `37.5 ft`, `USD 1,284.50`, `2.0 %`. */
export function showQuantity(value: number, measure: Measure, style: NumberStyle): string {
  const text = showNumber(value, measure, style);
  if (text === "" || measure === "money") return text === "" ? text : `${style.currency} ${text}`;
  const unit = unitLabel(measure, style);
  return unit === "" ? text : `${text} ${unit}`;
}

/** A limit that is not to be passed: rounded down, where {@link showQuantity} could show more than is allowed. */
export function showLimit(value: number, measure: QuantityMeasure, style: NumberStyle): string {
  const decimals = quantities[measure].decimals[style.units];
  const steps = 10 ** decimals;
  // Conversion leaves a last bit: 53 °F would be shown as 52.
  const down = Math.floor(toShown(value, measure, style.units) * steps + 1e-6) / steps;
  return `${grouped(down, decimals)} ${unitLabel(measure, style)}`;
}

/**
 * Parts of a total as people see them, so that what is printed adds up to the total as printed: whole parts (see wholeParts) in the last
 * decimal.
 *
 * @param parts in the stored unit; none below 0
 * @param total of them, as it is shown elsewhere
 * @param decimals those of the measure unless said
 */
export function showParts(
  parts: readonly number[],
  total: number,
  measure: QuantityMeasure,
  style: NumberStyle,
  decimals = quantities[measure].decimals[style.units],
): readonly string[] {
  const steps = 10 ** decimals;
  const exact = parts.map((part) => toShown(part, measure, style.units) * steps);
  const shownTotal = Math.round(Number(toShown(total, measure, style.units).toFixed(decimals)) * steps);
  return wholeParts(exact, shownTotal).map((part) => grouped(part / steps, decimals));
}

/** The unit as written after a number or in a heading: `ft`, `mm`, `USD`; empty for a plain number. */
export function unitLabel(measure: Measure, style: NumberStyle): string {
  if (measure === "degrees") return "degrees";
  if (!isQuantity(measure)) return "";
  if (measure === "money") return style.currency;
  return units[quantities[measure][style.units]].spellings[0];
}

/** How many there are, as people read it: `1,234`. For screens and print; files that programs read have the digits alone. */
export const showCount = (count: number): string => grouped(count, 0);

/**
 * Fixed decimals with thousands commas, no locale. Written by hand because Intl costs about ten times as much per
 * cell and follows the machine's locale data.
 */
export function grouped(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  const point = decimals === 0 ? text.length : text.length - decimals - 1;
  let out = text.slice(point);
  for (let end = point; end > 0; end -= 3)
    out = text.slice(Math.max(0, end - 3), end) + (end < point ? "," : "") + out;
  return value < 0 && Number(text) !== 0 ? `-${out}` : out;
}

/** Whole hundredths of any unit, with two decimals: quantities of a bid are kept so. */
export const showHundredths = (hundredths: number): string => grouped(hundredths / 100, 2);

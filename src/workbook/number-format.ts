import { dayFromIso } from "../quantity/calendar.ts";
import { isQuantity, type Measure, quantities, toShown, type UnitSystem } from "../quantity/measure.ts";
import type { DateStyle } from "../quantity/show-date.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { Cell, Formatted } from "./sheet-model.ts";

/** A number format with this many decimals and thousands marks. */
export const decimalsFormat = (decimals: number): string =>
  decimals === 0 ? "#,##0" : `#,##0.${"0".repeat(decimals)}`;

export const WHOLE = decimalsFormat(0);
export const HUNDREDTHS = decimalsFormat(2);
export const ISO_DATE = "yyyy-mm-dd";
/** Number formats of dates; the tag in front keeps the names of months English on every machine. */
const dateFormats: Readonly<Record<DateStyle, string>> = {
  ISO: ISO_DATE,
  "day month year": "[$-409]d mmm yyyy",
  "month day year": "[$-409]mmm d, yyyy",
};

/** A day as a cell holds it, so that a spreadsheet can sort and count by it. */
export const dateCell = (value: Day, style: DateStyle): Formatted => ({
  kind: "number",
  value: value + DAY_ZERO,
  format: dateFormats[style],
});

/** A date of a file or a table, `2026-03-01`, as a real date; other text stays text. */
export function textOrDate(text: string, style: DateStyle): Cell {
  const found = dayFromIso(text);
  return found === null ? text : dateCell(found, style);
}

/** Whether a number format shows a day. */
export const isDateFormat = (format: string): boolean => Object.values(dateFormats).includes(format);

/** The number format in which a measure is shown; undefined for text. */
export function formatOf(measure: Measure, style: NumberStyle): string | undefined {
  if (isQuantity(measure)) return decimalsFormat(quantities[measure].decimals[style.units]);
  switch (measure) {
    case "count":
    case "degrees":
      return WHOLE;
    case "grade":
    case "year":
      return "0";
    case "points":
    case "factor":
    case "days":
      return HUNDREDTHS;
    case "date":
      return dateFormats[style.dates ?? "ISO"];
    case "coordinate":
    case "flag":
    case "code":
    case "text":
      return undefined;
    default:
      return measure satisfies never;
  }
}

/** Days from the spreadsheets' day 0, 1899-12-30, to 1970-01-01. */
export const DAY_ZERO = 25569;

/** A stored number as the cell holds it: in shown units, dates as day numbers, flags as words; missing is empty. */
export function numberCell(value: number | null, measure: Measure, units: UnitSystem): Cell {
  if (value === null || Number.isNaN(value)) return null;
  if (isQuantity(measure)) return withoutNoise(toShown(value, measure, units));
  if (measure === "flag") return value === 0 ? "no" : "yes";
  return measure === "date" ? value + DAY_ZERO : value;
}

/** 37.5 ft comes back from metres as 37.500000000000004: the last digits of a conversion are dropped, twelve are kept. */
const withoutNoise = (value: number): number => Number(value.toPrecision(12));

/** The text of a number as a cell of this format shows it; other text, and other formats, are left. */
export function shownIn(format: string, text: string): string {
  const found = /^(#,##)?0(?:\.(0+))?$/.exec(format);
  if (found === null || text.trim() === "" || !Number.isFinite(Number(text))) return text;
  const [, thousands, decimals = ""] = found;
  const [whole = "", part] = Number(text).toFixed(decimals.length).split(".");
  const marked = thousands === undefined ? whole : whole.replace(/\B(?=(\d{3})+$)/g, ",");
  return part === undefined ? marked : `${marked}.${part}`;
}

/** Decimals a number needs to be told apart, and no more: 120, 3.45, 0.381. */
export function decimalsOf(value: number): number {
  const size = Math.abs(value);
  const most = size >= 1000 ? 0 : size >= 100 ? 1 : size >= 1 ? 2 : size >= 0.1 ? 3 : 4;
  return String(Number(value.toFixed(most))).split(".")[1]?.length ?? 0;
}

/** A number with that many decimals. */
export const trimmed = (value: number): Formatted => ({
  kind: "number",
  value: withoutNoise(value),
  format: decimalsFormat(decimalsOf(value)),
});

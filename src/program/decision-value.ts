import type { Column } from "../columns/column.ts";
import { type ColumnKey, decidableColumns, findColumn } from "../columns/dictionary.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import { isQuantity, quantities } from "../quantity/measure.ts";
import type { Problem } from "../quantity/problem.ts";
import { type Read, read, readNumber, unread } from "../quantity/quantity-text.ts";
import { convert, units } from "../quantity/units.ts";
import { nearestWord } from "./nearest-word.ts";
import { DECISIONS_FILE } from "./program-files.ts";
import { priceInCents } from "./unit-prices.ts";
import { quantityExpected, readTyped } from "./written-values.ts";

/** Written instead of a value: an earlier decision no longer holds, and the lateral is as the files and the plan say. */
export const AS_GIVEN = "as given";

/** What somebody asks to be decided, as typed. */
export interface DecisionRequest {
  readonly lateral: string;
  readonly column: string;
  readonly value: string;
  readonly reason: string;
}

/** A decided value: a number in the column's stored unit, or one of its words; null takes a decision back. */
export interface DecidedValue {
  readonly column: ColumnKey;
  readonly value: number | string | null;
}

export type DecisionReading =
  | { readonly ok: true; readonly decided: DecidedValue }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Whether a decision may stand: a column that may be decided, a value it can hold, a lateral and a reason.
 *
 * @param latestYear the year of the program's day, where it is known: what is laid later is not there
 */
export function readDecision(
  request: DecisionRequest,
  row: number | null = null,
  latestYear = Number.POSITIVE_INFINITY,
): DecisionReading {
  const problems: Problem[] = [];
  const file = row === null ? "" : DECISIONS_FILE;
  const refuse = (found: string, expected: string, remedy: string, column: string | null = request.column) =>
    problems.push({ severity: "rejected", file, row, column, found, expected, remedy });

  if (request.lateral.trim() === "") refuse("", "the id of a lateral", "Name the lateral.", "lateral");
  if (request.reason.trim() === "") {
    refuse("", "why it is decided so", "Give a reason: somebody will ask.", "reason");
  }
  const column = findColumn(request.column);
  if (column?.decidable !== true) {
    const keys = decidableColumns.map(({ key }) => key);
    const near = nearestWord(request.column, keys);
    const remedy = near === null ? "Name one of these columns." : `Write ${near}.`;
    refuse(request.column, `a column that may be decided: ${keys.join(", ")}`, remedy, "column");
    return { ok: false, problems };
  }
  const value =
    request.value.trim() === AS_GIVEN ? read(null) : readValue(column, request.value.trim(), latestYear);
  if (!value.ok) {
    const [expected = "", remedy = "Correct the value."] = value.expected.split("\n");
    refuse(request.value, expected, remedy);
  }
  if (problems.length > 0 || !value.ok) return { ok: false, problems };
  return { ok: true, decided: { column: column.key as ColumnKey, value: value.value } };
}

/** The value in stored form. What is expected comes back in one line; a second line says what to write. */
function readValue(column: Column, written: string, latestYear: number): Read<number | string> {
  const { measure } = column;
  if (measure === "money") return readAmount(column, written);
  if (isQuantity(measure)) {
    const value = readTyped(written, measure);
    return value === null ? unread(quantityExpected(measure, written)) : inRange(column, value);
  }
  switch (measure) {
    case "code":
      return oneOf(written, column.words ?? []);
    case "flag": {
      const word = oneOf(written, ["yes", "no"]);
      return word.ok ? read(word.value === "yes" ? 1 : 0) : word;
    }
    case "count":
    case "grade":
    case "year": {
      const number = readNumber(written, ".");
      if (!number.ok || !Number.isInteger(number.value)) return unread(`a whole number${rangeText(column)}`);
      if (measure === "year" && number.value > latestYear)
        return unread(`a year up to ${latestYear}, the year of "as_of" in program.json`);
      return inRange(column, number.value);
    }
    case "degrees": {
      const number = readNumber(written.replace(/ *(°|deg|degrees)$/i, ""), ".");
      return number.ok ? inRange(column, number.value) : unread(`a number of degrees${rangeText(column)}`);
    }
    case "date": {
      const day = dayFromIso(written);
      return day === null ? unread("a day such as 2026-03-01") : read(day);
    }
    case "points":
    case "factor":
    case "days":
    case "coordinate":
    case "text":
      throw new RangeError(`readValue: no decision on a ${measure} (${column.key}) can be read yet`);
    default:
      return measure satisfies never;
  }
}

/** An amount in the program's currency, to the cent: a currency written with it might be another one. */
function readAmount(column: Column, written: string): Read<number> {
  const number = readNumber(written, ".");
  const amount = number.ok ? priceInCents(number.value) : null;
  if (amount === null)
    return unread("an amount in the program's currency with at most two decimals, such as 4200 or 4200.50");
  const [least, most] = column.range ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return amount >= least && amount <= most
    ? read(amount)
    : unread(`an amount from ${least / 100} to ${most / 100}`);
}

function oneOf(written: string, words: readonly string[]): Read<string> {
  const found = words.find((word) => word.toLowerCase() === written.toLowerCase());
  if (found !== undefined) return read(found);
  const near = nearestWord(written, words);
  const remedy = near === null ? "" : `\nWrite ${JSON.stringify(near)}.`;
  return unread(`one of ${words.map((word) => JSON.stringify(word)).join(", ")}${remedy}`);
}

/** Grades run from 0, no defect, to 5, worst; the columns that have no range of their own have at least that one. */
const rangeOf = (column: Column): readonly [number, number] | undefined =>
  column.range ?? (column.measure === "grade" ? [0, 5] : undefined);

function inRange(column: Column, value: number): Read<number> {
  const range = rangeOf(column);
  if (range === undefined || (value >= range[0] && value <= range[1])) return read(value);
  return unread(`a value${rangeText(column)}`);
}

/** ` from 50 mm to 400 mm (2 in to 15.7 in)`, rounded inwards for people. */
function rangeText(column: Column): string {
  const range = rangeOf(column);
  if (range === undefined) return "";
  if (!isQuantity(column.measure)) return ` from ${range[0]} to ${range[1]}`;
  const { stored, us, si } = quantities[column.measure];
  const inUnit = (unit: typeof us | typeof si) => {
    const [least, most] = range.map((limit) => convert(limit, stored, unit)) as [number, number];
    const name = units[unit].spellings[0];
    return `${Math.ceil(least * 10 - 1e-9) / 10} ${name} to ${Math.floor(most * 10 + 1e-9) / 10} ${name}`;
  };
  return us === si ? ` from ${inUnit(us)}` : ` from ${inUnit(us)} (${inUnit(si)})`;
}

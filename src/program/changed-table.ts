import type { z } from "zod";
import { type QuantityMeasure, quantities } from "../quantity/measure.ts";
import { units } from "../quantity/units.ts";
import { describeSource, type Source } from "../reference/source.ts";
import type { JsonPath } from "./json-places.ts";
import { SETTINGS_FILE } from "./program-files.ts";
import { type Fault, faultsOf, valueAt } from "./settings-faults.ts";
import { readTyped } from "./written-values.ts";

type Measures = Readonly<Record<string, QuantityMeasure>>;

/**
 * Changes from program.json as the reference tables write them: `soil_modulus: "1000 psi"` becomes
 * `soilModulus: 6.89…`. Lists are taken whole.
 *
 * @param measures of the keys whose text is a quantity
 */
export function asTable(written: unknown, measures: Measures, measure?: QuantityMeasure): unknown {
  if (typeof written === "string" && measure !== undefined) {
    const value = readTyped(written, measure);
    if (value === null) throw new RangeError(`asTable: ${JSON.stringify(written)} is no ${measure}`);
    return value;
  }
  if (Array.isArray(written)) return written.map((item) => asTable(item, measures, measure));
  if (typeof written !== "object" || written === null) return written;
  return Object.fromEntries(
    Object.entries(written).map(([key, value]) => [camelKey(key), asTable(value, measures, measures[key])]),
  );
}

/** A table with changes laid over it: groups are merged, everything else is replaced, a source too: half of another's would be no source. */
export function overlaid(base: unknown, changes: unknown): unknown {
  if (!isGroup(base) || !isGroup(changes) || "document" in changes)
    return changes === undefined ? base : changes;
  const merged: Record<string, unknown> = { ...base };
  for (const [key, change] of Object.entries(changes)) merged[key] = overlaid(base[key], change);
  return merged;
}

/**
 * The changed table, if the table's own schema accepts it; its limits are worded in the unit they are kept in.
 *
 * @param at where the changes stand in program.json
 * @param pathIn the way to a value as program.json writes it, where the table has groups that it does not
 */
export function checkedTable<T>(
  schema: z.ZodType<T>,
  table: unknown,
  settings: unknown,
  at: JsonPath,
  measures: Measures,
  faults: Fault[],
  pathIn: (path: JsonPath) => JsonPath = (path) => path,
): T | null {
  const checked = faultsOf(schema, table, settings, (path) => writtenPath(settings, at, pathIn(path)));
  if ("value" in checked) return checked.value;
  faults.push(
    ...checked.faults.map((fault) => {
      const measure = measures[String(fault.path.findLast((part) => typeof part === "string"))];
      const unit = measure === undefined ? "" : units[quantities[measure].stored].spellings[0];
      return unit === "" ? fault : { ...fault, expected: `${fault.expected} ${unit}` };
    }),
  );
  return null;
}

/** The source of a value that program.json changes: the program's own, with what it replaces. */
export const changedSource = (at: string, replaced: Source, what: string): Source => ({
  document: SETTINGS_FILE,
  at,
  note: `${what} Changed from: ${describeSource(replaced)}`,
});

/** Keys of the tables that are not their own key in snake case. */
const RENAMED: readonly (readonly [written: string, table: string])[] = [
  ["from_age_years", "fromAge"],
  ["minutes_per_metre", "perMetre"],
  ["minutes_per_branch", "perBranch"],
];

const camelKey = (key: string): string =>
  RENAMED.find(([written]) => written === key)?.[1] ??
  key.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase());

const writtenKey = (key: string | number): string | number =>
  typeof key === "number"
    ? key
    : (RENAMED.find(([, table]) => table === key)?.[0] ??
      key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`));

/** Names that people gave, such as a district's, stand in program.json as they are in the table. */
function writtenPath(settings: unknown, at: JsonPath, path: JsonPath): JsonPath {
  const written = [...at];
  for (const key of path)
    written.push(valueAt(settings, [...written, key]) === undefined ? writtenKey(key) : key);
  return written;
}

const isGroup = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

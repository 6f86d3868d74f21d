import type { Column } from "../columns/column.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../columns/lateral-columns.ts";
import { isQuantity, type Measure, quantities } from "../quantity/measure.ts";
import { sameDimension, type UnitKey, units, unitWritten } from "../quantity/units.ts";
import { observationKinds } from "../reference/observation-kinds.ts";
import type { JsonPath } from "./json-places.ts";
import { type Fault, faultAt, unknownKey } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

/** What the shape of program.json cannot say: units that fit their columns, and names that mean one thing only. */
export const nameFaults = (settings: Settings): readonly Fault[] => [
  ...placeFaults(settings, ["laterals"], settings.laterals.columns, lateralColumns),
  ...(settings.inspections === undefined
    ? []
    : placeFaults(settings, ["inspections"], settings.inspections.columns, inspectionColumns)),
  ...(settings.added_inspections ?? []).flatMap(({ columns }, i) =>
    placeFaults(settings, ["added_inspections", i], columns, inspectionColumns),
  ),
  ...(settings.observations === undefined
    ? []
    : placeFaults(settings, ["observations"], settings.observations.columns, observationColumns)),
  ...kindFaults(settings),
  ...fileFaults(settings),
  ...aliasFaults(settings),
  ...wordFaults(settings),
];

/** The unit somebody wrote for a column: any spelling, or the unit's own key where it has none (`one`). */
export const unitNamed = (written: string): UnitKey | null =>
  unitWritten(written) ?? (Object.hasOwn(units, written) ? (written as UnitKey) : null);

function placeFaults(
  settings: Settings,
  file: JsonPath,
  places: Readonly<Record<string, { readonly unit?: string | undefined } | undefined>>,
  columns: readonly Column[],
): readonly Fault[] {
  return columns.flatMap((column) => {
    const path = [...file, "columns", column.key];
    const place = places[column.key];
    if (place === undefined) {
      return column.required === true ? faultAt(settings, path, `the column of ${column.heading}`) : [];
    }
    const expected = unitExpected(column.measure, place.unit);
    return expected === null ? [] : faultAt(settings, [...path, "unit"], expected);
  });
}

/** Null when the unit fits the measure. */
function unitExpected(measure: Measure, written: string | undefined): string | null {
  if (!isQuantity(measure)) {
    return written === undefined ? null : `no unit: a ${measure} has none\nTake "unit" out.`;
  }
  const { stored, us, si } = quantities[measure];
  const unit = written === undefined ? null : unitNamed(written);
  if (unit !== null && sameDimension(units[unit].dimension, units[stored].dimension)) return null;
  const spelled = [...new Set([us, si])].map((key) => JSON.stringify(units[key].spellings[0]));
  return `the unit of bare numbers in this column, such as ${spelled.join(" or ")}`;
}

/** A file is read once: as two of them its rows would all be there twice. */
function fileFaults(settings: Settings): readonly Fault[] {
  const named = new Set([settings.laterals.file, settings.inspections?.file ?? ""].map(plain));
  return (settings.added_inspections ?? []).flatMap(({ file }, i) => {
    if (named.has(plain(file)))
      return [faultAt(settings, ["added_inspections", i, "file"], "a file not named above\nTake it out.")];
    named.add(plain(file));
    return [];
  });
}

function aliasFaults(settings: Settings): readonly Fault[] {
  const aliases = settings.district_aliases ?? {};
  const owner = new Map(Object.keys(aliases).map((district) => [plain(district), district]));
  return Object.entries(aliases).flatMap(([district, others]) =>
    others.flatMap((alias, i) =>
      onceOnly(settings, ["district_aliases", district, i], alias, district, owner),
    ),
  );
}

const FLAG_WORDS = ["yes", "no"];

/** Columns whose cells are one of a list of words, by key. */
export const wordColumns: ReadonlyMap<string, readonly string[]> = new Map(
  ([...lateralColumns, ...inspectionColumns, ...observationColumns] as readonly Column[]).flatMap((column) =>
    column.measure === "flag"
      ? [[column.key, FLAG_WORDS]]
      : column.words !== undefined
        ? [[column.key, column.words]]
        : [],
  ),
);

function wordFaults(settings: Settings): readonly Fault[] {
  return Object.entries(settings.words ?? {}).flatMap(([key, byWord]) => {
    const ours = wordColumns.get(key);
    if (ours === undefined) return [unknownKey(["words", key], [...wordColumns.keys()])];
    const owner = new Map(ours.map((word) => [plain(word), word]));
    return Object.entries(byWord).flatMap(([word, theirs]) => {
      if (!ours.includes(word)) return [unknownKey(["words", key, word], ours)];
      return theirs.flatMap((city, i) => onceOnly(settings, ["words", key, word, i], city, word, owner));
    });
  });
}

/** A code of the city means one kind; our own kinds stand for themselves. */
function kindFaults(settings: Settings): readonly Fault[] {
  const kinds = settings.observations?.kinds ?? {};
  const owner = new Map(observationKinds.kinds.map(({ kind }) => [plain(kind), kind]));
  const faults = Object.entries(kinds).flatMap(([kind, codes]) =>
    (codes ?? []).flatMap((code, i) =>
      onceOnly(settings, ["observations", "kinds", kind, i], code, kind, owner),
    ),
  );
  if (settings.observations !== undefined && settings.inspections === undefined)
    faults.push(faultAt(settings, ["inspections"], "the inspection file that the observations are of"));
  return faults;
}

/** A name that already belongs to another is a fault; a new one is entered. */
function onceOnly(
  settings: Settings,
  path: JsonPath,
  name: string,
  belongsTo: string,
  owner: Map<string, string>,
): readonly Fault[] {
  const other = owner.get(plain(name));
  if (other !== undefined && other !== belongsTo) {
    return [faultAt(settings, path, `a name that is not already ${JSON.stringify(other)}`)];
  }
  owner.set(plain(name), belongsTo);
  return [];
}

const plain = (name: string): string => name.trim().toLowerCase();

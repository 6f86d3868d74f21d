import type { Column } from "../columns/column.ts";
import { isoDate } from "../quantity/calendar.ts";
import { isNumeric, isQuantity, quantities, toShown } from "../quantity/measure.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { day } from "../quantity/si.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import type { Place, ToPlace } from "./declared-system.ts";

type Value = string | number | boolean | null;

export interface LateralFeature {
  readonly type: "Feature";
  /** Text, as every id of the program: `00417`. */
  readonly id: string;
  readonly geometry: { readonly type: "Point"; readonly coordinates: Place } | null;
  readonly properties: Readonly<Record<string, Value>>;
}

export type Box = readonly [west: number, south: number, east: number, north: number];

/** RFC 7946, with the program's name and day as members of its own (6.1 allows them). */
export interface LateralFeatures {
  readonly type: "FeatureCollection";
  readonly bbox?: Box;
  readonly program: string;
  readonly as_of: string;
  readonly features: readonly LateralFeature[];
}

/** Seven decimals of a degree are about a centimetre; RFC 7946, 11.2, advises against more than is known. */
const DECIMALS = 7;

const rounded = (degrees: number): number => Number(degrees.toFixed(DECIMALS));

/** Where each lateral is, by row; null where the city gives no coordinates, or such as are no place. */
export const lateralPlaces = (laterals: Table, toPlace: ToPlace): readonly (Place | null)[] =>
  Array.from({ length: laterals.rows }, (_, row) =>
    toPlace(numberAt(laterals, "x", row), numberAt(laterals, "y", row)),
  );

/**
 * Every lateral once, in the order of the city's file, with what the plan says of it. A lateral without a place has a
 * null geometry (RFC 7946, 3.2). Names of properties carry the unit of their numbers: `host_length_ft`.
 *
 * @param columns that are handed on
 */
export function lateralFeatures(
  program: PlannedProgram,
  places: readonly (Place | null)[],
  columns: readonly Column[],
): LateralFeatures {
  const { laterals, basis } = program;
  const given = columns.filter(({ key }) => !["lateral", "x", "y"].includes(key));
  const features = places.map((place, row): LateralFeature => {
    const id = textAt(laterals, "lateral", row);
    return {
      type: "Feature",
      id,
      geometry:
        place === null ? null : { type: "Point", coordinates: [rounded(place[0]), rounded(place[1])] },
      properties: Object.fromEntries([
        ["lateral", id],
        ...given.map((column) => [
          propertyName(column, basis.program),
          valueAt(laterals, column, row, basis.program),
        ]),
      ]),
    };
  });
  const bbox = boxOf(features.flatMap(({ geometry }) => (geometry === null ? [] : [geometry.coordinates])));
  return {
    type: "FeatureCollection",
    ...(bbox === null ? {} : { bbox }),
    program: basis.program.name,
    as_of: isoDate(basis.program.asOf),
    features,
  };
}

/** `host_length_ft`, `cost_USD`; columns without a unit have their own key. */
export function propertyName({ key, measure }: Column, { units, currency }: NumberStyle): string {
  if (!isQuantity(measure)) return key;
  return `${key}_${measure === "money" ? currency : quantities[measure][units]}`;
}

function valueAt(table: Table, { key, measure }: Column, row: number, { units }: NumberStyle): Value {
  if (!isNumeric(measure)) {
    const text = textAt(table, key, row);
    return text === "" ? null : text;
  }
  const value = numberAt(table, key, row);
  if (Number.isNaN(value)) return null;
  if (measure === "flag") return value !== 0;
  if (measure === "date") return isoDate(day(value));
  // The last binary digits are noise: 37.5 ft comes back from metres as 37.500000000000004.
  return Number((isQuantity(measure) ? toShown(value, measure, units) : value).toPrecision(12));
}

/**
 * The box around places: west, south, east, north. One that spans more than half the globe lies across the
 * antimeridian, and its west is the greater number (RFC 7946, 5.2). Null around nothing.
 */
export function boxOf(places: readonly Place[]): Box | null {
  const first = places[0];
  if (first === undefined) return null;
  let [west, south] = first;
  let [east, north] = first;
  for (const [longitude, latitude] of places) {
    west = Math.min(west, longitude);
    east = Math.max(east, longitude);
    south = Math.min(south, latitude);
    north = Math.max(north, latitude);
  }
  if (east - west <= 180) return [west, south, east, north];
  const positive = places.map(([longitude]) => longitude).filter((longitude) => longitude >= 0);
  const negative = places.map(([longitude]) => longitude).filter((longitude) => longitude < 0);
  return [Math.min(...positive), south, Math.max(...negative), north];
}

import proj4 from "proj4";
import { type Fault, faultAt } from "../program/settings-faults.ts";
import type { Settings } from "../program/settings-schema.ts";

/** Longitude and latitude, WGS 84, in degrees. */
export type Place = readonly [longitude: number, latitude: number];

/** Takes the city's x and y to a place on earth; null where the system has no place for them. */
export type ToPlace = (x: number, y: number) => Place | null;

export type DeclaredSystem =
  | { readonly ok: true; readonly system: string; readonly toPlace: ToPlace }
  | { readonly ok: false; readonly fault: Fault };

const WGS_84 = "EPSG:4326";

/**
 * The city's coordinate system as program.json declares it. Not declared is a fault: the same numbers are believable in
 * many systems, and none of them is guessed.
 *
 * A definition without a datum (`+datum`, `+towgs84`) is taken to be on WGS 84; the NAD 83 and ETRS 89 of the Americas
 * and Europe lie within about two metres of it, which is not corrected.
 */
export function declaredSystem(settings: Settings): DeclaredSystem {
  const refused = (expected: string): DeclaredSystem => ({
    ok: false,
    fault: faultAt(settings, ["coordinates", "system"], expected),
  });
  const system = settings.coordinates?.system;
  if (system === undefined)
    return refused(
      "the system that the columns x and y are in\n" +
        'Add "coordinates": { "system": "EPSG:4326" } for longitude and latitude, or the definition of the city\'s system ("+proj=…"); ask who made the file. Nothing is guessed from the numbers.',
    );
  if (/\+nadgrids=(?!@null)/.test(system))
    return refused(
      "a system without a file of shifts (+nadgrids)\nUse +towgs84 or leave it out: such a file is not read.",
    );
  if (system.startsWith("EPSG:") && proj4.defs(system) === undefined)
    return refused(
      "EPSG:4326, 4269, 3857, a UTM zone (EPSG:32601 … 32760), or a definition\n" +
        `Write the definition that the register gives for ${system}, such as "+proj=lcc +lat_1=… +units=us-ft".`,
    );
  try {
    const convert = proj4(system, WGS_84);
    const toPlace: ToPlace = (x, y) => {
      if (!Number.isFinite(x) || !Number.isFinite(y)) return null;
      const [longitude, latitude] = convert.forward([x, y]) as [number, number];
      const onEarth = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
      return onEarth && isBack(convert.inverse([longitude, latitude]), x, y) ? [longitude, latitude] : null;
    };
    return { ok: true, system, toPlace };
  } catch {
    return refused(
      "a definition that can be read, such as +proj=utm +zone=15 +datum=WGS84\nCorrect it here.",
    );
  }
}

/** Far outside of its area a projection still gives some number, but not the way back. A hundredth of a unit, or 1e-6 of a degree's size. */
const isBack = ([backX = Number.NaN, backY = Number.NaN]: readonly number[], x: number, y: number): boolean =>
  Math.abs(backX - x) <= BACK * Math.max(1, Math.abs(x)) &&
  Math.abs(backY - y) <= BACK * Math.max(1, Math.abs(y));
const BACK = 1e-6;

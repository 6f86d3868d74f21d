import type {
  CityFile,
  HeaderPlace,
  InspectionFile,
  LateralFile,
  ObservationFile,
} from "../columns/city-file.ts";
import type { Problem } from "../quantity/problem.ts";
import type { UnitKey } from "../quantity/units.ts";
import { writeAtomically } from "./atomic-write.ts";
import { layBasis } from "./basis-for-settings.ts";
import { scanJson } from "./json-places.ts";
import type { ProgramLock } from "./lock.ts";
import { noProgram } from "./no-program.ts";
import { cityFile, MOST_BYTES, NO_SUCH_FILE, readInside, SETTINGS_FILE } from "./program-files.ts";
import { seasonFaults } from "./season-settings.ts";
import { type Fault, faultProblem, faultsOf } from "./settings-faults.ts";
import { nameFaults, unitNamed } from "./settings-names.ts";
import { type Settings, settingsSchema } from "./settings-schema.ts";

export type SettingsReading =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** The settings of a program folder, or everything that is wrong with them; its city files must be there too. */
export async function readSettings(folder: string): Promise<SettingsReading> {
  const place = await readInside(folder, SETTINGS_FILE, MOST_BYTES.settings);
  if (!place.ok) {
    const { problem } = place;
    return { ok: false, problems: [problem.found === NO_SUCH_FILE ? await noProgram(folder) : problem] };
  }
  const reading = readSettingsText(place.bytes);
  if (!reading.ok) return reading;
  const { laterals, inspections, added_inspections: added = [], observations } = reading.settings;
  const problems: Problem[] = [];
  for (const file of [laterals, inspections, ...added, observations]) {
    if (file === undefined) continue;
    const inside = await cityFile(folder, file.file);
    if (!inside.ok) problems.push(inside.problem);
  }
  return problems.length === 0 ? reading : { ok: false, problems };
}

/** The same from the bytes of program.json, without a disk. */
export function readSettingsText(bytes: Uint8Array): SettingsReading {
  const refused = (row: number | null, found: string, expected: string, remedy: string): SettingsReading => ({
    ok: false,
    problems: [{ severity: "rejected", file: SETTINGS_FILE, row, column: null, found, expected, remedy }],
  });
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return refused(null, "bytes that are no UTF-8 text", "text in UTF-8", "Save the file as UTF-8.");
  }
  const scan = scanJson(text);
  if (!scan.ok) {
    const { line, column } = scan.place;
    const remedy = `Look at character ${column} of line ${line}; nothing has been changed.`;
    return refused(line, scan.line, `${scan.expected}, at character ${column}`, remedy);
  }
  const written: unknown = JSON.parse(text);
  const shape = faultsOf(settingsSchema, written);
  const faults =
    "faults" in shape
      ? shape.faults
      : [...nameFaults(shape.value), ...layBasis(shape.value).faults, ...seasonFaults(shape.value)];
  if ("value" in shape && faults.length === 0) return { ok: true, settings: shape.value };
  return { ok: false, problems: faults.map((fault) => faultProblem(fault, scan.placeOf)) };
}

/** Faults that others found in settings that were read, with the lines they have in program.json. */
export async function placedFaults(folder: string, faults: readonly Fault[]): Promise<readonly Problem[]> {
  const place = await readInside(folder, SETTINGS_FILE, MOST_BYTES.settings);
  if (!place.ok) return [place.problem];
  const scan = scanJson(new TextDecoder().decode(place.bytes));
  return faults.map((fault) => faultProblem(fault, scan.ok ? scan.placeOf : () => ({ line: 1, column: 1 })));
}

/** What reading these settings back would say, with the lines they would have. */
export const checkSettings = (settings: Settings): SettingsReading =>
  readSettingsText(new TextEncoder().encode(JSON.stringify(settings, null, 2)));

/**
 * program.json for these settings: always the same bytes for the same settings, keys in the order of the schema.
 *
 * @throws ZodError when the settings are not what the schema says
 */
export const settingsText = (settings: Settings): string =>
  `${JSON.stringify(settingsSchema.parse(settings), null, 2)}\n`;

/** Replaces program.json, unless what stands there is damaged or the new settings are not usable. */
export async function writeSettings(
  lock: ProgramLock,
  settings: Settings,
): Promise<{ readonly ok: true } | { readonly ok: false; readonly problems: readonly Problem[] }> {
  const standing = await readInside(lock.folder, SETTINGS_FILE, MOST_BYTES.settings);
  if (!standing.ok) return { ok: false, problems: [standing.problem] };
  const before = readSettingsText(standing.bytes);
  if (!before.ok) return before;
  const after = checkSettings(settings);
  if (!after.ok) return after;
  await writeAtomically(standing.path, settingsText(after.settings));
  return { ok: true };
}

/** How the lateral file is read, as intake takes it. */
export const lateralFile = (settings: Settings): LateralFile => ({
  ...reader(settings.laterals),
  columns: places(settings.laterals.columns),
});

/** How the inspection file is read; null when the program has none. */
export const inspectionFile = (settings: Settings): InspectionFile | null =>
  settings.inspections === undefined ? null : inspectionReader(settings.inspections);

/**
 * Every inspection file of the program: the first one, then those taken in later by name. The order in which they
 * were taken in never matters.
 */
export const inspectionFiles = (settings: Settings): readonly InspectionFile[] => [
  ...(settings.inspections === undefined ? [] : [inspectionReader(settings.inspections)]),
  ...(settings.added_inspections ?? [])
    .map(inspectionReader)
    .sort((a, b) => (a.file < b.file ? -1 : a.file === b.file ? 0 : 1)),
];

const inspectionReader = (written: NonNullable<Settings["inspections"]>): InspectionFile => ({
  ...reader(written),
  columns: places(written.columns),
  worstGrade: written.worst_grade,
});

/** How the observation file is read; null when the program has none. */
export const observationFile = (settings: Settings): ObservationFile | null =>
  settings.observations === undefined
    ? null
    : {
        ...reader(settings.observations),
        columns: places(settings.observations.columns),
        worstGrade: settings.observations.worst_grade,
      };

type Written =
  | Settings["laterals"]
  | NonNullable<Settings["inspections"]>
  | NonNullable<Settings["observations"]>;

const reader = (written: Written) => ({
  file: written.file,
  delimiter: written.delimiter,
  encoding: written.encoding,
  decimalMark: written.decimal_mark,
  dateOrder: written.date_order,
});

function places<Key extends string>(
  written: Partial<Record<Key, { readonly heading: string; readonly unit?: string | undefined }>>,
): CityFile<Key>["columns"] {
  const columns: Partial<Record<Key, HeaderPlace>> = {};
  for (const key of Object.keys(written) as Key[]) {
    const place = written[key];
    if (place === undefined) continue;
    columns[key] =
      place.unit === undefined
        ? { heading: place.heading }
        : { heading: place.heading, unit: unitOf(place.unit) };
  }
  return columns;
}

function unitOf(written: string): UnitKey {
  const unit = unitNamed(written);
  if (unit === null) throw new RangeError(`lateralFile: ${JSON.stringify(written)} is no unit`);
  return unit;
}

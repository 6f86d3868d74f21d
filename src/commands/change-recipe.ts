import type { ProgramLock } from "../program/lock.ts";
import { checkSettings, readSettings, writeSettings } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { describeProblem, type Problem, quoted } from "../quantity/problem.ts";

export type ChangedSettings =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly because: string };

/**
 * The settings of the folder with one value of the recipe changed; everything else as program.json has it now. Empty text takes the value
 * away, so that the house's own counts.
 *
 * @param path keys in program.json
 */
export async function changedSettings(
  folder: string,
  path: readonly string[],
  text: string,
): Promise<ChangedSettings> {
  const reading = await readSettings(folder);
  if (!reading.ok) return { ok: false, because: inWords(reading.problems) };
  const checked = checkSettings(
    laid(reading.settings, path, writtenValue(path, text, reading.settings)) as Settings,
  );
  return checked.ok ? checked : { ok: false, because: checked.problems.map(typedAndRefused).join("\n") };
}

/** Writes a changed value into program.json, whole or not at all. Null when it is done, else why not. */
export async function writeRecipe(
  lock: ProgramLock,
  path: readonly string[],
  text: string,
): Promise<string | null> {
  const changed = await changedSettings(lock.folder, path, text);
  if (!changed.ok) return changed.because;
  const written = await writeSettings(lock, changed.settings);
  return written.ok ? null : inWords(written.problems);
}

const inWords = (problems: readonly Problem[]): string => problems.map(describeProblem).join(" ");

/** Of what was typed and stands in no file yet: its line there is no line that anybody could look at. */
const typedAndRefused = ({ column, found, expected, remedy }: Problem): string =>
  `${column === null ? "" : `${column}: `}found ${quoted(found)}, expected ${expected}. ${remedy}`;

/** Formulas are text; the tables of risk hold numbers, and lists of them written `1, 2, 3`. */
function writtenValue(path: readonly string[], text: string, settings: Settings): unknown {
  if (text === "") return undefined;
  const [first, second, key = ""] = path;
  if (first === "recipe") {
    const standing = second === "columns" ? settings.recipe?.columns?.[key] : undefined;
    // The heading of a column stays.
    return typeof standing === "object" ? { ...standing, formula: text } : text;
  }
  // Settings are checked as they would be read; what is no number is refused there, with its key.
  const numbers = text.split(",").map((part) => (part.trim() === "" ? part : Number(part)));
  if (path.at(-1) === "weights") return { building: numbers[0], surface: numbers[1] };
  const only = text.includes(",") ? numbers : numbers[0];
  return typeof only === "number" && Number.isNaN(only) ? text : only;
}

function laid(settings: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  const standing = typeof settings === "object" && settings !== null ? settings : {};
  const below = laid((standing as Readonly<Record<string, unknown>>)[key], rest, value);
  const { [key]: _before, ...others } = standing as Record<string, unknown>;
  const isEmpty = below === undefined || (isGroup(below) && Object.keys(below).length === 0);
  return isEmpty ? others : { ...standing, [key]: below };
}

const isGroup = (value: unknown): value is object =>
  typeof value === "object" && value !== null && !Array.isArray(value);

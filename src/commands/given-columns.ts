import type { HeaderPlace } from "../columns/city-file.ts";
import type { InspectionKey, LateralKey, ObservationKey } from "../columns/lateral-columns.ts";
import type { FilePart } from "../intake/match-lines.ts";
import { scanJson } from "../program/json-places.ts";
import { MOST_BYTES, readAtMost } from "../program/program-files.ts";
import { describeProblem } from "../quantity/problem.ts";
import { unitWritten } from "../quantity/units.ts";
import { CannotMake, orCannotMake } from "./cannot-make.ts";

/** Where somebody says that columns stand, by file; null for a column that the file does not have. */
export type Given = Partial<
  Record<FilePart, Readonly<Partial<Record<LateralKey | InspectionKey | ObservationKey, HeaderPlace | null>>>>
>;

/** The columns of a file of settings, as `--settings` names it. */
export async function readGiven(path: string): Promise<Given> {
  const read = await orCannotMake(path, readAtMost(path, MOST_BYTES.settings));
  if (!read.ok) throw new CannotMake(describeProblem(read.problem));
  const text = new TextDecoder().decode(read.bytes);
  const scan = scanJson(text);
  if (!scan.ok)
    throw new CannotMake(
      `--settings ${path}, line ${scan.place.line}: found ${JSON.stringify(scan.line)}, expected ${scan.expected}.`,
    );
  const parsed = JSON.parse(text) as Partial<Record<FilePart, { columns?: unknown } | null>> | null;
  const given: Record<string, Record<string, HeaderPlace | null>> = {};
  for (const part of ["laterals", "inspections", "observations"] as const) {
    const columns = parsed?.[part]?.columns;
    if (typeof columns !== "object" || columns === null) continue;
    given[part] = Object.fromEntries(
      Object.entries(columns).map(([key, place]) => [key, placeGiven(path, key, place)]),
    );
  }
  if (Object.keys(given).length === 0)
    throw new CannotMake(
      `--settings ${path}: found no "columns" of "laterals" or "inspections". Write { "laterals": { "columns": { "host_diameter": { "heading": "DIAM" } } } }.`,
    );
  return given as Given;
}

function placeGiven(path: string, key: string, place: unknown): HeaderPlace | null {
  if (place === null) return null;
  const { heading, unit } = place as { heading?: unknown; unit?: unknown };
  if (typeof heading !== "string")
    throw new CannotMake(`--settings ${path}: write "${key}": { "heading": "DIAM" }.`);
  if (unit === undefined) return { heading };
  const known = typeof unit === "string" ? unitWritten(unit) : null;
  if (known === null)
    throw new CannotMake(
      `--settings ${path}: ${key} has the unit ${JSON.stringify(unit)}, expected one such as "in" or "mm".`,
    );
  return { heading, unit: known };
}

import type { Column } from "../columns/column.ts";
import { type Candidate, type HeadingMatch, placeOnly } from "./heading-match.ts";

/** Name of the file's part of program.json. */
export type FilePart = "laterals" | "inspections" | "observations";

/**
 * What to write into program.json for the columns whose heading is not certain: for each a line that says what it is
 * about, then a line for each heading it may be, ready to copy.
 */
export function linesForUncertain(
  part: FilePart,
  matches: readonly HeadingMatch[],
  columns: readonly Column[],
): string[] {
  return matches.flatMap((match) => {
    if (match.kind !== "uncertain") return [];
    const column = columns.find(({ key }) => key === match.key);
    const [one] = match.candidates;
    return [
      match.candidates.length === 1 && one !== undefined
        ? `Not certain where "${match.key}" is (${column?.help ?? ""}) If it is ${JSON.stringify(one.heading)}, write:`
        : `Not certain where "${match.key}" is (${column?.help ?? ""}) Write one of:`,
      ...match.candidates.map((candidate) => `  ${settingsLine(part, match.key, candidate)}`),
    ];
  });
}

/** The columns whose unit is the program's because the heading names none: to be checked by a person. */
export function linesForAssumedUnits(part: FilePart, matches: readonly HeadingMatch[]): string[] {
  return matches.flatMap((match) =>
    match.kind === "certain" && match.place.unitFrom === "program"
      ? [
          `${JSON.stringify(match.place.heading)} names no unit: bare numbers are read in the program's own. If that is wrong, change:`,
          `  ${settingsLine(part, match.key, match.place)}`,
        ]
      : [],
  );
}

/** `"laterals": { "columns": { "host_diameter": { "heading": "DIAM", "unit": "in" } } }` */
function settingsLine(part: FilePart, key: string, candidate: Candidate): string {
  const { heading, unit } = placeOnly(candidate);
  const inner =
    unit === undefined
      ? `{ "heading": ${JSON.stringify(heading)} }`
      : `{ "heading": ${JSON.stringify(heading)}, "unit": ${JSON.stringify(unit)} }`;
  return `"${part}": { "columns": { ${JSON.stringify(key)}: ${inner} } }`;
}

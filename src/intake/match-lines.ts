import type { Column } from "../columns/column.ts";
import { unitInWords } from "../quantity/units.ts";
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
    const about = `Not certain where "${match.key}" is (${column?.help ?? ""})${match.candidates.map(unfitSaid).join("")}`;
    return [
      match.candidates.length === 1 && one !== undefined
        ? `${about} If it is ${JSON.stringify(one.heading)}, write:`
        : `${about} Write one of:`,
      ...match.candidates.map((candidate) => `  ${settingsLine(part, match.key, placeToSettle(candidate))}`),
    ];
  });
}

const unfitSaid = ({ heading, unfitUnit }: Candidate): string =>
  unfitUnit === undefined ? "" : ` ${JSON.stringify(heading)} says ${unfitUnit}, which is no unit of it.`;

/** The columns whose unit is the program's because the heading names none: to be checked by a person. */
export function linesForAssumedUnits(part: FilePart, matches: readonly HeadingMatch[]): string[] {
  return matches.flatMap((match) =>
    match.kind === "certain" && match.place.unitFrom === "program"
      ? [
          `${JSON.stringify(match.place.heading)} names no unit: bare numbers are read as ${unitIn(match.place)}, the program's own. If they are in another, write it for … in:`,
          `  ${settingsLine(part, match.key, { ...match.place, unit: "…" })}`,
        ]
      : [],
  );
}

const unitIn = ({ unit }: Candidate): string => (unit === undefined ? "they stand" : unitInWords(unit));

/** A place as people write it, with a unit that may still be a question. */
export interface WrittenPlace {
  readonly heading: string;
  readonly unit?: string;
}

/** The place as it may be written: which unit the numbers have under a heading that says another kind of unit, only a person knows. */
export const placeToSettle = (candidate: Candidate): WrittenPlace =>
  candidate.unfitUnit === undefined ? placeOnly(candidate) : { heading: candidate.heading, unit: "?" };

/** `"laterals": { "columns": { "host_diameter": { "heading": "DIAM", "unit": "in" } } }` */
function settingsLine(part: FilePart, key: string, { heading, unit }: WrittenPlace): string {
  const inner =
    unit === undefined
      ? `{ "heading": ${JSON.stringify(heading)} }`
      : `{ "heading": ${JSON.stringify(heading)}, "unit": ${JSON.stringify(unit)} }`;
  return `"${part}": { "columns": { ${JSON.stringify(key)}: ${inner} } }`;
}

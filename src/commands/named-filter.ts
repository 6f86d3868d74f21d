import type { FilteredRows } from "../season/own-columns.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { CommandIo } from "./command-io.ts";

/** The filter of program.json by its name; null, and said, where there is none of that name. */
export function filterOrSay({ filters }: PlannedProgram, name: string, io: CommandIo): FilteredRows | null {
  const found = filters.find((filter) => filter.name === name);
  if (found !== undefined) return found;
  const names = filters.map((filter) => JSON.stringify(filter.name)).join(", ");
  io.err(
    `No filter ${JSON.stringify(name)} in program.json. ${names === "" ? 'It has none: see "recipe" in shared/docs/formulas.md.' : `Its filters: ${names}.`}\n`,
  );
  return null;
}

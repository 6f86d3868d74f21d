import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** Changes the season of program.json, as a person would. */
export function changeRules(folder: string, changes: object): void {
  const path = join(folder, "program.json");
  const program = JSON.parse(readFileSync(path, "utf8"));
  program.season = { ...program.season, ...changes };
  writeFileSync(path, JSON.stringify(program, null, 2));
}

import type { DefinedNames } from "exceljs";
import type { Book } from "./sheet-model.ts";

/** Gives the named cells of all sheets their names. */
export function addNames(names: DefinedNames, { sheets }: Book): void {
  for (const sheet of sheets)
    for (const [name, address] of Object.entries(sheet.names ?? {}))
      names.add(`'${sheet.name.replaceAll("'", "''")}'!${address}`, name);
}

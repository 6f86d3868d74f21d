import type { Column } from "../columns/column.ts";
import type { CommandIo } from "./command-io.ts";

/** Columns of ours that lead to a home or say what was agreed with those who live there. */
const OURS: ReadonlySet<string> = new Set(["location", "permission_signed", "permission_expires"]);
/** Columns of the city's file that the program does not know: nobody can say what they hold. */
const CITYS = "other:";

/** Whether a column may tell of an occupant: it is left out of what is handed on unless somebody asks for it. */
export const tellsOfOccupants = ({ key }: Pick<Column, "key">): boolean =>
  OURS.has(key) || key.startsWith(CITYS);

/** The columns that are handed on; what is left out is said, so that nobody takes it for missing. */
export function columnsFor(
  columns: readonly Column[],
  withAddresses: boolean,
  io: CommandIo,
): readonly Column[] {
  if (withAddresses) {
    const shown = columns.filter(tellsOfOccupants).map(({ heading }) => heading);
    if (shown.length > 0) io.err(`With ${shown.join(", ")}: keep it from the public.\n`);
    return columns;
  }
  const left = columns.filter(tellsOfOccupants).map(({ heading }) => heading);
  if (left.length > 0)
    io.err(`Left out, as they may tell of occupants: ${left.join(", ")}. --with-addresses puts them in.\n`);
  return columns.filter((column) => !tellsOfOccupants(column));
}

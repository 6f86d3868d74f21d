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
  sayColumns(columns.filter(tellsOfOccupants), withAddresses, io);
  return withAddresses ? columns : columns.filter((column) => !tellsOfOccupants(column));
}

/** Says which columns that may tell of occupants are handed on, or left out. */
export function sayColumns(
  columns: readonly Pick<Column, "heading">[],
  withAddresses: boolean,
  io: CommandIo,
): void {
  const names = columns.map(({ heading }) => heading).join(", ");
  if (names === "") return;
  io.err(
    withAddresses
      ? `With ${names}: keep it from the public.\n`
      : `Left out, as they may tell of occupants: ${names}. --with-addresses puts them in.\n`,
  );
}

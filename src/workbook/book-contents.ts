import type { PlannedLateral } from "../plan/plan-lateral.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";

/** What the books are made from. */
export interface BookContents {
  readonly program: PlannedProgram;
  /** The full record of one lateral by its row, worked out again: planLateral of lateralAt. */
  readonly recordAt: (row: number) => PlannedLateral;
}

export const styleOf = ({ program }: BookContents): NumberStyle => program.basis.program;

/** How a district is written; "" is the laterals that the city puts in none. */
export const districtName = (district: string): string => (district === "" ? "(no district)" : district);

/** Districts by number, 1 first, in the order of the totals: formulas compare numbers, never a city's text. */
export function districtNumbers({ program }: BookContents): ReadonlyMap<string, number> {
  return new Map(program.totals.districts.map(({ district }, i) => [district, i + 1]));
}

/** With the first letter as a capital. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

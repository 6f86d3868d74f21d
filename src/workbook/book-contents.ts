import type { PlannedLateral } from "../plan/plan-lateral.ts";
import type { Reason } from "../plan/reason.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import type { Caution } from "../reference/cautions.ts";
import type { Source } from "../reference/source.ts";
import type { PlannedProgram } from "../season/planned-program.ts";

/** What the books are made from: the plan, and what the command gathers beside it. */
export interface BookContents {
  readonly program: PlannedProgram;
  /** The full record of one lateral by its row, worked out again. */
  readonly recordAt: (row: number) => PlannedLateral;
  readonly reasonInWords: (reason: Reason) => string;
  readonly sourceInWords: (source: Source) => string;
  readonly isAssumption: (source: Source) => boolean;
  /** The cautions for the treatments of this plan, the general ones first. */
  readonly cautions: readonly Caution[];
}

export const styleOf = ({ program }: BookContents): NumberStyle => program.basis.program;

/** How a district is written; "" is the laterals that the city puts in none. */
export const districtName = (district: string): string => (district === "" ? "(no district)" : district);

/** Districts by number, 1 first, in the order of the totals: formulas compare numbers, never a city's text. */
export function districtNumbers({ program }: BookContents): ReadonlyMap<string, number> {
  return new Map(program.totals.districts.map(({ district }, i) => [district, i + 1]));
}

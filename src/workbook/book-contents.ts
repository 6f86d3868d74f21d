import type { WorkStatus } from "../columns/plan-columns.ts";
import type { Lateral } from "../plan/lateral.ts";
import type { PlannedLateral } from "../plan/plan-lateral.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import type { ProgramHead } from "../reference/basis.ts";
import type { Breakdown } from "../season/breakdown.ts";
import type { Notices } from "../season/notices.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { RiskPicture } from "../season/risk-picture.ts";
import type { Takeoff } from "../season/takeoff.ts";
import type { Progress } from "../season/tracking.ts";
import type { SeasonUncertainty } from "../season/uncertainty/season-uncertainty.ts";
import type { BookedSeason } from "./calendar-sheet.ts";
import type { BookedSelection } from "./season-sheet.ts";

/** What the books are made from. */
export interface BookContents {
  readonly program: PlannedProgram;
  /** What of it is bid: without laterals that are done or refused. Its rows are its own. */
  readonly bid: Pick<BookContents, "program" | "lateralAt">;
  /** Of laterals that are done or refused. */
  readonly heldStatuses: readonly WorkStatus[];
  /** What is known of a lateral by its row, decisions over the city's values. */
  readonly lateralAt: (row: number) => Lateral;
  /** The full record of one lateral by its row, planned again: dear, so a book asks for it once a row at most. */
  readonly recordAt: (row: number) => PlannedLateral;
  /** The season's calendar; null where the program gives none. */
  readonly season: BookedSeason | null;
  /** When occupants have to be told; null where the program gives no calendar. */
  readonly notices: Notices | null;
  /** The saved season that the books show; null where there is none, or several and none was asked for. */
  readonly selected: BookedSelection | null;
  /** Rows of a list that one sheet holds. */
  readonly rowsASheet: number;
  /** What the money goes to and does, districts in the order of the totals. */
  readonly breakdown: { readonly districts: readonly Breakdown[]; readonly program: Breakdown };
  /** What a contractor must buy, apart from bid quantities. */
  readonly takeoff: Takeoff;
  /** How far the work has come. */
  readonly progress: { readonly districts: readonly Progress[]; readonly program: Progress };
  /** How sure cost and finish are. */
  readonly uncertainty: SeasonUncertainty;
  /** The batch seen whole. */
  readonly picture: RiskPicture;
}

/** How a program writes numbers and dates in what is printed. */
export const printedStyle = ({ units, currency, print }: ProgramHead): Required<NumberStyle> => ({
  units,
  currency,
  dates: print.dates,
});

export const styleOf = ({ program }: BookContents): Required<NumberStyle> =>
  printedStyle(program.basis.program);

/** With the first letter as a capital. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

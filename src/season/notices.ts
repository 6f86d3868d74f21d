import { describeNotice, workingDaysSaid } from "../plan/notice.ts";
import { textAt } from "../sheet/table.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { planSeason } from "./season-calendar.ts";
import { heldBackIn, isOpen, isVisitOver, standingAt } from "./tracking.ts";
import { datedVisits, type VisitDates } from "./visit-dates.ts";

/** The visits that occupants have to be told of, by district and day. */
export interface Notices extends VisitDates {
  /** Whose visits they are: a saved season's, or all that may be scheduled. */
  readonly of: string;
  /** Ids of laterals that nobody is sent to before a cross-bore is made safe. */
  readonly heldBack: readonly string[];
  /** Visits that are over, or to laterals done or refused: nobody is told of them. */
  readonly leftOut: number;
  /** `1 calendar day`. */
  readonly notice: string;
  /** What a day of it is, where that has to be said. */
  readonly noticeDay: string;
}

/**
 * Notices of the saved season whose columns the program has, of a season's own plan, or of all that may be scheduled; null without a
 * calendar. Whether a building stands empty is not known: each counts as occupied.
 */
export function noticesOf(program: PlannedProgram): Notices | null {
  const { laterals, basis, season, ofSeason } = program;
  if (basis.calendar === null) return null;
  const isOwn = ofSeason === undefined && season?.isFilled === true;
  const plan = isOwn ? null : planSeason(program);
  if (!isOwn && plan === null) return null;
  const { visits, undated, unpermitted } = plan === null ? season!.dates : datedVisits(program, plan);
  const open = new Map<string, number>();
  for (let row = 0; row < laterals.rows; row++)
    if (isOpen(standingAt(laterals, row))) open.set(textAt(laterals, "lateral", row), row);
  const told = visits.filter(({ lateral, crew }) => {
    const row = open.get(lateral);
    return row !== undefined && !isVisitOver(laterals, row, crew);
  });
  return {
    of: isOwn
      ? `season ${season!.name}`
      : ofSeason === undefined
        ? "all that may be scheduled"
        : `season ${ofSeason}`,
    visits: told,
    undated: undated.filter((lateral) => open.has(lateral)),
    unpermitted: unpermitted.filter(({ lateral }) => open.has(lateral)),
    heldBack: heldBackIn(program),
    leftOut: visits.length - told.length,
    notice: describeNotice(basis.steps),
    noticeDay: workingDaysSaid(basis.steps),
  };
}

import type { WorkStatus } from "../columns/plan-columns.ts";
import { readTakeoffKey } from "../plan/takeoff.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import { numberAt, numbersOf, pickRows, type Table, textAt } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { selectRows } from "./select-rows.ts";
import { totalByDistrict } from "./totals.ts";
import { type HeldRow, heldRows, isVisitOver } from "./tracking.ts";

/** What of a plan is asked for in a bid: all but what is done, refused or held back, and works that are over, which nobody will be paid for. */
export function workToBid(program: PlannedProgram): PlannedProgram {
  const held = heldRows(program);
  if (held.length === 0) return withoutWorksOver(program);
  const open = new Uint8Array(program.laterals.rows).fill(1);
  for (const { row } of held) open[row] = 0;
  return withoutWorksOver(selectRows(program, open));
}

/** Laterals with paid work in the plan that are not bid, because they are done, refused or held back. */
export function notBid(program: PlannedProgram): readonly HeldRow[] {
  const held = heldRows(program);
  if (held.length === 0) return held;
  const paid = new Set(numbersOf(program.lines, "lateral_row"));
  return held.filter(({ row }) => paid.has(row));
}

/** Paid work of a lateral under way that is over: it is in the lateral's planned cost, and not in the bid. */
export interface WorkOver {
  readonly lateral: string;
  readonly status: WorkStatus;
  /** At the program's prices; null where an item has none. */
  readonly cost: Cents | null;
}

/**
 * What the preparation is paid by. Cleaned or measured, the pipe has been cleaned; that a stop has been grouted in the same visit, or a
 * cleanout built, neither status says: those stay in the bid.
 */
const PAYS_PREPARATION: BidItemKey = "root cutting";

const itemOf = (line: string): string => line.split(" | ")[0]!;

/** Whether the bid line in a row is of work that is over. */
function overIn({ laterals, lines }: Pick<PlannedProgram, "laterals" | "lines">): (at: number) => boolean {
  const { codes, words } = wordCodesOf(lines, "line");
  const paysPreparation = words.map((line) => itemOf(line) === PAYS_PREPARATION);
  const rowOf = numbersOf(lines, "lateral_row");
  return (at) => paysPreparation[codes[at]!]! && isVisitOver(laterals, rowOf[at]!, "preparation");
}

/** Works that are over, of laterals under way. */
export function worksOver({
  laterals,
  lines,
}: Pick<PlannedProgram, "laterals" | "lines">): readonly WorkOver[] {
  return rowsWhere(lines, overIn({ laterals, lines })).map((at) => {
    const row = numberAt(lines, "lateral_row", at);
    const cost = numberAt(lines, "extension", at);
    return {
      lateral: textAt(laterals, "lateral", row),
      status: textAt(laterals, "status", row) as WorkStatus,
      cost: Number.isNaN(cost) ? null : cents(cost),
    };
  });
}

/** The plan without bid lines and materials of works that are over; costs of its laterals are those of the plan. */
function withoutWorksOver(program: PlannedProgram): PlannedProgram {
  const { laterals, lines, uses, basis } = program;
  const isOver = overIn(program);
  const kept = rowsWhere(lines, (at) => !isOver(at));
  if (kept.length === lines.rows) return program;
  const isUsed = (at: number) =>
    readTakeoffKey(textAt(uses, "use", at)).item !== PAYS_PREPARATION ||
    !isVisitOver(laterals, numberAt(uses, "lateral_row", at), "preparation");
  const left = {
    ...program,
    lines: pickRows(lines, Uint32Array.from(kept)),
    uses: pickRows(uses, Uint32Array.from(rowsWhere(uses, isUsed))),
  };
  return { ...left, totals: totalByDistrict(left, basis) };
}

const rowsWhere = ({ rows }: Table, is: (at: number) => boolean): readonly number[] =>
  Array.from({ length: rows }, (_, at) => at).filter(is);

/** Hundredths of each bid line of what is bid. */
export function bidLinesToBid(program: PlannedProgram): ReadonlyMap<string, number> {
  const all = program.totals.program.bidLines;
  const { lines } = program;
  const held = new Set(notBid(program).map(({ row }) => row));
  const isOver = overIn(program);
  const bid = rowsWhere(lines, (at) => !held.has(numberAt(lines, "lateral_row", at)) && !isOver(at));
  if (bid.length === lines.rows) return all;
  const left = new Map<string, number>();
  for (const at of bid) {
    const key = textAt(lines, "line", at);
    left.set(key, (left.get(key) ?? 0) + numberAt(lines, "hundredths", at));
  }
  return left;
}

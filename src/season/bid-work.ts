import { numberAt, textAt } from "../sheet/table.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { selectRows } from "./select-rows.ts";
import { type HeldRow, heldRows } from "./tracking.ts";

/** What of a plan is asked for in a bid: all but what is done or refused, which nobody will be paid for. */
export function workToBid(program: PlannedProgram): PlannedProgram {
  const held = heldRows(program);
  if (held.length === 0) return program;
  const open = new Uint8Array(program.laterals.rows).fill(1);
  for (const { row } of held) open[row] = 0;
  return selectRows(program, open);
}

/** Laterals with paid work in the plan that are not bid, because they are done or refused. */
export function notBid(program: PlannedProgram): readonly HeldRow[] {
  const held = heldRows(program);
  if (held.length === 0) return held;
  const paid = new Set<number>();
  for (let at = 0; at < program.lines.rows; at++) paid.add(numberAt(program.lines, "lateral_row", at));
  return held.filter(({ row }) => paid.has(row));
}

/** Hundredths of each bid line of what is bid. */
export function bidLinesToBid(program: PlannedProgram): ReadonlyMap<string, number> {
  const all = program.totals.program.bidLines;
  const rows = new Set(notBid(program).map(({ row }) => row));
  if (rows.size === 0) return all;
  const left = new Map<string, number>();
  const { lines } = program;
  for (let at = 0; at < lines.rows; at++) {
    if (rows.has(numberAt(lines, "lateral_row", at))) continue;
    const key = textAt(lines, "line", at);
    left.set(key, (left.get(key) ?? 0) + numberAt(lines, "hundredths", at));
  }
  return left;
}

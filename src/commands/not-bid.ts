import { showCount } from "../quantity/show-quantity.ts";
import { notBid } from "../season/bid-work.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { CommandIo } from "./command-io.ts";
import { wrapped } from "./wrapped.ts";

const SHOWN = 12;

/** Says which laterals of a plan with paid work are not in its bid, or in what is bought for it, and why. */
export function sayNotBid(program: PlannedProgram, io: CommandIo, what = "the bid"): void {
  const left = notBid(program);
  if (left.length === 0) return;
  const shown = left.slice(0, SHOWN).map(({ id, status }) => `${id} (${status})`);
  const more = left.length > SHOWN ? ` and ${left.length - SHOWN} more` : "";
  const text = `Not in ${what}, because done or refused: ${showCount(left.length)} lateral(s) with paid work: ${shown.join(", ")}${more}.`;
  io.err(`${wrapped(text, "", "  ", io.columns ?? Number.POSITIVE_INFINITY)}\n`);
}

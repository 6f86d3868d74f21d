import { firstOf } from "../quantity/first-of.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { notBid, worksOver } from "../season/bid-work.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { heldBackIn } from "../season/tracking.ts";
import type { CommandIo } from "./command-io.ts";
import { fitted } from "./wrapped.ts";

const SHOWN = 12;

/** Says which laterals of a plan with paid work are not in its bid, or in what is bought for it, and why. */
export function sayNotBid(program: PlannedProgram, io: CommandIo, what = "the bid"): void {
  const left = notBid(program).filter(({ standing }) => standing !== "held back");
  // Of a season's plan none is among its laterals, and it is said all the same.
  const heldBack = heldBackIn(program);
  const over = worksOver(program);
  const texts = [
    ...(left.length === 0
      ? []
      : [
          `Not in ${what}, because done or refused: ${showCount(left.length)} lateral(s) with paid work: ${listed(left.map(({ id, status }) => `${id} (${status})`))}.`,
        ]),
    ...(heldBack.length === 0
      ? []
      : [
          `Not in ${what}, because a cross-bore was found and is not recorded as made safe, so that nobody is sent there: ${showCount(heldBack.length)} lateral(s): ${listed(heldBack)}.`,
        ]),
    ...(over.length === 0
      ? []
      : [
          `Not in ${what}, because it is over: root cutting at ${showCount(over.length)} lateral(s) under way: ${listed(over.map(({ lateral, status }) => `${lateral} (${status})`))}.`,
        ]),
  ];
  for (const text of texts) io.err(`${fitted(text, io)}\n`);
}

const listed = (names: readonly string[]): string => firstOf(names, SHOWN);

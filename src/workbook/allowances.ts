import { type IssuedNumbers, numbersOf } from "../bidding/issued-numbers.ts";
import type { Allowance } from "../reference/bid-layout.ts";

/** The unit by which a returned book's allowances are told. */
export const ALLOWANCE_UNIT = "allowance";
const ALLOWANCE_ITEM = 90;

/** An allowance as a line of the base bid. */
export interface BidAllowance extends Allowance {
  /** 90.01, 90.02 and so on. */
  readonly number: number;
}

/** Allowances with their numbers, in their order. Its wording is an allowance's name: another wording is another allowance. */
export function numberedAllowances(
  allowances: readonly Allowance[],
  issued: IssuedNumbers,
): readonly BidAllowance[] {
  const numbers = numbersOf(ALLOWANCE_ITEM, allowances.map(allowanceWording), issued);
  return allowances
    .map((allowance, i) => ({ ...allowance, number: numbers[i]! }))
    .sort((a, b) => a.number - b.number);
}

/** `allowance 1` of 90.01, as records of issues call it. */
export const allowanceKey = ({ number }: BidAllowance): string =>
  `allowance ${Math.round(number * 100) - ALLOWANCE_ITEM * 100}`;

export const allowanceWording = ({ wording }: Allowance): string => `Allowance set by the owner: ${wording}`;

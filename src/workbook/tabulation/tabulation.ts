import { type IssuedLine, partName } from "../../bidding/bid.ts";
import type { ScenarioStandings } from "../../bidding/compared-bids.ts";
import type { CorrectedBid } from "../../bidding/corrected-bid.ts";
import type { BreakEven } from "../../bidding/price-questions.ts";
import type { ResponsivenessCheck } from "../../bidding/responsiveness.ts";
import type { Cents } from "../../quantity/si.ts";
import type { ProgramHead } from "../../reference/basis.ts";
import type { BidCheckBand, BiddingRules } from "../../reference/bidding-rules.ts";
import { HUNDREDTHS } from "../number-format.ts";
import type { Cell } from "../sheet-model.ts";

/** Everything the tabulation shows. */
export interface Tabulation {
  readonly head: ProgramHead;
  /** Which issue the bids are on: its number, its mark, its season. */
  readonly issue: string;
  readonly lines: readonly IssuedLine[];
  readonly bids: readonly CorrectedBid[];
  /** Unit prices of the estimate, and whose they are. */
  readonly estimate: readonly (Cents | null)[];
  readonly estimateSource: string;
  /** Of each lump sum of the estimate that several parts ask for: what each has of it. */
  readonly lumpSumsShared: readonly string[];
  readonly scenarios: readonly ScenarioStandings[];
  /** By bid. */
  readonly responsiveness: readonly (readonly ResponsivenessCheck[])[];
  readonly questions: readonly PriceQuestion[];
  readonly band: BidCheckBand;
  readonly rules: BiddingRules;
  /** Files that could not be compared, and why. */
  readonly refused: readonly { readonly file: string; readonly because: string }[];
}

/** How the order of the lowest bid and another hangs on the quantities of the base bid. */
export interface PriceQuestion {
  readonly lower: number;
  readonly higher: number;
  readonly breakEvens: readonly BreakEven[];
  /** See turnsAt of bidding/price-questions.ts. */
  readonly turnsAt: number | null;
}

export const AWARD = "The award is left to the owner and counsel.";

/** Cents as a cell; empty where there is no amount. */
export const money = (amount: Cents | null): Cell =>
  amount === null ? null : { kind: "number", value: amount / 100, format: HUNDREDTHS };

/** A line's words, with its alternate: the same item may stand in several parts. */
export const describeLine = ({ part, description }: IssuedLine): string =>
  part === "base" ? description : `${partName(part)}: ${description}`;

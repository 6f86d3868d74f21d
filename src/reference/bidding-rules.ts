import type { Fraction } from "../quantity/si.ts";

/** A rule of the instructions to bidders, with the clause that states it. */
export interface StatedRule<Rule extends string> {
  readonly rule: Rule;
  /** The clause as the instructions write it, or where it stands. */
  readonly clause: string;
}

/** A limit on mobilization: what share, of what, and what follows where it is exceeded. */
export interface MobilizationCap {
  readonly share: Fraction;
  /** The sum of all other base items without allowances, or the whole base bid with mobilization in it. */
  readonly of: "other items" | "total";
  /** `reduce`: the bid is reduced before ranking. `payment limit`: flagged, and nothing is changed. */
  readonly remedy: "reduce" | "payment limit";
  readonly clause: string;
}

/** What the program's instructions to bidders say. Null is a rule they do not state: then nothing is corrected by it. */
export interface BiddingRules {
  readonly governs: StatedRule<"unit price" | "extension"> | null;
  /** `total over quantity`: the extension divided by the quantity, rounded down to the whole cent. */
  readonly missingPrice: StatedRule<"total over quantity"> | null;
  readonly words: StatedRule<"words" | "figures"> | null;
  /** The bidder's own total in words, where it is asked for; which governs, words or figures, null where that is not stated. */
  readonly totalInWords: { readonly rule: "words" | "figures" | null; readonly clause: string } | null;
  readonly columnSum: StatedRule<"correct sum"> | null;
  readonly ties: StatedRule<"drawn by lot" | "owner decides"> | null;
  readonly alternates: StatedRule<"in stated order"> | null;
  readonly mobilizationCap: MobilizationCap | null;
  /** Bid security asked for, as a share of the bid. */
  readonly security: { readonly share: Fraction; readonly clause: string } | null;
}

/** What bidders have to know beside the quantities, in the owner's words; what is not there is not stated. */
export interface OwnersConditions {
  readonly bids_due?: string | undefined;
  readonly questions?: string | undefined;
  readonly contract_time?: string | undefined;
  readonly working_hours?: string | undefined;
  /** Bypass pumping and flow control: who pays. */
  readonly flow_control?:
    | { readonly paid_by: "unit prices" | "owner" | "allowance"; readonly clause: string }
    | undefined;
  /** Notice to occupants, and how long they may be without service. */
  readonly notice?: string | undefined;
  readonly water?: string | undefined;
  readonly disposal?: string | undefined;
  readonly access?: string | undefined;
}

/** Which prices and quantities are worth a second look. */
export interface BidCheckBand {
  /** Price over estimate, lowest and highest that raise no question. */
  readonly low: number;
  readonly high: number;
  /** How far quantities may turn out from those of the schedule. */
  readonly quantity: Fraction;
  readonly source: string;
}

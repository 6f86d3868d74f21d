import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Cents } from "../quantity/si.ts";

/** Which laterals an additive alternate takes out of the base bid. */
export type AlternateScope =
  | { readonly kind: "districts"; readonly names: readonly string[] }
  | { readonly kind: "treatments"; readonly names: readonly TreatmentKind[] }
  | { readonly kind: "laterals"; readonly names: readonly string[] }
  /** What a saved season takes, or what is beyond one: of a larger season the rest. */
  | { readonly kind: "season" | "beyond season"; readonly names: readonly [string] }
  /** A named filter of the recipe. */
  | { readonly kind: "filter"; readonly names: readonly [string] };

export interface Alternate {
  /** As bidders read it. */
  readonly name: string;
  readonly takes: AlternateScope;
}

/** A fixed sum of the owner's own that every bidder carries in the base bid. */
export interface Allowance {
  readonly wording: string;
  readonly amount: Cents;
  /** What it is for, and how it is paid. */
  readonly payment: string;
}

/** How a program divides its bid schedule beside the base bid. */
export interface BidLayout {
  /** In the order in which they are stated: alternate 1 first. */
  readonly alternates: readonly Alternate[];
  readonly allowances: readonly Allowance[];
}

/** A base bid and nothing else. */
export const BASE_ONLY: BidLayout = { alternates: [], allowances: [] };

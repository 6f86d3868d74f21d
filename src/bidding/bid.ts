import type { Cents } from "../quantity/si.ts";
import type { WorkedOut } from "./plain-arithmetic.ts";

/** The base bid, or an alternate by its place in the stated order, 1 first. */
export type Part = "base" | number;

/** One line as the city issued it. */
export interface IssuedLine {
  /** As printed: `6.04`. */
  readonly item: string;
  readonly description: string;
  readonly unit: string;
  /** Whole hundredths of the unit. */
  readonly hundredths: number;
  readonly part: Part;
  /** An allowance has the owner's own amount; a cap on mobilization leaves it out. */
  readonly role: "mobilization" | "allowance" | "work";
  /** Whether its quantity can turn out otherwise. */
  readonly lumpSum: boolean;
  /** The owner's own unit price, printed in the book: of an allowance. Null is the bidder's to fill in. */
  readonly fixed: Cents | null;
}

/** An amount as it stands in a returned bid. */
export type Amount =
  | { readonly kind: "amount"; readonly cents: Cents }
  | { readonly kind: "missing" }
  /** Text, a negative number, a third decimal: nothing that can be taken for an amount. */
  | {
      readonly kind: "unreadable";
      readonly text: string;
      /** Cents that it adds to the total as the book works it out, such as −405.00; undefined adds nothing that can be counted. */
      readonly gives?: number;
    };

export const MISSING: Amount = { kind: "missing" };
export const amount = (of: Cents): Amount => ({ kind: "amount", cents: of });
/** What an extension adds to the total of its book. */
export const addedBy = (extension: Amount): number =>
  extension.kind === "amount" ? extension.cents : extension.kind === "missing" ? 0 : (extension.gives ?? 0);
export const centsOf = (of: Amount): Cents | null => (of.kind === "amount" ? of.cents : null);

/** A formula that stands where a price was to be typed. */
export interface PriceFormula {
  /** `=B4*1.15`, shortened where it is long. */
  readonly text: string;
  /** What the file shows for it; null where it shows nothing, as no program ever worked it out. */
  readonly shown: string | number | boolean | null;
  /** What it gives when it is worked out again. */
  readonly worked: WorkedOut;
}

/** What a bidder wrote on one line; its extension may be a formula's value or typed. */
export interface LineAsRead {
  readonly price: Amount;
  /** Null where the price was typed, or is not there. */
  readonly formula: PriceFormula | null;
  /** The price in words; null where the book does not ask for it. */
  readonly words: Amount | null;
  readonly extension: Amount;
}

/** What the bidder filled in beside the prices; null is an empty field. */
export interface BidForm {
  readonly bidder: string | null;
  readonly signedBy: string | null;
  readonly signature: string | null;
  readonly date: string | null;
  readonly security: string | null;
  readonly addenda: string | null;
}

/** A bid as it was read. */
export interface Bid {
  /** How the bidder is called on every sheet: the name on the form, else the file's. */
  readonly name: string;
  readonly file: string;
  /** In the order of the issued lines. */
  readonly lines: readonly LineAsRead[];
  /** Total as written, by part. */
  readonly totals: ReadonlyMap<Part, Amount>;
  /** Total in the bidder's own words, by part; empty where the book does not ask for it. */
  readonly totalWords: ReadonlyMap<Part, Amount>;
  readonly form: BidForm;
  /** What was found in the file beside the bid: formulas of the bidder's own, then added sheets and cells, which may be conditions. */
  readonly additions: readonly string[];
}

export const partName = (part: Part): string => (part === "base" ? "base bid" : `alternate ${part}`);

/** The parts that lines are of, as they come. */
export const partsOf = (lines: readonly Pick<IssuedLine, "part">[]): readonly Part[] => [
  ...new Set(lines.map(({ part }) => part)),
];

/** The alternates of an issue, in stated order. */
export const alternatesOf = (lines: readonly IssuedLine[]): readonly number[] =>
  [...new Set(lines.flatMap(({ part }) => (part === "base" ? [] : [part])))].sort((a, b) => a - b);

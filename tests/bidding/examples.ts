import {
  amount,
  type Bid,
  type IssuedLine,
  type LineAsRead,
  MISSING,
  type Part,
} from "../../src/bidding/bid.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import type { BiddingRules } from "../../src/reference/bidding-rules.ts";

/** Instructions that state every rule. */
export const allRules: BiddingRules = {
  governs: { rule: "unit price", clause: "The unit price governs over the extension." },
  missingPrice: {
    rule: "total over quantity",
    clause: "A missing unit price is the total divided by the quantity.",
  },
  words: { rule: "words", clause: "Words govern over figures." },
  totalInWords: null,
  columnSum: { rule: "correct sum", clause: "The correct sum governs." },
  ties: { rule: "drawn by lot", clause: "Ties are drawn by lot." },
  alternates: { rule: "in stated order", clause: "Alternates are taken in the order stated." },
  mobilizationCap: null,
  security: { share: fraction(0.1), clause: "Ten per cent." },
};

export const noRules: BiddingRules = {
  governs: null,
  missingPrice: null,
  words: null,
  totalInWords: null,
  columnSum: null,
  ties: null,
  alternates: null,
  mobilizationCap: null,
  security: null,
};

export const issuedLine = (item: string, quantity: number, more: Partial<IssuedLine> = {}): IssuedLine => ({
  item,
  description: `item ${item}`,
  unit: "EA",
  hundredths: Math.round(quantity * 100),
  part: "base",
  role: "work",
  lumpSum: false,
  fixed: null,
  ...more,
});

/** Dollars on one line: price, extension, and the price in words; null is an empty cell, and for words a book that asks for none. */
export const line = (
  price: number | null,
  extension: number | null,
  words: number | null = null,
): LineAsRead => ({
  price: dollars(price),
  formula: null,
  extension: dollars(extension),
  words: words === null ? null : dollars(words),
});

export const dollars = (value: number | null) =>
  value === null ? MISSING : amount(cents(Math.round(value * 100)));

export const bidOf = (
  name: string,
  lines: readonly LineAsRead[],
  totals: Readonly<Partial<Record<string, number | null>>>,
): Bid => ({
  name,
  file: `${name}.xlsx`,
  lines,
  totals: new Map(
    Object.entries(totals).map(([part, total]) => [
      (part === "base" ? "base" : Number(part)) as Part,
      dollars(total ?? null),
    ]),
  ),
  totalWords: new Map(),
  form: {
    bidder: name,
    signedBy: "A. Person",
    signature: "A. Person",
    date: "2026-05-03",
    security: "bond",
    addenda: "1",
  },
  additions: [],
});

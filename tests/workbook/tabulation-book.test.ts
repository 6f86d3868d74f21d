import { describe, expect, it } from "vitest";
import { amount, type IssuedLine } from "../../src/bidding/bid.ts";
import type { CorrectedBid } from "../../src/bidding/corrected-bid.ts";
import { biddingRules } from "../../src/program/bidding-settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import { ALLOWANCE_UNIT } from "../../src/workbook/bid-schedule-sheet.ts";
import { buildTabulation, type Tabulation } from "../../src/workbook/tabulation-book.ts";

const line = (part: IssuedLine["part"]): IssuedLine => ({
  item: "14.00",
  description: "Grouting of running infiltration before lining",
  unit: "EA",
  hundredths: 100,
  part,
  role: "work",
  lumpSum: false,
  fixed: null,
});
const priced = { price: cents(100_00), extension: cents(100_00) };
const bid = {
  bid: {
    name: "Bidder",
    file: "bid.xlsx",
    lines: [1, 2].map(() => ({
      price: amount(priced.price),
      words: null,
      extension: amount(priced.extension),
    })),
    totals: new Map(),
  },
  lines: [priced, priced],
  findings: [],
  asRead: new Map(),
  withoutAmount: new Map(),
  corrected: new Map(),
} as unknown as CorrectedBid;
const tabulation = {
  head: { currency: "USD" },
  lines: [line("base"), line(1)],
  bids: [bid],
  estimate: [cents(650_00), cents(650_00)],
  estimateSource: "invented",
  scenarios: [],
  responsiveness: [[]],
  questions: [],
  band: { low: 0.6, high: 1.5, quantity: fraction(0.25), source: "invented" },
  rules: biddingRules({} as Settings),
  refused: [],
} as unknown as Tabulation;
const sheet = (name: string) => buildTabulation(tabulation).sheets.find((each) => each.name === name)!;

describe("the tabulation of bids", () => {
  it("tells a price of an alternate from that of the base bid where both are to be checked", () => {
    expect([...sheet("Prices to check").rows].map((row) => row[2])).toEqual([
      "Grouting of running infiltration before lining",
      "alternate 1: Grouting of running infiltration before lining",
    ]);
  });

  it("has room for the unit of an allowance", () => {
    const unit = sheet("Tabulation").columns.find(({ heading }) => heading === "Unit")!;
    expect(unit.width).toBeGreaterThan(ALLOWANCE_UNIT.length);
  });
});

import { describe, expect, it } from "vitest";
import { bidCheckBand, biddingRules, biddingSchema } from "../../src/program/bidding-settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { houseBidChecks } from "../../src/reference/bid-checks.ts";

const settings = (bidding: unknown) =>
  ({ bidding: bidding === undefined ? undefined : biddingSchema.parse(bidding) }) as Settings;
const refused = (bidding: unknown) => !biddingSchema.safeParse(bidding).success;
const clause = "Section 4.";

describe("the instructions to bidders", () => {
  it("state no rule that program.json does not give", () => {
    const none = biddingRules(settings(undefined));
    expect(Object.values(none)).toHaveLength(9);
    for (const rule of Object.values(none)) expect(rule).toBeNull();
  });

  it("ask for totals in words with or without a rule, and take shares as parts or per cent", () => {
    const { totalInWords, mobilizationCap, security } = biddingRules(
      settings({
        total_in_words: { clause },
        mobilization_cap: { share: "10 %", of: "total", remedy: "reduce", clause },
        security: { share: 0.05, clause },
      }),
    );
    expect(totalInWords).toEqual({ rule: null, clause });
    expect(mobilizationCap).toEqual({ share: 0.1, of: "total", remedy: "reduce", clause });
    expect(security).toEqual({ share: 0.05, clause });
    expect(biddingRules(settings({ total_in_words: { rule: "words", clause } })).totalInWords?.rule).toBe(
      "words",
    );
  });

  it("refuse a share of nothing or of all", () => {
    for (const share of [0, 1, "0 %", "100 %"]) expect(refused({ security: { share, clause } })).toBe(true);
  });
});

describe("which prices are worth a second look", () => {
  it("is the house's, but for what the program gives, and says whose", () => {
    const house = bidCheckBand(settings(undefined));
    expect(house).toMatchObject({ low: houseBidChecks.low, high: houseBidChecks.high });
    expect(house.source).not.toContain("program.json");
    const own = bidCheckBand(settings({ checks: { source: "the board", low: 0, quantity: "20 %" } }));
    expect(own).toMatchObject({ low: 0, high: houseBidChecks.high, quantity: 0.2 });
    expect(own.source).toBe(`program.json (the board); what it does not give: ${house.source}`);
  });

  it("has a least of at most one and a most of at least one", () => {
    const checks = (band: object) => refused({ checks: { source: "the board", ...band } });
    expect([checks({ low: 1, high: 1 }), checks({ low: 0 })]).toEqual([false, false]);
    expect([checks({ low: 1.01 }), checks({ low: -0.01 }), checks({ high: 0.99 })]).toEqual([
      true,
      true,
      true,
    ]);
  });
});

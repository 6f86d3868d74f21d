import { describe, expect, it } from "vitest";
import type { Part } from "../../src/bidding/bid.ts";
import { describeShared, sharedLumpSums, shareLumpSums } from "../../src/bidding/lump-sums.ts";
import { cents } from "../../src/quantity/si.ts";

const line = (item: string, part: Part, units: number, lumpSum = false) => ({
  item,
  part,
  hundredths: 100 * units,
  lumpSum,
});

describe("a lump sum of an estimate that several parts of a bid ask for", () => {
  it("is divided by their other work, and is the whole of it again together", () => {
    // Liners at 100.00: 30 in the base bid, 10 and 0 in the alternates; 18,500.00 by 3 : 1 : 0. Mobilization is asked for once.
    const lines = [
      line("1.00", "base", 1, true),
      line("2.00", "base", 1, true),
      line("6.01", "base", 30),
      line("2.00", 1, 1, true),
      line("6.01", 1, 10),
      line("2.00", 2, 1, true),
    ];
    const [mobilization, traffic, liner] = [cents(2_400_000), cents(1_850_000), cents(10_000)];
    expect(shareLumpSums(lines, [mobilization, traffic, liner, traffic, liner, traffic])).toEqual([
      2_400_000, 1_387_500, 10_000, 462_500, 10_000, 0,
    ]);
  });

  it("is divided between two parts as well, by the work that has a price", () => {
    const lines = [line("2.00", "base", 1, true), line("6.01", "base", 1), line("7.01", "base", 9)];
    const both = [...lines, line("2.00", 1, 1, true), line("6.01", 1, 3)];
    const [traffic, liner] = [cents(40_000), cents(10_000)];
    // The nine of 7.01 have no price: 1 to 3.
    expect(shareLumpSums(both, [traffic, liner, null, traffic, liner])).toEqual([
      10_000,
      10_000,
      null,
      30_000,
      10_000,
    ]);
  });

  it("is said as a whole and part by part, where more than one part asks for it", () => {
    const lines = [
      line("1.00", "base", 1, true),
      line("2.00", "base", 1, true),
      line("6.01", "base", 3),
      line("2.00", 1, 1, true),
      line("2.00", 2, 1, true),
    ].map((each) => ({ ...each, description: `item ${each.item}` }));
    const prices = [cents(50_000), cents(13_875), cents(100), cents(4_625), null];
    const shared = sharedLumpSums(lines, prices);
    expect(shared).toEqual([
      {
        item: "2.00",
        description: "item 2.00",
        whole: 18_500,
        shares: [
          { line: 1, part: "base", price: 13_875 },
          { line: 3, part: 1, price: 4_625 },
        ],
      },
    ]);
    expect(describeShared(shared[0]!)).toBe(
      "Item 2.00, item 2.00: 185.00 for all the work, shared by the other work of each part at these prices: " +
        "base bid 138.75, alternate 1 46.25.",
    );
  });

  it("is in whole cents that add up, and stays without a price where it has none", () => {
    const lines = [
      ...([1, 2, 3] as const).map((part) => line("2.00", part, 1, true)),
      ...([1, 2, 3] as const).map((part) => line("6.01", part, 1)),
    ];
    const liner = cents(500);
    const shared = shareLumpSums(lines, [cents(100), cents(100), cents(100), liner, liner, liner]);
    expect(shared.slice(0, 3)).toEqual([34, 33, 33]);
    expect(shareLumpSums(lines, [null, null, null, liner, liner, liner]).slice(0, 3)).toEqual([
      null,
      null,
      null,
    ]);
    expect(shareLumpSums(lines, [cents(100), cents(100), cents(100), null, null, null]).slice(0, 3)).toEqual([
      100, 0, 0,
    ]);
  });
});

import { describe, expect, it } from "vitest";
import type { Part } from "../../src/bidding/bid.ts";
import { shareLumpSums } from "../../src/bidding/lump-sums.ts";
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

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Amount, amount, MISSING } from "../../src/bidding/bid.ts";
import { compareBids } from "../../src/bidding/compared-bids.ts";
import { correctBid, overQuantity } from "../../src/bidding/corrected-bid.ts";
import { mobilizationFraction, mostMobilization } from "../../src/bidding/mobilization.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import type { BiddingRules } from "../../src/reference/bidding-rules.ts";
import { allRules, bidOf, issuedLine, line, noRules } from "./examples.ts";

describe("a unit price and its extension", () => {
  // City of Tukwila WA, overlay programme opened 3 May 2016 (award memo): one item's total had been computed at
  // $2.10/LF while the form said $210.00/LF; the unit price controls, and the award moved to the second bidder.
  // Apparent low total as read 1,277,029.00; the quantity (100 LF) and the second bid are ours, the copy is cut there.
  const lines = [issuedLine("1.00", 1, { lumpSum: true }), issuedLine("2.00", 100)];
  const low = bidOf("Low as read", [line(1_276_819, 1_276_819), line(210, 210)], { base: 1_277_029 });
  const second = bidOf("Second", [line(1_260_000, 1_260_000), line(200, 20_000)], { base: 1_280_000 });

  it("of $210.00 extended at $2.10 changes the low bidder", () => {
    const bids = [low, second].map((bid) => correctBid(bid, lines, allRules));
    const [base] = compareBids(bids, lines, allRules, [null, null]);
    expect(base?.standings.map(({ rankAsRead }) => rankAsRead)).toEqual([1, 2]);
    expect(base?.standings.map(({ rankCorrected }) => rankCorrected)).toEqual([2, 1]);
    // 100 × 210.00 = 21,000.00 in place of 210.00: 20,790.00 more.
    expect(base?.standings[0]).toMatchObject({ asRead: 127_702_900, corrected: 129_781_900 });
    expect(bids[0]?.findings).toEqual([
      {
        line: 1,
        part: "base",
        what: "100 × 210.00 = 21,000.00, the extension reads 210.00",
        done: "The unit price governs over the extension.",
        corrected: true,
        change: 2_079_000,
      },
    ]);
  });

  it("is shown and left as it is where no rule is stated", () => {
    const bid = correctBid(low, lines, noRules);
    expect(bid.corrected.get("base")).toBe(127_702_900);
    expect(bid.findings).toHaveLength(1);
    expect(bid.findings[0]).toMatchObject({ corrected: false, change: 0 });
  });

  it("of 37 × 1,850.00 typed as 86,450 is 18,000 less", () => {
    // 37 × 1,850.00 = 68,450.00; 86,450.00 is the same digits transposed.
    const bid = correctBid(
      bidOf("B", [line(1850, 86_450)], { base: 86_450 }),
      [issuedLine("1.00", 37)],
      allRules,
    );
    expect(bid.corrected.get("base")).toBe(6_845_000);
    expect(bid.findings.map(({ change }) => change)).toEqual([-1_800_000]);
  });

  it("keeps the extension where the instructions say that it governs", () => {
    const rules = {
      ...allRules,
      governs: { rule: "extension", clause: "The total of a line governs." },
    } as const;
    const bid = correctBid(
      bidOf("B", [line(1850, 86_450)], { base: 86_450 }),
      [issuedLine("1.00", 37)],
      rules,
    );
    expect(bid.corrected.get("base")).toBe(8_645_000);
    expect(bid.findings[0]?.corrected).toBe(true);
  });
});

describe("a missing unit price", () => {
  const lines = [issuedLine("1.00", 37)];
  const bid = bidOf("B", [line(null, 10_000)], { base: 10_000 });

  it("is the total over the quantity, rounded down to the cent: 10,000.00 / 37 = 270.27", () => {
    // 10,000 / 37 = 270.270…; San Bernardino County CA, Grove Basin proposal: the next lower penny.
    expect(overQuantity(cents(1_000_000), 3_700)).toBe(27_027);
    // 20,000.00 / 37 = 540.5405…, 50.00 / 3 = 16.666…: down, never to the nearest.
    expect(overQuantity(cents(5_000), 300)).toBe(1_666);
    const corrected = correctBid(bid, lines, allRules);
    expect(corrected.lines[0]).toEqual({ price: 27_027, extension: 999_999 });
    expect(corrected.corrected.get("base")).toBe(999_999);
  });

  it("stays missing where no rule is stated, and the total as read", () => {
    const corrected = correctBid(bid, lines, noRules);
    expect(corrected.lines[0]).toEqual({ price: null, extension: 1_000_000 });
    expect(corrected.corrected.get("base")).toBe(1_000_000);
    expect(corrected.findings[0]?.corrected).toBe(false);
  });

  it("with its extension missing too leaves the bid without a total, not with a smaller one", () => {
    const corrected = correctBid(bidOf("B", [line(null, null)], { base: 0 }), lines, allRules);
    expect(corrected.corrected.get("base")).toBeNull();
  });
});

describe("words and figures", () => {
  it("the words govern where the instructions say so, and the extension follows", () => {
    const lines = [issuedLine("1.00", 2)];
    const bid = bidOf("B", [line(100, 200, 110)], { base: 200 });
    expect(correctBid(bid, lines, allRules).corrected.get("base")).toBe(22_000);
    expect(correctBid(bid, lines, noRules).corrected.get("base")).toBe(20_000);
    expect(correctBid(bid, lines, noRules).findings[0]?.what).toBe(
      "The unit price is 110.00 in words, 100.00 in figures",
    );
  });

  it("the words stand for figures that are missing, or are only shown where no rule is stated", () => {
    const lines = [issuedLine("1.00", 2)];
    const bid = bidOf("B", [line(null, 220, 110)], { base: 220 });
    const read = correctBid(bid, lines, allRules);
    expect(read.lines[0]).toEqual({ price: 11_000, extension: 22_000 });
    expect(read.findings.map(({ what }) => what)).toEqual([
      "The unit price is 110.00 in words, missing in figures",
    ]);
    expect(correctBid(bid, lines, noRules).lines[0]?.price).toBeNull();
  });

  it("the figures govern where the instructions say that, and the words are told", () => {
    const rules = { ...allRules, words: { rule: "figures", clause: "Figures govern." } } as const;
    const read = correctBid(bidOf("B", [line(100, 200, 110)], { base: 200 }), [issuedLine("1.00", 2)], rules);
    expect(read.corrected.get("base")).toBe(20_000);
    expect(read.findings).toMatchObject([{ done: "Figures govern.", change: 0 }]);
  });

  it.each([
    ["-5.00", "below nothing and no price"],
    ["1.005", "no amount: it has more than two decimals"],
    ["1.00.5", "no amount"],
    ["see letter", "no amount"],
  ])("a price that reads %j is %s, and no price", (text, why) => {
    const unreadable = { ...line(null, 100), price: { kind: "unreadable", text } as const };
    const read = correctBid(bidOf("B", [unreadable], { base: 100 }), [issuedLine("1.00", 2)], noRules);
    expect(read.lines[0]).toEqual({ price: null, extension: 10_000 });
    expect(read.findings[0]?.what).toBe(`The unit price reads "${text}", which is ${why}`);
  });

  it("that nobody wrote for many lines is one finding, with how many and the first of them", () => {
    const lines = Array.from({ length: 8 }, (_, i) => issuedLine(`${i + 1}.00`, 1));
    const unworded = lines.map(() => ({ ...line(100, 100), words: MISSING }));
    const read = (own: typeof unworded) => correctBid(bidOf("B", own, { base: 800 }), lines, allRules);
    expect(read(unworded).findings).toEqual([
      {
        line: null,
        lines: [0, 1, 2, 3, 4, 5, 6, 7],
        part: "base",
        what: "8 unit prices of the base bid are not written in words: item 1.00, 2.00, 3.00, 4.00, 5.00, 6.00 …",
        done: "The figures are taken.",
        corrected: false,
        change: 0,
      },
    ]);
    const one = [
      ...unworded.slice(1).map((each) => ({ ...each, words: amount(cents(10_000)) })),
      unworded[0]!,
    ];
    expect(read(one as typeof unworded).findings.map(({ line, what }) => [line, what])).toEqual([
      [7, "The unit price is not written in words"],
    ]);
  });
});

describe("a total that the bidder wrote in words", () => {
  const lines = [issuedLine("1.00", 1), issuedLine("2.00", 1)];
  const priced = [line(100, 100), line(50, 50)];
  const bid = (figures: number | null, words: Amount) => ({
    ...bidOf("B", priced, { base: figures }),
    totalWords: new Map([["base" as const, words]]),
  });
  const said = (dollars: number) => amount(cents(dollars * 100));
  const asking = (rule: "words" | "figures" | null, more: Partial<BiddingRules> = {}): BiddingRules => ({
    ...noRules,
    totalInWords: { rule, clause: "Write the total in words and in figures." },
    ...more,
  });
  const base = (of: ReturnType<typeof correctBid>) => of.corrected.get("base");

  it("governs over the figures, or they over it, as the instructions state", () => {
    const words = correctBid(bid(140, said(150)), lines, asking("words"));
    expect(base(words)).toBe(15_000);
    expect(words.findings).toEqual([
      {
        line: null,
        part: "base",
        what: "The total of the base bid is 150.00 in words, 140.00 in figures",
        done: "Write the total in words and in figures.",
        corrected: true,
        change: 1_000,
      },
    ]);
    const figures = correctBid(bid(150, said(140)), lines, asking("figures"));
    expect(base(figures)).toBe(15_000);
    expect(figures.findings.map(({ change }) => change)).toEqual([0]);
  });

  it("that differs is shown and corrects nothing where no rule says which governs", () => {
    const read = correctBid(bid(150, said(140)), lines, asking(null));
    expect(base(read)).toBe(15_000);
    expect(read.findings).toMatchObject([
      { done: "The instructions state no rule for it: shown, not corrected.", corrected: false, change: 0 },
    ]);
  });

  it("gives way to the correct sum where that governs, and each step is told", () => {
    const read = correctBid(bid(140, said(160)), lines, asking("words", { columnSum: allRules.columnSum }));
    expect(base(read)).toBe(15_000);
    // 140 in figures; 20 more by the words; 10 less by the sum.
    expect(read.findings.map(({ change }) => change)).toEqual([2_000, -1_000]);
  });

  it("that differs from a sum in figures which governs too is told to cancel: which rule comes first is the owner's", () => {
    const read = correctBid(bid(150, said(160)), lines, asking("words", { columnSum: allRules.columnSum }));
    expect(base(read)).toBe(15_000);
    expect(read.findings.map(({ change }) => change)).toEqual([1_000, -1_000]);
    expect(read.findings[1]?.done).toContain("which rule comes first is for the owner to settle");
  });

  it("stands for figures that are missing, where words govern", () => {
    expect(base(correctBid(bid(null, said(150)), lines, asking("words")))).toBe(15_000);
    expect(base(correctBid(bid(null, said(150)), lines, asking("figures")))).toBeNull();
  });

  it("that nobody wrote, or that no program should read, is told; the figures are taken", () => {
    const what = (words: Amount) =>
      correctBid(bid(150, words), lines, asking("words")).findings.map((found) => found.what);
    expect(what(MISSING)).toEqual(["The total of the base bid is not written in words"]);
    expect(what({ kind: "unreadable", text: "as above" })).toEqual([
      'The total of the base bid in words reads "as above", which no program should take for an amount',
    ]);
    expect(base(correctBid(bid(150, MISSING), lines, asking("words")))).toBe(15_000);
  });

  it("leaves a correction of a line in the total that the words say", () => {
    const slipped = { ...bid(145, said(140)), lines: [line(100, 90), line(50, 50)] };
    const read = correctBid(slipped, lines, asking("words", { governs: allRules.governs }));
    // 140 is the sum as read; the unit price makes 10 more of it.
    expect(base(read)).toBe(15_000);
  });
});

describe("a column that does not add up", () => {
  const lines = [issuedLine("1.00", 1), issuedLine("2.00", 1)];
  const bid = bidOf("B", [line(100, 100), line(50, 50)], { base: 140 });

  it("is put right by the rule, and left without it", () => {
    expect(correctBid(bid, lines, allRules).corrected.get("base")).toBe(15_000);
    expect(correctBid(bid, lines, noRules).corrected.get("base")).toBe(14_000);
  });

  it("has no total when an extension is corrected and no rule says which sum holds", () => {
    const both = bidOf("B", [line(100, 90), line(50, 50)], { base: 135 });
    expect(correctBid(both, lines, { ...allRules, columnSum: null }).corrected.get("base")).toBeNull();
  });
});

describe("a cap on mobilisation", () => {
  // Bid mobilisation 160,000 on other items 524,000, as in the worked example of the bid checks.
  const lines = [issuedLine("1.00", 1, { role: "mobilization", lumpSum: true }), issuedLine("2.00", 1)];
  const bid = bidOf("B", [line(160_000, 160_000), line(524_000, 524_000)], { base: 684_000 });
  const cap = { share: fraction(0.1), clause: "At most 10 %." } as const;

  it("of the other items reduces the bid: 52,400 and 576,400", () => {
    const rules = { ...allRules, mobilizationCap: { ...cap, of: "other items", remedy: "reduce" } } as const;
    const corrected = correctBid(bid, lines, rules);
    expect(corrected.lines[0]?.price).toBe(5_240_000);
    expect(corrected.corrected.get("base")).toBe(57_640_000);
    // 160,000 / 524,000 = 30.5 %.
    expect(corrected.findings[0]?.what).toContain("30.5 % of 524,000.00");
  });

  it("of the total as a payment limit changes nothing: 23.4 %, limit 58,222", () => {
    const rules = { ...allRules, mobilizationCap: { ...cap, of: "total", remedy: "payment limit" } } as const;
    const corrected = correctBid(bid, lines, rules);
    expect(corrected.corrected.get("base")).toBe(68_400_000);
    expect(corrected.findings[0]).toMatchObject({ corrected: false, change: 0 });
    // m ≤ S/9 = 524,000/9 = 58,222.22; 160,000/684,000 = 23.4 %.
    expect(corrected.findings[0]?.what).toContain("23.4 % of 684,000.00");
    expect(corrected.findings[0]?.what).toContain("58,222.22");
  });

  it("leaves allowances out, and a mobilisation within it alone", () => {
    const withAllowance = [...lines, issuedLine("3.00", 1, { role: "allowance" })];
    const rules = { ...allRules, mobilizationCap: { ...cap, of: "other items", remedy: "reduce" } } as const;
    const high = bidOf("B", [line(52_400.01, 52_400.01), line(524_000, 524_000), line(9_000, 9_000)], {
      base: 585_400.01,
    });
    expect(correctBid(high, withAllowance, rules).corrected.get("base")).toBe(58_540_000);
    const within = bidOf("B", [line(52_400, 52_400), line(524_000, 524_000), line(9_000, 9_000)], {
      base: 585_400,
    });
    expect(correctBid(within, withAllowance, rules).findings).toEqual([]);
  });

  it("is a tenth of the other items or, of the total, a ninth of them; a share of none or all is no cap", () => {
    const share = fraction(0.1);
    expect(mobilizationFraction({ share, of: "other items" })).toEqual({ of: 1, over: 10 });
    expect(mobilizationFraction({ share, of: "total" })).toEqual({ of: 1, over: 9 });
    for (const none of [0, 1, Number.NaN])
      expect(() => mobilizationFraction({ share: fraction(none), of: "total" })).toThrow(RangeError);
  });

  it("never lets mobilisation be more than its share, and never cuts a cent more than it must", () => {
    // Up to a half: beyond it the cap of the total passes what a double counts exactly.
    const share = fc.integer({ min: 1, max: 500_000 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e12 }), share, (others, millionths) => {
        const most = (of: "other items" | "total") =>
          BigInt(mostMobilization(cents(others), { share: fraction(millionths / 1e6), of }));
        const [s, S] = [BigInt(millionths), BigInt(others)];
        const fits = (m: bigint, total: bigint) => m * 1_000_000n <= s * total;
        const [a, b] = [most("other items"), most("total")];
        return fits(a, S) && !fits(a + 1n, S) && fits(b, b + S) && !fits(b + 1n, b + 1n + S);
      }),
    );
  });
});

describe("any list of prices", () => {
  const anyAmount = fc.oneof(
    { weight: 5, arbitrary: fc.integer({ min: 0, max: 100_000_000 }).map((n) => amount(cents(n))) },
    { weight: 1, arbitrary: fc.constant(MISSING) },
    { weight: 1, arbitrary: fc.constant({ kind: "unreadable", text: "see letter" } as const) },
  );
  const priced = fc
    .integer({ min: 0, max: 100_000_000 })
    .map((n) => ({ kind: "amount", cents: cents(n) }) as const);
  const rows = fc.array(
    fc.record({
      hundredths: fc.integer({ min: 1, max: 10_000_000 }),
      price: priced,
      extension: anyAmount,
      formula: fc.constant(null),
      words: fc.constant(MISSING),
    }),
    { minLength: 1, maxLength: 30 },
  );

  it("comes to Σ quantity × unit price in whole cents, whatever was written as extensions and total", () => {
    fc.assert(
      fc.property(rows, anyAmount, (list, total) => {
        const lines = list.map(({ hundredths }, i) =>
          issuedLine(`${i + 1}.00`, hundredths / 100, { hundredths }),
        );
        const bid = { ...bidOf("B", list, {}), totals: new Map([["base" as const, total]]) };
        const corrected = correctBid(bid, lines, allRules);
        // Half a cent up, once a line, in whole numbers.
        const expected = list.reduce(
          (sum, { hundredths, price }) => sum + (BigInt(hundredths) * BigInt(price.cents) + 50n) / 100n,
          0n,
        );
        expect(BigInt(corrected.corrected.get("base") ?? -1)).toBe(expected);
      }),
    );
  });

  it("explains every cent: as read plus the changes is as corrected, whatever total is written in words", () => {
    const rule = fc.constantFrom("words" as const, "figures" as const, null);
    fc.assert(
      fc.property(rows, priced, anyAmount, rule, (list, total, words, governs) => {
        const lines = list.map(({ hundredths }, i) =>
          issuedLine(`${i + 1}.00`, hundredths / 100, { hundredths }),
        );
        const bid = {
          ...bidOf("B", list, {}),
          totals: new Map([["base" as const, total]]),
          totalWords: new Map([["base" as const, words]]),
        };
        const totalInWords = { rule: governs, clause: "In words and figures." };
        const corrected = correctBid(bid, lines, { ...allRules, totalInWords });
        const changes = corrected.findings.reduce((sum, { change }) => sum + change, 0);
        expect(corrected.corrected.get("base")).toBe((corrected.asRead.get("base") ?? Number.NaN) + changes);
      }),
    );
  });

  it("is untouched where no rule is stated", () => {
    fc.assert(
      fc.property(rows, priced, (list, total) => {
        const lines = list.map(({ hundredths }, i) =>
          issuedLine(`${i + 1}.00`, hundredths / 100, { hundredths }),
        );
        const bid = { ...bidOf("B", list, {}), totals: new Map([["base" as const, total]]) };
        const corrected = correctBid(bid, lines, noRules);
        expect(corrected.findings.every((found) => !found.corrected && found.change === 0)).toBe(true);
        const read = corrected.corrected.get("base");
        expect(read === null || read === total.cents).toBe(true);
      }),
    );
  });
});

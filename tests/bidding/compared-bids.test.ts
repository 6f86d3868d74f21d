import { describe, expect, it } from "vitest";
import { compareBids, scenariosOf, tiedLowest } from "../../src/bidding/compared-bids.ts";
import { correctBid } from "../../src/bidding/corrected-bid.ts";
import { breakEvens, pricesOutsideBand, totalOf, turnsAt } from "../../src/bidding/price-questions.ts";
import { checkResponsiveness } from "../../src/bidding/responsiveness.ts";
import { cents } from "../../src/quantity/si.ts";
import { allRules, bidOf, issuedLine, line, noRules } from "./examples.ts";

describe("alternates", () => {
  const lines = [issuedLine("1.00", 1), issuedLine("A1", 1, { part: 1 }), issuedLine("A2", 1, { part: 2 })];
  const bids = [
    bidOf("A", [line(100, 100), line(30, 30), line(5, 5)], { base: 100, 1: 30, 2: 5 }),
    bidOf("B", [line(110, 110), line(15, 15), line(20, 20)], { base: 110, 1: 15, 2: 20 }),
  ].map((bid) => correctBid(bid, lines, allRules));

  it("are taken in the stated order, and the ranking is made anew for each", () => {
    const compared = compareBids(bids, lines, allRules, [cents(12_000), cents(2_000), null]);
    expect(compared.map(({ scenario }) => scenario.name)).toEqual([
      "base bid",
      "base bid + alternate 1",
      "base bid + alternate 1 + alternate 2",
    ]);
    // 100 and 110; 130 and 125; 135 and 145.
    expect(compared.map(({ standings }) => standings.map(({ rankCorrected }) => rankCorrected))).toEqual([
      [1, 2],
      [2, 1],
      [1, 2],
    ]);
    expect(compared.map(({ estimate }) => estimate)).toEqual([12_000, 14_000, null]);
  });

  it("without a stated order are shown in every combination", () => {
    expect(scenariosOf(lines, { alternates: null }).map(({ parts }) => parts.length)).toEqual([1, 2, 2, 3]);
    const three = [...lines, issuedLine("A3", 1, { part: 3 })];
    expect(scenariosOf(three, { alternates: null }).map(({ parts }) => parts.join(" "))).toEqual([
      "base",
      "base 1",
      "base 2",
      "base 1 2",
      "base 3",
      "base 1 3",
      "base 2 3",
      "base 1 2 3",
    ]);
  });

  it("of which there are many are taken one after the other, order or none", () => {
    const many = [...lines, ...[3, 4, 5].map((part) => issuedLine(`A${part}`, 1, { part }))];
    expect(scenariosOf(many, { alternates: null })).toEqual(scenariosOf(many, allRules));
    // The base bid, and with one to five of them; four are few enough for all 2⁴ = 16.
    expect(scenariosOf(many, { alternates: null })).toHaveLength(6);
    expect(scenariosOf(many.slice(0, -1), { alternates: null })).toHaveLength(16);
  });

  it("leave a bid without a rank where a part of it has no total, and the others as if it were not there", () => {
    const none = correctBid(
      bidOf("C", [line(90, 90), line(null, null), line(5, 5)], { base: 90, 1: null, 2: 5 }),
      lines,
      allRules,
    );
    const [base, first] = compareBids([...bids, none], lines, allRules, [null, null, null]);
    expect(base?.standings.map(({ rankCorrected }) => rankCorrected)).toEqual([2, 3, 1]);
    expect(first?.standings.map(({ rankCorrected }) => rankCorrected)).toEqual([2, 1, null]);
    expect(first?.standings.map(({ withoutAmount }) => withoutAmount)).toEqual([0, 0, 1]);
  });

  it("says a tie and breaks none", () => {
    const one = [issuedLine("1.00", 1)];
    const same = ["A", "B"].map((name) => correctBid(bidOf(name, [line(7, 7)], { base: 7 }), one, allRules));
    const [base] = compareBids(same, one, allRules, [null]);
    expect(base?.standings.map(({ rankCorrected }) => rankCorrected)).toEqual([1, 1]);
    expect(tiedLowest(base!)).toEqual([0, 1]);
  });
});

describe("prices worth a second look", () => {
  // The worked example of the facts behind this check, constructed and verified by hand.
  const items: readonly (readonly [string, number, number, number, number, boolean])[] = [
    ["mobilisation", 1, 40_000, 55_000, 160_000, true],
    ["base liner", 100, 4_200, 4_300, 4_300, false],
    ["additional length", 800, 70, 72, 15, false],
    ["cleanout", 60, 1_800, 1_700, 900, false],
    ["traffic", 1, 30_000, 30_000, 28_000, true],
  ];
  const lines = items.map(([item, quantity, , , , lumpSum]) => issuedLine(item, quantity, { lumpSum }));
  const column = (i: 2 | 3 | 4) => items.map((item) => cents(item[i] * 100));
  const [estimate, a, b] = [column(2), column(3), column(4)];
  const band = { low: 0.6, high: 1.5 };

  it("totals are 654,000, 674,600 and 684,000", () => {
    expect([estimate, a, b].map((prices) => totalOf(lines, prices))).toEqual([
      65_400_000, 67_460_000, 68_400_000,
    ]);
  });

  it("are those outside the band: none of A, three of B", () => {
    expect(pricesOutsideBand(a, estimate, band)).toEqual([]);
    const found = pricesOutsideBand(b, estimate, band);
    expect(found.map(({ line, ratio }) => [line, Number(ratio.toFixed(2))])).toEqual([
      [0, 4],
      [2, 0.21],
      [3, 0.5],
    ]);
  });

  it("are no question where the estimate has no price or asks for nothing, or the bid has none", () => {
    const [p, none] = [cents(500), null];
    expect(pricesOutsideBand([p, p, none, p], [none, cents(0), p, cents(100)], band)).toEqual([
      { line: 3, ratio: 5 },
    ]);
    // At the ends of the band nothing leaves it.
    expect(pricesOutsideBand([cents(60), cents(150)], [cents(100), cents(100)], band)).toEqual([]);
  });

  it("turn no order by a line whose quantity, or the difference of whose prices, is none", () => {
    const empty = { ...lines[0]!, lumpSum: false, hundredths: 0 };
    const found = breakEvens([...lines, empty], [...a, cents(1)], [...b, cents(2)]);
    expect(found.map(({ line }) => line)).toEqual([2, 3]);
  });

  it("turn the order at 964.9 of additional length, 20.6 % more", () => {
    // (684,000 − 674,600) = 57 × (LF − 800), so LF = 800 + 9,400/57 = 964.91.
    const found = breakEvens(lines, a, b);
    expect(found.map(({ line }) => line)).toEqual([2, 3]);
    expect(found[0]?.quantity).toBeCloseTo(964.9, 1);
    expect(found[0]?.change).toBeCloseTo(0.206, 3);
    // Cleanouts: 60 + 9,400/800 = 71.75.
    expect(found[1]?.quantity).toBeCloseTo(71.75, 9);
  });

  it("has the break-even right: at that quantity both bids come to the same", () => {
    for (const { line: i, quantity } of breakEvens(lines, a, b)) {
      const at = lines.map((each, j) => (j === i ? quantity : each.hundredths / 100));
      const sum = (prices: readonly number[]) =>
        at.reduce((total, each, j) => total + (each * prices[j]!) / 100, 0);
      expect(sum(a)).toBeCloseTo(sum(b), 6);
    }
  });

  it("flip the order with 1,400 of length and 90 cleanouts: 768,800 and 720,000", () => {
    const grown = lines.map((each, i) =>
      i === 2 ? { ...each, hundredths: 140_000 } : i === 3 ? { ...each, hundredths: 9_000 } : each,
    );
    expect(totalOf(grown, a)).toBe(76_880_000);
    expect(totalOf(grown, b)).toBe(72_000_000);
  });

  it("turn no order where quantities would have to be below nothing or more than doubled", () => {
    // 57 × 800 + 800 × 60 = 93,600 less than what parts them: 93,601 more on a lump sum.
    const lump = { ...lines[0]!, item: "9.00", lumpSum: true, hundredths: 100 };
    const [more, less] = [cents(9_360_100 - 940_000), cents(0)];
    expect(turnsAt([...lines, lump], [...a, less], [...b, more])).toBeNull();
    expect(turnsAt([...lines, lump], [...a, less], [...b, cents(more - 200)])).toBeCloseTo(1, 4);
    expect(breakEvens([...lines, lump], [...a, less], [...b, more]).map(({ line }) => line)).toEqual([]);
  });

  it("turn the order when all quantities move by 10.04 %", () => {
    // 9,400 / (57 × 800 + 800 × 60) = 9,400 / 93,600 = 0.1004.
    expect(turnsAt(lines, a, b)).toBeCloseTo(0.1004, 4);
  });
});

describe("responsiveness", () => {
  const lines = [issuedLine("1.00", 1)];
  const bid = bidOf("A", [line(7, 7)], { base: 7 });
  const answers = (form: Partial<typeof bid.form>, addenda: number) =>
    checkResponsiveness(
      correctBid({ ...bid, form: { ...bid.form, ...form } }, lines, allRules),
      addenda,
      allRules,
      lines,
    );
  const answer = (asks: string, ...from: Parameters<typeof answers>) =>
    answers(...from).find((check) => check.asks === asks);

  it("asks for a signature, a security and every addendum by its number", () => {
    expect(answers({}, 1).map(({ answer: given }) => given)).toEqual([
      "yes",
      "yes",
      "yes",
      "to be read",
      "yes",
      "yes",
    ]);
    expect(answer("Signed, and by whom", { signature: null }, 1)?.answer).toBe("no");
    expect(answer("Addenda acknowledged", { addenda: "No. 1 and no. 2" }, 2)?.answer).toBe("yes");
    for (const range of ["1-3", "Nos. 1 – 3", "1 through 3", "1 to 3 of 2026-03-02"])
      expect(answer("Addenda acknowledged", { addenda: range }, 3)?.answer).toBe("yes");
    expect(answer("Addenda acknowledged", { addenda: "1-2" }, 3)?.answer).toBe("no");
    expect(answer("Addenda acknowledged", { addenda: "2" }, 2)).toMatchObject({
      answer: "no",
      found: "not named: 1",
    });
    expect(answer("Addenda acknowledged", { addenda: null }, 0)).toMatchObject({
      answer: "yes",
      found: "none issued",
    });
    expect(answer("Bid security", { security: null }, 1)).toMatchObject({
      answer: "no",
      found: "empty; 10 % of 7.00 asked for",
    });
  });

  it("says who signed where that is written, how many lines have no amount, and what was added", () => {
    const signed = (form: Partial<typeof bid.form>) => answer("Signed, and by whom", form, 1)?.found;
    expect(signed({ signature: "A. P.", signedBy: "Ann Person" })).toBe("A. P., Ann Person");
    expect(signed({ signature: "A. P.", signedBy: null })).toBe("A. P.");
    const two = [...lines, issuedLine("2.00", 1)];
    const half = bidOf("A", [line(7, 7), line(null, null)], { base: 7 });
    const checks = checkResponsiveness(
      correctBid({ ...half, additions: ["a sheet", "a row"] }, two, allRules),
      1,
      allRules,
      two,
    );
    expect(checks.slice(-2)).toEqual([
      {
        asks: "Every line priced",
        answer: "no",
        found: "1 without an amount; 2.00: unit price left blank, no amount",
      },
      { asks: "Nothing added to the book", answer: "to be read", found: "a sheet; a row" },
    ]);
    // Without a base bid there is nothing to take ten per cent of.
    expect(checks.find(({ asks }) => asks === "Bid security")?.found).toBe("bond");
    const unasked = checkResponsiveness(correctBid(bid, lines, allRules), 1, { security: null }, lines);
    expect(unasked.find(({ asks }) => asks === "Bid security")?.found).toBe("bond");
  });

  it("has a unit price that was left blank read by people, and says what a rule put in its place", () => {
    const two = [issuedLine("1.00", 1), issuedLine("5.10", 3)];
    const priced = (own: ReturnType<typeof line>, rules: typeof allRules) =>
      checkResponsiveness(
        correctBid(bidOf("A", [line(7, 7), own], { base: 107 }), two, rules),
        1,
        rules,
        two,
      ).find(({ asks }) => asks === "Every line priced");
    // 100.00 ÷ 3 = 33.33, rounded down to the cent.
    expect(priced(line(null, 100), allRules)).toMatchObject({
      answer: "to be read",
      found: "5.10: unit price left blank, 33.33 put in its place",
    });
    expect(priced(line(null, 100), noRules)).toMatchObject({
      answer: "to be read",
      found: "5.10: unit price left blank, nothing put in its place, the extension 100.00 taken",
    });
    expect(priced(line(null, null), allRules)).toMatchObject({
      answer: "no",
      found: "1 without an amount; 5.10: unit price left blank, no amount",
    });
    expect(
      priced({ ...line(null, 100), price: { kind: "unreadable", text: "t.b.d." } }, allRules),
    ).toMatchObject({
      answer: "to be read",
      found: '5.10: unit price reads "t.b.d.", 33.33 put in its place',
    });
    expect(priced(line(33, 99), allRules)).toMatchObject({ answer: "yes", found: "all" });
  });

  it("has an addendum that was not issued read by people: the bidder may have another book's, or none", () => {
    expect(answer("Addenda acknowledged", { addenda: "1, 2" }, 1)).toMatchObject({
      answer: "to be read",
      found: '"1, 2" names 2, which was not issued: the last addendum is 1',
    });
    expect(answer("Addenda acknowledged", { addenda: "1" }, 0)).toMatchObject({
      answer: "to be read",
      found: '"1" names 1, which was not issued: there is no addendum',
    });
    expect(answer("Addenda acknowledged", { addenda: "1, 3" }, 2)).toMatchObject({
      answer: "no",
      found: 'not named: 2; "1, 3" names 3, which was not issued: the last addendum is 2',
    });
  });

  it("takes what may be a count of pages, or reaches beyond what was issued, for no range", () => {
    const told = (addenda: string, issued: number) => answer("Addenda acknowledged", { addenda }, issued);
    for (const written of ["1 - 3 pages", "1-3 pp.", "1–3 Sheets", "1 to 3pages", "1-3-page letter"])
      expect(told(written, 3)).toMatchObject({
        answer: "to be read",
        found: `${JSON.stringify(written)} may or may not name 2`,
      });
    expect(told("1 - 3 pages", 4)).toMatchObject({
      answer: "no",
      found: 'not named: 4; "1 - 3 pages" may or may not name 2',
    });
    expect(told("1-5", 3)).toMatchObject({
      answer: "to be read",
      found: '"1-5" may or may not name 2, 3; "1-5" names 5, which was not issued: the last addendum is 3',
    });
    for (const written of [
      "1-3",
      "Nos. 1 – 3",
      "1 through 3",
      "1 to 3",
      "1-2, 3",
      "1-2 and 3",
      "(1-3)",
      "1-3.",
    ])
      expect([written, told(written, 3)?.answer]).toEqual([written, "yes"]);
  });

  it("takes no day that is written beside a number for an addendum", () => {
    expect(answer("Addenda acknowledged", { addenda: "No. 1 of 2026-03-02" }, 1)?.answer).toBe("yes");
    expect(answer("Addenda acknowledged", { addenda: "No. 1, 3/2/2026" }, 2)).toMatchObject({
      answer: "no",
      found: "not named: 2",
    });
    for (const written of ["1 (2-27-26)", "1-15-26: No. 1", "No. 1, 2/27/26", "1 of 27.2.26", "1 (26-02-27)"])
      expect([written, answer("Addenda acknowledged", { addenda: written }, 3)?.found]).toEqual([
        written,
        "not named: 2, 3",
      ]);
    // A day alone names none.
    expect(answer("Addenda acknowledged", { addenda: "1-15-26" }, 3)?.found).toBe("not named: 1, 2, 3");
  });
});

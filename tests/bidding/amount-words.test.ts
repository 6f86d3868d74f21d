import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { amountFromWords, amountInWords } from "../../src/bidding/amount-words.ts";
import { cents } from "../../src/quantity/si.ts";

describe("an amount in words", () => {
  it.each([
    // Written out by hand.
    [0, "zero and 00/100 USD"],
    [5, "zero and 05/100 USD"],
    [21_000, "two hundred ten and 00/100 USD"],
    [127_702_900, "one million two hundred seventy-seven thousand twenty-nine and 00/100 USD"],
    [1_001_317, "ten thousand thirteen and 17/100 USD"],
    [100_000_000_099, "one billion and 99/100 USD"],
    [
      99_999_999_999,
      "nine hundred ninety-nine million nine hundred ninety-nine thousand nine hundred ninety-nine and 99/100 USD",
    ],
  ])("of %i cents is %s", (amount, words) => {
    expect(amountInWords(cents(amount), "USD")).toBe(words);
  });

  it("reads back as the same amount, whatever it is", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000_000 }), (amount) => {
        expect(amountFromWords(amountInWords(cents(amount), "USD"), "USD")).toBe(amount);
      }),
    );
  });

  it("is refused below nothing and where it is no whole cents", () => {
    expect(() => amountInWords(cents(-1), "USD")).toThrow("-1");
    expect(() => amountInWords(cents(0.5), "USD")).toThrow("0.5");
  });
});

describe("words of a bidder", () => {
  it.each([
    ["Four Thousand Two Hundred Dollars and No Cents", 420_000],
    ["four thousand, two hundred and 50/100 dollars", 420_050],
    ["Four thousand two hundred dollars and fifty cents only", 420_050],
    ["two hundred and ten", 21_000],
    ["Twenty-one euros", 2_100],
    ["zero dollars and five cents", 5],
    ["one hundred CHF", 10_000],
  ])("%s are read as people mean them", (text, amount) => {
    expect(amountFromWords(text, "CHF")).toBe(amount);
  });

  it.each([
    "",
    "4200",
    "two three",
    "twelve hundred dollars",
    "four thousand less ten dollars",
    "four thousand dollars per lateral",
    "two hundred dollars and one hundred cents",
    "thousand",
    "four thousend",
    "hundred two",
    "two hundred and 5/100",
  ])("%j are left to people: no guess decides who is lowest", (text) => {
    expect(amountFromWords(text, "USD")).toBeNull();
  });
});

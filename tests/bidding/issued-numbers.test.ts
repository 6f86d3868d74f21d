import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { IssuedRecordLine } from "../../src/bidding/issue-changes.ts";
import { NOTHING_ISSUED, numbersIssued, numbersOf } from "../../src/bidding/issued-numbers.ts";

const line = (key: string, item: string, more: Partial<IssuedRecordLine> = {}): IssuedRecordLine => ({
  key,
  item,
  wording: key,
  unit: "EA",
  hundredths: 100,
  sheet: "Bid schedule",
  amount: null,
  ...more,
});
const issue = (...lines: readonly IssuedRecordLine[]) => ({ lines });

describe("the numbers of an item's lines", () => {
  it("begin at one where nothing was issued", () => {
    expect(numbersOf(6, ["3 in", "4 in"], NOTHING_ISSUED)).toEqual([6.01, 6.02]);
  });

  it("stay what they were, and a new line gets one that moves no other", () => {
    const issued = numbersIssued([issue(line("4 in", "6.01"), line("6 in", "6.02"), line("8 in", "16.07"))]);
    expect(numbersOf(6, ["3 in", "4 in", "5 in", "6 in"], issued)).toEqual([6.03, 6.01, 6.04, 6.02]);
  });

  it("are not used again when their line went, and are its own when it comes back", () => {
    const issues = [
      issue(line("4 in", "6.01"), line("6 in", "6.02")),
      issue(line("4 in", "6.01")),
      issue(line("4 in", "6.01"), line("5 in", "6.03")),
    ];
    expect(numbersOf(6, ["8 in"], numbersIssued(issues.slice(0, 2)))).toEqual([6.03]);
    expect(numbersOf(6, ["4 in", "6 in", "8 in"], numbersIssued(issues))).toEqual([6.01, 6.02, 6.04]);
  });

  it("of records from before numbers stayed are those of the later issue", () => {
    const issued = numbersIssued([
      issue(line("4 in", "6.01"), line("5 in", "6.02"), line("6 in", "6.03")),
      issue(line("4 in", "6.01"), line("6 in", "6.02")),
    ]);
    expect(numbersOf(6, ["4 in", "6 in"], issued)).toEqual([6.01, 6.02]);
    // 5 in comes back: its 6.02 is another line's now, and 6.03 stood for 6 in.
    expect(numbersOf(6, ["5 in"], issued)).toEqual([6.04]);
  });

  it("are the same in every part of the bid", () => {
    const issued = numbersIssued([
      issue(line("4 in", "6.01"), line("6 in, alternate 2", "6.02", { sheet: "Alternate 2" })),
    ]);
    expect(numbersOf(6, ["6 in"], issued)).toEqual([6.02]);
  });

  it("go by an allowance's wording, as another one put first would else take its place", () => {
    const allowance = { wording: "Allowance set by the owner: police", amount: 100 };
    const issued = numbersIssued([issue(line("allowance 1", "90.01", allowance))]);
    expect(numbersOf(90, ["Allowance set by the owner: repairs", allowance.wording], issued)).toEqual([
      90.02, 90.01,
    ]);
  });

  it("never stand for two lines, and no line has two, whatever comes and goes", () => {
    const names = ["a", "b", "c", "d", "e", "f"];
    fc.assert(
      fc.property(fc.array(fc.subarray(names), { minLength: 1, maxLength: 12 }), (sets) => {
        const issues: { lines: readonly IssuedRecordLine[] }[] = [];
        const [nameOf, numberOf] = [new Map<number, string>(), new Map<string, number>()];
        for (const own of sets) {
          const numbers = numbersOf(6, own, numbersIssued(issues));
          for (const [i, name] of own.entries()) {
            const number = numbers[i]!;
            expect(nameOf.get(number) ?? name).toBe(name);
            expect(numberOf.get(name) ?? number).toBe(number);
            nameOf.set(number, name);
            numberOf.set(name, number);
          }
          issues.push(issue(...own.map((name, i) => line(name, numbers[i]!.toFixed(2)))));
        }
      }),
    );
  });

  it("run out at 99 over all issues, which is refused", () => {
    const issued = numbersIssued([issue(line("4 in", "6.99"))]);
    expect(() => numbersOf(6, ["5 in"], issued)).toThrow("item 6 has more than 99 lines");
  });
});

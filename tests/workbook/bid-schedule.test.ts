import { describe, expect, it } from "vitest";
import { numbersIssued } from "../../src/bidding/issued-numbers.ts";
import { scheduleLines, variantIn } from "../../src/workbook/bid-schedule.ts";
import { usBasis } from "../plan/examples.ts";

const keysOf = (quantities: Readonly<Record<string, number>>) =>
  scheduleLines(usBasis, new Map(Object.entries(quantities))).map(({ number, key }) => [number, key]);

describe("the lines of the schedule", () => {
  it("put variants in the order of their sizes, whatever order they come in", () => {
    expect(
      keysOf({
        "sectional liner | 10 in x 3 ft": 100,
        "sectional liner | 4 in x 10 ft": 100,
        "sectional liner | 4 in x 3 ft": 100,
        "root cutting | size not known": 100,
        "root cutting | 6 in": 100,
      }),
    ).toEqual([
      [1, "mobilization"],
      [2, "traffic control"],
      [4.01, "root cutting | 6 in"],
      [4.02, "root cutting | size not known"],
      [5.01, "sectional liner | 4 in x 3 ft"],
      [5.02, "sectional liner | 4 in x 10 ft"],
      [5.03, "sectional liner | 10 in x 3 ft"],
    ]);
  });

  it("keep the numbers that bidders have, in the order of the numbers", () => {
    const record = (key: string, item: string) => ({
      key,
      item,
      wording: key,
      unit: "LF",
      hundredths: 100,
      sheet: "Bid schedule",
      amount: null,
    });
    const issued = numbersIssued([
      { lines: [record("root cutting | 4 in", "4.01"), record("root cutting | 8 in", "4.02")] },
    ]);
    const quantities = new Map(["3 in", "6 in", "8 in"].map((size) => [`root cutting | ${size}`, 100]));
    expect(
      scheduleLines(usBasis, quantities, issued)
        .slice(2)
        .map(({ number, label }) => [number, label]),
    ).toEqual([
      [4.02, "root cutting, 8 in"],
      [4.03, "root cutting, 3 in"],
      [4.04, "root cutting, 6 in"],
    ]);
  });

  it("say a one-piece liner by both its sizes and its length by the lateral's, and read them back", () => {
    const lines = scheduleLines(
      usBasis,
      new Map([
        ["one-piece liner | 4 in, main 10 in", 100],
        ["one-piece liner | 6 in, main 8 in", 100],
        ["one-piece liner | 4 in, main 8 in", 200],
        ["additional one-piece length | 4 in", 1250],
      ]),
    ).slice(2);
    expect(lines.map(({ number, unit, hundredths }) => [number, unit, hundredths])).toEqual([
      [15.01, "EA", 200],
      [15.02, "EA", 100],
      [15.03, "EA", 100],
      [16.01, "LF", 1250],
    ]);
    expect(lines.map(({ description, item }) => variantIn(description, item))).toEqual([
      "4 in, main 8 in",
      "4 in, main 10 in",
      "6 in, main 8 in",
      "4 in",
    ]);
    for (const { description } of lines) expect(description).toContain("included length 30 ft");
  });

  it("state the trench width that the areas are made with, in either system", () => {
    const stated = (units: "us" | "si", trenchWidth: number) => {
      const { treatments, program } = usBasis;
      const basis = {
        ...usBasis,
        program: { ...program, units },
        treatments: { ...treatments, openCut: { ...treatments.openCut, trenchWidth } },
      } as typeof usBasis;
      const line = scheduleLines(basis, new Map([["surface restoration | yard", 100]])).at(-1)!;
      return /trench width ([\d.]+ \w+)/.exec(line.description)?.[1];
    };
    // 3 ft are 0.9144 m exactly; 0.9 m are 0.9 / 0.3048 = 2.952756 ft.
    expect(stated("us", 0.9144)).toBe("3.00 ft");
    expect(stated("si", 0.9144)).toBe("0.9144 m");
    expect(stated("si", 0.9)).toBe("0.90 m");
    expect(stated("us", 0.9)).toBe("2.952756 ft");
  });

  it("refuse a line that is no bid item instead of leaving it out", () => {
    expect(() => keysOf({ "sky hook | 4 in": 100 })).toThrow('"sky hook | 4 in"');
  });

  it("refuse more variants than item numbers can tell apart", () => {
    const many = Object.fromEntries(Array.from({ length: 100 }, (_, i) => [`root cutting | ${i} in`, 100]));
    expect(() => keysOf(many)).toThrow("item 4 has more than 99 lines");
  });
});

import { describe, expect, it } from "vitest";
import { bidLayoutSchema } from "../../src/program/bid-layout-settings.ts";

const messages = (written: unknown): readonly string[] =>
  bidLayoutSchema.safeParse(written).error?.issues.map(({ message }) => message) ?? [];
const allowance = { wording: "Repairs", amount: 25_000, payment: "As ordered." };

describe("how program.json divides a bid", () => {
  it("takes alternates by one kind of scope each, and allowances with their amounts", () => {
    const alternates = [
      { name: "North", districts: ["North"] },
      { name: "Connections", treatments: ["connection liner"] },
      { name: "Two", laterals: ["00101", "00102"] },
      { name: "Old", filter: "old" },
    ];
    expect(messages({ alternates, allowances: [allowance] })).toEqual([]);
  });

  it("refuses two scopes in one, none, a name used twice, and words it does not know", () => {
    expect(messages({ alternates: [{ name: "A", districts: ["N"], laterals: ["1"] }] })[0]).toContain(
      "only one",
    );
    expect(messages({ alternates: [{ name: "A" }] })[0]).toContain("only one");
    expect(messages({ alternates: [1, 2].map((i) => ({ name: "A", laterals: [`${i}`] })) })[0]).toContain(
      "different names",
    );
    expect(messages({ alternates: [{ name: "A", treatments: ["magic"] }] })[0]).toContain("connection liner");
    expect(messages({ deductions: [] })).toHaveLength(1);
  });

  it("takes nine alternates and ninety allowances, and no more", () => {
    const alternates = (count: number) =>
      messages({
        alternates: Array.from({ length: count }, (_, i) => ({ name: `A${i}`, laterals: [`${i}`] })),
      });
    expect(alternates(9)).toEqual([]);
    expect(alternates(10)).toEqual(["no more than 9 alternates"]);
    const allowances = (count: number) =>
      messages({
        allowances: Array.from({ length: count }, (_, i) => ({ ...allowance, wording: `Allowance ${i}` })),
      });
    expect(allowances(90)).toEqual([]);
    expect(allowances(91)).toEqual(["no more than 90 allowances"]);
  });

  it("refuses two allowances of one wording: their numbers are kept by it", () => {
    expect(messages({ allowances: [allowance, allowance] })).toEqual(["allowances of different wordings"]);
  });

  it("refuses an allowance of nothing, or of parts of a cent", () => {
    for (const amount of [0, -5, 10.001])
      expect(messages({ allowances: [{ ...allowance, amount }] })[0]).toContain("an amount above nothing");
  });
});

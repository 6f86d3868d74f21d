import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import type { CostBook } from "../../src/bidding/cost-book.ts";
import { sensitivities } from "../../src/bidding/sensitivity.ts";
import { breakEvenQuantity, priceUnit, totalPrice } from "../../src/bidding/unit-price.ts";
import { readCostBook } from "../../src/program/cost-book-file.ts";

const book: CostBook = {
  source: "invented",
  currency: "USD",
  units: "us",
  roles: { foreman: 60, laborer: 40 },
  equipment: { rig: 80 },
  crews: { lining: { people: { foreman: 1, laborer: 2 }, equipment: { rig: 1 } } },
  materials: { resin: { unit: "lb", price: 5, waste: 0.1 } },
  items: {
    "full-length liner": {
      crew: "lining",
      minutes: 90,
      materials: { resin: 20 },
      perJob: 1000,
      sizes: { "4 in": {}, "6 in": { materials: { resin: 40 } } },
    },
    mobilization: { subcontract: 1000 },
    "root cutting": { crew: "lining", minutes: "plan" },
  },
  onTop: { contingency: 0.05, overhead: 0.1, profit: 0.1, bonds: 0.01, insurance: 0.02 },
};
const liner = { item: "full-length liner", variant: "4 in", hundredths: 1000, itemHundredths: 1000 } as const;

describe("a unit price", () => {
  it("is worked out part by part, as by hand", () => {
    // 1.5 h × (60 + 2·40) = 210; 1.5 × 80 = 120; 20 × 5 × 1.1 = 110; 1000/10 = 100: direct 540.
    // Contingency 27.00 → 567; overhead 56.70 → 623.70; profit 62.37 → 686.07; / 0.97 = 707.2887: bonds 7.07, insurance 14.15.
    const pricing = priceUnit(book, liner, null);
    expect(pricing).toEqual({
      ok: true,
      unit: {
        price: 70_729,
        parts: {
          labour: 21_000,
          equipment: 12_000,
          materials: 11_000,
          subcontract: 0,
          "per job": 10_000,
          contingency: 2_700,
          overhead: 5_670,
          profit: 6_237,
          bonds: 707,
          insurance: 1_415,
        },
      },
    });
  });

  it("is refused with the reason when its costs come to more than money is counted to", () => {
    // Found by the soak: a crew of 1e308 people came to a price that was no number.
    const crowd = {
      ...book,
      crews: { lining: { people: { foreman: 1e308, laborer: 1e308 }, equipment: {} } },
    };
    expect(priceUnit(crowd, liner, null)).toEqual({
      ok: false,
      because: 'the costs of "full-length liner" come to more than money is counted to',
    });
  });

  it("carries its cost per job from the quantity at which revenue is cost", () => {
    const pricing = priceUnit(book, liner, null);
    if (!pricing.ok) throw new Error(pricing.because);
    // 1000 / (707.29 × 0.97 − 440) = 1000 / 246.0713 = 4.0639.
    expect(breakEvenQuantity(book, 1000, pricing.unit)).toBeCloseTo(4.0639, 4);
  });

  it("spreads a cost per job once over all sizes of the item", () => {
    const pricing = priceUnit(book, { ...liner, hundredths: 400 }, null);
    expect(pricing.ok && pricing.unit.parts["per job"]).toBe(10_000);
  });

  it("of a size, an item or a production the book does not have is none, with the reason", () => {
    const because = (quantity: Parameters<typeof priceUnit>[1]) => {
      const pricing = priceUnit(book, quantity, null);
      return pricing.ok ? null : pricing.because;
    };
    expect(because({ ...liner, variant: "10 in" })).toContain('no size "10 in"');
    expect(because({ ...liner, item: "new cleanout" })).toContain("no item");
    expect(because({ ...liner, item: "root cutting" })).toContain("no plan");
    expect(priceUnit(book, { ...liner, item: "root cutting" }, new Map([["root cutting", 3]])).ok).toBe(true);
  });
});

describe("sensitivity", () => {
  it("is what the total is at the higher rate, less what it is", () => {
    const lines = [
      liner,
      { item: "mobilization", variant: "", hundredths: 100, itemHundredths: 100 } as const,
    ];
    const found = sensitivities(book, lines, null, 0.1);
    const dearer = { ...book, roles: { ...book.roles, foreman: 66 } };
    expect(found.find(({ rate }) => rate === "hourly rate, foreman")?.change).toBe(
      totalPrice(dearer, lines, null)! - totalPrice(book, lines, null)!,
    );
    expect(found.map(({ change }) => change)).toEqual(
      found.map(({ change }) => change).toSorted((a, b) => b - a),
    );
  });
});

describe("a cost book file", () => {
  const sample = new URL("../../sample-programs/demo-cost-book.json", import.meta.url).pathname;
  const problemsOf = async (change: (text: string) => string) => {
    const read = readCostBook("book.json", Buffer.from(change(await readFile(sample, "utf8"))));
    return read.ok ? [] : read.problems;
  };

  it("of the sample is read, and says that it is invented", async () => {
    const read = readCostBook("book.json", await readFile(sample));
    expect(read.ok && read.book.source).toContain("DEMO: invented");
  });

  it("with a word that is not in it, or an unknown key, is refused with its line and what to do", async () => {
    const before = (await readFile(sample, "utf8")).split('"crew": "camera"')[0]!;
    const row = before.split("\n").length;
    expect(await problemsOf((text) => text.replace('"crew": "camera"', '"crew": "camra"'))).toMatchObject([
      { file: "book.json", row, column: "items.camera inspection.crew", found: "camra" },
    ]);
    expect(await problemsOf((text) => text.replace('"overhead"', '"overhed"'))).not.toEqual([]);
    expect(await problemsOf((text) => text.replace('"minutes": 55', '"minutes": "soon"'))).toMatchObject([
      { found: "soon", expected: expect.stringContaining('"plan"') },
    ]);
    expect(await problemsOf((text) => text.slice(0, 300))).toHaveLength(1);
  });

  it("without its units is refused: a cost per foot would stand as one per metre", async () => {
    expect(await problemsOf((text) => text.replace('"units": "us",', ""))).toMatchObject([
      { column: "units", expected: expect.stringContaining("square foot"), remedy: 'Add "units" here.' },
    ]);
  });
});

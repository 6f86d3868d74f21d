import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import type { CostBook } from "../../src/bidding/cost-book.ts";
import { sensitivities } from "../../src/bidding/sensitivity.ts";
import { breakEvenQuantity, priceUnit, totalPrice } from "../../src/bidding/unit-price.ts";
import { readCostBook } from "../../src/program/cost-book-file.ts";
import { cents } from "../../src/quantity/si.ts";

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
    expect(because({ ...liner, item: "new cleanout" })).toContain('no "new cleanout" under "items"');
    expect(because({ ...liner, item: "root cutting" })).toContain("no plan");
    expect(because({ ...liner, hundredths: 0, itemHundredths: 0 })).toContain(
      "no quantity to be spread over",
    );
  });

  it("takes the minutes of the plan where the book says so: 3 min of 140 and 80 an hour", () => {
    const pricing = priceUnit(book, { ...liner, item: "root cutting" }, new Map([["root cutting", 3]]));
    expect(pricing.ok && pricing.unit.parts).toMatchObject({ labour: 700, equipment: 400, "per job": 0 });
  });

  it("spreads a size's own cost per job over that size alone", () => {
    const own = book.items["full-length liner"]!;
    const sizes = { ...own.sizes, "6 in": { perJob: 1000 } };
    const ofSizes = { ...book, items: { ...book.items, "full-length liner": { ...own, sizes } } };
    // 1,000.00 over 4 of the 10 units of both sizes.
    const pricing = priceUnit(ofSizes, { ...liner, variant: "6 in", hundredths: 400 }, null);
    expect(pricing.ok && pricing.unit.parts["per job"]).toBe(25_000);
  });

  it("breaks even nowhere without a cost per job, or where units do not carry their own cost", () => {
    const pricing = priceUnit(book, liner, null);
    if (!pricing.ok) throw new Error(pricing.because);
    const { price, parts } = pricing.unit;
    expect(breakEvenQuantity(book, 1000, { price, parts: { ...parts, "per job": cents(0) } })).toBeNull();
    // 440.00 a unit beside the cost per job: 453.60 × 0.97 is 439.99, 453.62 × 0.97 is 440.01.
    expect(breakEvenQuantity(book, 1000, { price: cents(45_360), parts })).toBeNull();
    expect(breakEvenQuantity(book, 1000, { price: cents(45_362), parts })).not.toBeNull();
  });
});

describe("what all lines come to", () => {
  const mobilization = { item: "mobilization", variant: "", hundredths: 100, itemHundredths: 100 } as const;

  it("is quantity by price, line by line, in whole cents", () => {
    // 10 × 707.29, and 1,000 + 50 + 105 + 115.50 + 13.10 + 26.20 = 1,309.80.
    expect(totalPrice(book, [liner, mobilization], null)).toBe(707_290 + 130_980);
    expect(totalPrice(book, [], null)).toBe(0);
  });

  it("is nothing where one line has no price", () => {
    expect(totalPrice(book, [liner, { ...liner, variant: "10 in" }, mobilization], null)).toBeNull();
  });
});

describe("sensitivity", () => {
  it("is what the total is at the higher rate, less what it is: by hand for 10 units at 707.29", () => {
    const found = sensitivities(book, [liner], null, 0.1);
    const changes = Object.fromEntries(found.map(({ rate, change }) => [rate, change]));
    expect(changes).toMatchObject({
      // Direct 573: + 28.65 + 60.17 + 66.18 + 7.51 + 15.01 = 750.52.
      "crew minutes of all items": 43_230,
      // Direct 552: + 27.60 + 57.96 + 63.76 + 7.23 + 14.46 = 723.01.
      "hourly rate, rig": 15_720,
      // Direct 551: + 27.55 + 57.86 + 63.64 + 7.22 + 14.43 = 721.70.
      "price of resin": 14_410,
      // Direct 549: + 27.45 + 57.65 + 63.41 + 7.19 + 14.38 = 719.08.
      "hourly rate, foreman": 11_790,
    });
    expect(found.map(({ change }) => change)).toEqual(Object.values(changes).toSorted((a, b) => b - a));
  });

  it("names no rate that moves nothing, and none at all where a line has no price", () => {
    const mobilization = { item: "mobilization", variant: "", hundredths: 100, itemHundredths: 100 } as const;
    const rates = sensitivities(book, [mobilization], null, 0.1).map(({ rate }) => rate);
    expect(rates.toSorted()).toEqual(["bonds", "contingency", "insurance", "overhead", "profit"]);
    expect(sensitivities(book, [{ ...liner, variant: "10 in" }], null, 0.1)).toEqual([]);
  });

  it("has the minutes of a size go up with those of its item", () => {
    const own = book.items["full-length liner"]!;
    const sized = { ...own, sizes: { "4 in": { minutes: 90 } }, minutes: 600 };
    const found = sensitivities({ ...book, items: { "full-length liner": sized } }, [liner], null, 0.1);
    // The size's 90 min are those of above.
    expect(found.find(({ rate }) => rate === "crew minutes of all items")?.change).toBe(43_230);
  });

  it("has the minutes of the plan go up with those of the book", () => {
    const cutting = { item: "root cutting", variant: "", hundredths: 100, itemHundredths: 100 } as const;
    const plan = new Map([["root cutting", 30] as const]);
    const found = sensitivities(book, [cutting], plan, 0.1);
    // Direct 70 + 40 = 110 with 5.50, 11.55, 12.71 (12.705), 1.44, 2.88: 144.08; and 121 with 6.05, 12.71, 13.98, 1.58, 3.17: 158.49.
    expect(found.find(({ rate }) => rate === "crew minutes of all items")?.change).toBe(1_441);
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

  it("of which an item has a crew without minutes, or no cost at all, is refused: it would be priced without what is left out", async () => {
    const withItem = (costs: object) => (text: string) => {
      const book = JSON.parse(text) as { items: Record<string, object> };
      book.items["new cleanout"] = costs;
      return JSON.stringify(book, null, 1);
    };
    expect(await problemsOf(withItem({ crew: "digging", materials: {} }))).toMatchObject([
      { column: "items.new cleanout.minutes", expected: expect.stringContaining("minutes of the crew") },
    ]);
    expect(await problemsOf(withItem({}))).toMatchObject([
      { column: "items.new cleanout", expected: expect.stringContaining("what a unit costs") },
    ]);
    expect(await problemsOf(withItem({ crew: "digging", sizes: { "0 to 6 ft": {} } }))).toMatchObject([
      { column: "items.new cleanout.sizes.0 to 6 ft.minutes" },
    ]);
    expect(await problemsOf(withItem({ crew: "digging", sizes: { "0 to 6 ft": { minutes: 90 } } }))).toEqual(
      [],
    );
    expect(await problemsOf(withItem({ subcontract: 0 }))).toEqual([]);
  });

  it("with a share of 1 or more that is no text is refused: 8 is 800 %", async () => {
    const withProfit = (profit: number | string) => (text: string) => {
      const book = JSON.parse(text) as { on_top: Record<string, unknown> };
      book.on_top["profit"] = profit;
      return JSON.stringify(book, null, 1);
    };
    expect(await problemsOf(withProfit(8))).toMatchObject([
      { column: "on_top.profit", found: "8", expected: expect.stringContaining('"8 %"') },
    ]);
    for (const right of [0.08, "8 %", "120 %"]) expect(await problemsOf(withProfit(right))).toEqual([]);
    expect(await problemsOf((text) => text.replace(/"waste": "[^"]*"/, '"waste": 10'))).toMatchObject([
      { column: expect.stringMatching(/^materials\..*\.waste$/), found: "10" },
    ]);
  });

  it("without its units is refused: a cost per foot would stand as one per metre", async () => {
    expect(await problemsOf((text) => text.replace('"units": "us",', ""))).toMatchObject([
      { column: "units", expected: expect.stringContaining("square foot"), remedy: 'Add "units" here.' },
    ]);
  });
});

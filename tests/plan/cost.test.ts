import { describe, expect, it } from "vitest";
import type { BidLine } from "../../src/plan/bid-lines.ts";
import { priceLines, sumCosts } from "../../src/plan/cost.ts";
import { cents } from "../../src/quantity/si.ts";

const line = (item: BidLine["item"], variant: string, hundredths: number): BidLine => ({
  item,
  variant,
  hundredths,
});
const prices = {
  "root cutting": cents(500),
  "root cutting | 6 in": cents(701),
  "new cleanout": cents(150_000),
};

describe("bid lines at unit prices", () => {
  it("take the price of their size, else that of the whole item, to the cent", () => {
    const { lines, total } = priceLines(
      [line("root cutting", "6 in", 1_250), line("root cutting", "4 in", 333), line("new cleanout", "", 100)],
      prices,
    );
    // 12.50 × 7.01 = 87.625, half a cent up; 3.33 × 5.00 = 16.65; 1 × 1,500.00.
    expect(lines.map(({ unitPrice, extension }) => [unitPrice, extension])).toEqual([
      [701, 8_763],
      [500, 1_665],
      [150_000, 150_000],
    ]);
    expect(total).toBe(8_763 + 1_665 + 150_000);
  });

  it("come to nothing known where one has no price, whichever it is", () => {
    const known = line("root cutting", "4 in", 100);
    const unknown = line("camera inspection", "", 100);
    for (const each of [
      [known, unknown],
      [unknown, known],
    ]) {
      const { lines, total } = priceLines(each, prices);
      expect(total).toBeNull();
      expect(lines.find(({ item }) => item === "camera inspection")).toMatchObject({
        unitPrice: null,
        extension: null,
      });
      expect(lines.find(({ item }) => item === "root cutting")?.extension).toBe(500);
    }
  });

  it("are priced by the list that is asked, however often another was", () => {
    const dearer = { ...prices, "root cutting | 6 in": cents(900) };
    const one = [line("root cutting", "6 in", 100)];
    expect([prices, dearer, prices].map((list) => priceLines(one, list).total)).toEqual([701, 900, 701]);
  });
});

describe("the cost of several works", () => {
  const work = (...lines: BidLine[]) => ({ priced: priceLines(lines, prices) });
  const roots = work(line("root cutting", "4 in", 200));
  const cleanout = work(line("new cleanout", "", 100));
  const unpriced = work(line("camera inspection", "", 100));

  it("is the sum of theirs, with all their lines in order; of none it is nothing", () => {
    const both = sumCosts([roots, cleanout]);
    expect(both.total).toBe(1_000 + 150_000);
    expect(both.lines.map(({ item }) => item)).toEqual(["root cutting", "new cleanout"]);
    expect(sumCosts([roots])).toEqual(roots.priced);
    expect(sumCosts([])).toEqual({ lines: [], total: 0 });
  });

  it("is not known where that of one is not", () => {
    expect(sumCosts([roots, unpriced]).total).toBeNull();
    expect(sumCosts([unpriced, roots, cleanout]).total).toBeNull();
  });
});

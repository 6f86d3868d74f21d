import { describe, expect, it } from "vitest";
import { type RangeRow, rangeRows } from "../../src/pictures/range-rows.ts";

const row = (name: string, value: number): RangeRow => ({ name, value, shown: `EUR ${value}` });
const rows = (...values: number[]): readonly RangeRow[] => [
  { ...row("Estimate", values[0]!), isPlan: true },
  ...values.slice(1).map((value, i) => row(`P${i}`, value)),
];

const circles = (svg: string) => [...svg.matchAll(/<circle cx="([\d.]+)"/g)].map(([, x]) => Number(x));

describe("the rows of a range", () => {
  it("lie on one scale: half of the way is half of the way", () => {
    const [least, middle, most] = circles(rangeRows(rows(100, 100, 150, 200), "Cost").svg);
    expect(middle! - least!).toBeCloseTo(most! - middle!, 6);
    expect(most).toBeGreaterThan(least!);
  });

  it("mark the plan by another shape, and say every figure in words", () => {
    const { svg, alt } = rangeRows(rows(120, 100, 150), "Cost");
    expect(circles(svg)).toHaveLength(2);
    expect(svg.match(/stroke-dasharray/g)).toHaveLength(1);
    expect(alt).toBe("Cost: Estimate EUR 120, P0 EUR 100, P1 EUR 150.");
  });

  it("show values that are all one, and a name that is markup as text", () => {
    const { svg } = rangeRows(rows(5, 5, 5), "Cost");
    expect(svg).not.toMatch(/NaN|Infinity/);
    expect(rangeRows([row("<b>", 1), row("&", 2)], "Cost").svg).toMatch(/>&lt;b>.*>&amp;</);
  });
});

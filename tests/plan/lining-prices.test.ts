import { describe, expect, it } from "vitest";
import { fitCures } from "../../src/plan/cure-fit.ts";
import type { Lateral } from "../../src/plan/lateral.ts";
import { priceLining } from "../../src/plan/lining-prices.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { metres } from "../../src/quantity/si.ts";
import { city, feet, lateral, observation, survey, usBasis } from "./examples.ts";

function pricesOf(differs: Partial<Lateral> = {}, basis = usBasis) {
  const inspections = [survey({ structuralGrade: 4, observations: [observation()] })];
  const of = lateral({ branches: city(0), inspections, ...differs });
  const { walls } = planLateral(of, basis);
  return priceLining(of, walls, fitCures(of, walls, basis), basis);
}
const without = (item: string) => {
  const { [item]: _, ...prices } = usBasis.prices;
  return { ...usBasis, prices };
};

describe("what sections are weighed against", () => {
  it("is a section of a length, and the whole lateral, each by the bid lines it would have", () => {
    // 4,200.00 and 10 of 40 ft beyond the included 30 at 70.50.
    const { section, fullLength } = pricesOf();
    expect(section(metres(0.9))).toBe(220_000);
    expect(fullLength).toBe(420_000 + 70_500);
    expect(pricesOf({ branches: city(2) }).fullLength).toBe(420_000 + 70_500 + 70_000);
  });

  it("is the price of its own length, where the lengths have prices of their own", () => {
    const prices = { ...usBasis.prices, "sectional liner | 4 in x 6 ft": usBasis.prices["reinstatement"]! };
    const { section } = pricesOf({}, { ...usBasis, prices });
    expect([3, 6].map((ft) => section(feet(ft)!.value))).toEqual([220_000, 35_000]);
  });

  it("is nothing for the whole lateral where that cannot be lined: no length, or more than the system reaches", () => {
    const longest = usBasis.liners["full-length"].system.longestLength;
    expect(pricesOf({ hostLength: null }).fullLength).toBeNull();
    expect(pricesOf({ hostLength: city(metres(longest + 0.01)) }).fullLength).toBeNull();
    expect(pricesOf({ hostLength: city(metres(longest)) }).fullLength).not.toBeNull();
  });

  it("is nothing that a price is missing of", () => {
    expect(pricesOf({}, without("additional liner length")).fullLength).toBeNull();
    expect(pricesOf({}, without("sectional liner")).section(metres(0.9))).toBeNull();
  });
});

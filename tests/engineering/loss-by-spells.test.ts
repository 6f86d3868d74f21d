import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { presentOfFirstFailure } from "../../src/engineering/expected-loss.ts";
import {
  discountSpells,
  presentOfFirstFailureBySpells,
  presentOfYearlyLossBySpells,
} from "../../src/engineering/loss-by-spells.ts";
import { fraction } from "../../src/quantity/si.ts";

const spells = [
  { years: 1, share: 0.5 },
  { years: 1, share: 1 },
];
const atTenPercent = discountSpells(spells, fraction(0.1));

describe("loss by spells", () => {
  it("counts a first failure of the second spell only where the first spared the pipe", () => {
    // At 10 %: 0.05·1000/1.1 + 0.95·0.1·1000/1.21 = 45.4545 + 78.5124.
    expect(presentOfFirstFailureBySpells(1000, 0.1, atTenPercent)).toBeCloseTo(123.9669, 4);
  });

  it("counts a yearly loss in each spell at its own chance", () => {
    // 50/1.1 + 100/1.21 = 45.4545 + 82.6446.
    expect(presentOfYearlyLossBySpells(1000, 0.1, atTenPercent)).toBeCloseTo(128.0992, 4);
  });

  it("agrees with the year-by-year sum over any spells", () => {
    const spell = fc.record({
      years: fc.integer({ min: 0, max: 30 }),
      share: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(spell, { maxLength: 4 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 0.1, noNaN: true }),
        (each, chance, i) => {
          const surviving = [1];
          for (const { years, share } of each)
            for (let t = 0; t < years; t++) surviving.push(surviving.at(-1)! * (1 - chance * share));
          // Two ways of summing the same doubles.
          expect(presentOfFirstFailureBySpells(100, chance, discountSpells(each, fraction(i)))).toBeCloseTo(
            presentOfFirstFailure(100, surviving, fraction(i)),
            8,
          );
        },
      ),
    );
  });
});

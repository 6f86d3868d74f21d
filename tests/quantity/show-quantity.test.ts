import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import { LITRES_PER_GALLON } from "../../src/quantity/factors.ts";
import {
  showLimit,
  showNumber,
  showParts,
  showQuantity,
  unitLabel,
} from "../../src/quantity/show-quantity.ts";

const us = { units: "us", currency: "USD" } as const;
const si = { units: "si", currency: "EUR" } as const;

describe("showing numbers", () => {
  it("rounds a limit down, so that what is shown is never more than is allowed", () => {
    // The pot life of a batch that works up to 11.7 °C, 53.06 °F.
    expect(showLimit(11.7, "temperature", si)).toBe("11 °C");
    expect(showLimit(11.7, "temperature", us)).toBe("53 °F");
    expect(showLimit(-0.5, "temperature", si)).toBe("-1 °C");
    // 53 °F in °C is not whole and comes back as 53.
    expect(showLimit((53 - 32) / 1.8, "temperature", us)).toBe("53 °F");
  });

  it("shows the unit of the program's system, and walls in millimetres in both", () => {
    expect(showQuantity(11.43, "length", us)).toBe("37.5 ft");
    expect(showQuantity(11.43, "length", si)).toBe("11.43 m");
    expect(showQuantity(101.6, "diameter", us)).toBe("4.0 in");
    expect(showQuantity(4.5, "wall", us)).toBe("4.50 mm");
    expect(showQuantity(0.02, "percent", si)).toBe("2.0 %");
  });

  it("groups thousands and writes cents as currency", () => {
    expect(showQuantity(128_435_0, "money", us)).toBe("USD 12,843.50");
    expect(showNumber(1_234_567, "count", us)).toBe("1,234,567");
    expect(showNumber(-1234.5, "points", us)).toBe("-1,234.50");
    expect(showNumber(-0.001, "points", us)).toBe("0.00");
  });

  it("shows missing as nothing, and zero as zero", () => {
    expect(showNumber(Number.NaN, "length", us)).toBe("");
    expect(showNumber(0, "length", us)).toBe("0.0");
  });

  it("shows dates, flags and years plainly", () => {
    expect(showNumber(dayFromIso("2026-03-01")!, "date", us)).toBe("2026-03-01");
    expect(showNumber(1, "flag", us)).toBe("yes");
    expect(showNumber(1958, "year", us)).toBe("1958");
    expect(unitLabel("money", si)).toBe("EUR");
  });

  it("prints parts that add up to the total as printed, each within its last decimal", () => {
    // The resin of the US sample by district: rounded one by one they would come to 259.69 gal, and the total is 259.68.
    const litres = [113.486, 227.164, 413.33, 188.476, 39.369, 1.169];
    const total = litres.reduce((sum, each) => sum + each, 0);
    const shown = showParts(litres, total, "volume", us);
    const steps = (text: string) => Math.round(Number(text) * 100);
    expect(shown.reduce((sum, text) => sum + steps(text), 0)).toBe(steps(showNumber(total, "volume", us)));
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 5_000_000 }), { maxLength: 30 }), (millilitres) => {
        const parts = millilitres.map((each) => each / 1000);
        const sum = millilitres.reduce((a, b) => a + b, 0) / 1000;
        const texts = showParts(parts, sum, "volume", us).map((text) => text.replaceAll(",", ""));
        expect(texts.reduce((all, text) => all + steps(text), 0)).toBe(
          steps(showNumber(sum, "volume", us).replaceAll(",", "")),
        );
        for (const [i, text] of texts.entries())
          expect(Math.abs(Number(text) - parts[i]! / LITRES_PER_GALLON)).toBeLessThanOrEqual(0.01 + 1e-9);
      }),
    );
    expect(showParts([1, 2], 3, "volume", si)).toEqual(["1.00", "2.00"]);
  });
});

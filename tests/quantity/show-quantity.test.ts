import { describe, expect, it } from "vitest";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import { showNumber, showQuantity, unitLabel } from "../../src/quantity/show-quantity.ts";

const us = { units: "us", currency: "USD" } as const;
const si = { units: "si", currency: "EUR" } as const;

describe("showing numbers", () => {
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
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayFromIso, isoDate } from "../../src/quantity/calendar.ts";
import { dateStyles, showDate, showDayOfYear, showWrittenDate } from "../../src/quantity/show-date.ts";
import { day } from "../../src/quantity/si.ts";

const third = dayFromIso("2026-03-04")!;

describe("a date as a program writes it", () => {
  it("names the month where it could be taken for the day", () => {
    expect(showDate(third)).toBe("2026-03-04");
    expect(showDate(third, "day month year")).toBe("4 March 2026");
    expect(showDate(third, "month day year")).toBe("March 4, 2026");
    expect(dateStyles.map((style) => showDayOfYear(third, style))).toEqual(["03-04", "4 Mar", "Mar 4"]);
  });

  it("is another text for another day, and reads back as the day by any calendar", () => {
    // The engine's own reader of English dates, as a second road; days of its range, before the year 10,000.
    fc.assert(
      fc.property(fc.integer({ min: -700_000, max: 2_900_000 }).map(day), (value) => {
        const [year] = isoDate(value).split("-");
        fc.pre(year!.length === 4 && Number(year) > 999);
        for (const style of ["day month year", "month day year"] as const)
          expect(Date.parse(`${showDate(value, style)} UTC`) / 86_400_000).toBe(value);
      }),
    );
  });

  it("that is no date stays the text it is", () => {
    expect(showWrittenDate("2026-03-04", "month day year")).toBe("March 4, 2026");
    expect(showWrittenDate("2026-02-30", "month day year")).toBe("2026-02-30");
    expect(showWrittenDate("spring", "month day year")).toBe("spring");
  });
});

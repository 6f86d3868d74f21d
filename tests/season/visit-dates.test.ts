import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { describeNotice } from "../../src/plan/notice.ts";
import { dayFromIso, isoDate } from "../../src/quantity/calendar.ts";
import type { SeasonCalendar } from "../../src/reference/season-days.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { datedVisits, firstVisits, noticeBy } from "../../src/season/visit-dates.ts";
import { weekdayOf, workDays } from "../../src/season/work-days.ts";
import { smallProgram } from "../workbook/small-program.ts";
import { seasonCalendar } from "./season-examples.ts";

const calendar = seasonCalendar({
  holidays: [{ day: "2026-07-10", name: "a fair" }],
  blackouts: [{ from: "2026-07-20", to: "2026-07-24", why: "school", district: "LS-14" }],
  crews: { ...seasonCalendar().crews, preparation: { count: 2, changes: [] } },
});

const by = (visit: string, noticeDays: number, noticeCountsIn: "calendar days" | "working days") =>
  isoDate(noticeBy(dayFromIso(visit)!, { noticeDays, noticeCountsIn }, calendar));

describe("notice to occupants", () => {
  it("is counted by the calendar, or in days of the working week that are no holiday", () => {
    // Monday 13 July 2026: the day before is a Sunday; the working day before is Thursday the 9th, since the 10th is a fair.
    expect(by("2026-07-13", 1, "calendar days")).toBe("2026-07-12");
    expect(by("2026-07-13", 1, "working days")).toBe("2026-07-09");
    expect(by("2026-07-13", 3, "working days")).toBe("2026-07-07");
    expect(by("2026-07-15", 3, "calendar days")).toBe("2026-07-12");
    expect(by("2026-07-13", 0, "working days")).toBe("2026-07-13");
  });

  it("never leaves fewer working days than were asked for", () => {
    fc.assert(
      fc.property(fc.integer({ min: 20_000, max: 21_000 }), fc.nat(20), (on, days) => {
        const visit = dayFromIso(isoDate(on as never))!;
        const told = noticeBy(visit, { noticeDays: days, noticeCountsIn: "working days" }, calendar);
        let between = 0;
        for (let at = told; at < visit; at++)
          if (
            calendar.workingWeek.includes(weekdayOf(at)) &&
            !calendar.holidays.some((holiday) => holiday.day === isoDate(at))
          )
            between++;
        expect(between).toBe(days);
      }),
      { numRuns: 100 },
    );
  });

  it("says which days are counted", () => {
    expect(describeNotice({ noticeDays: 1, noticeCountsIn: "calendar days" })).toBe("1 calendar day");
    expect(describeNotice({ noticeDays: 3, noticeCountsIn: "working days" })).toBe("3 working days");
  });
});

describe("dates of visits", () => {
  const planned = (differs: Partial<SeasonCalendar> = {}) => {
    const program = smallProgram("us", [], 40);
    const basis = { ...program.basis, calendar: { ...calendar, ...differs } };
    const whole = { ...program, basis };
    const plan = planSeason(whole)!;
    return { plan, whole, ...datedVisits(whole, plan) };
  };

  it("every visit has a day of the working week that is no holiday, no blackout and not lost to weather", () => {
    const { plan, whole, visits, undated } = planned();
    expect(undated).toEqual([]);
    const worked = plan.work.flatMap(({ crews }) => crews).reduce((sum, crew) => sum + crew.visits, 0);
    expect(visits).toHaveLength(worked);
    expect(new Set(visits.map(({ lateral, crew }) => `${lateral} ${crew}`)).size).toBe(worked);
    const days = new Set(
      workDays(calendar, whole.basis.seasonDays, { times: 1, more: 0 })
        .filter(({ lost }) => !lost)
        .map((each) => each.day),
    );
    for (const { on, until, district } of visits) {
      expect(days.has(on)).toBe(true);
      expect(until).toBeGreaterThanOrEqual(on);
      if (district === "LS-14") expect(isoDate(on) < "2026-07-20" || isoDate(on) > "2026-07-24").toBe(true);
    }
  });

  it("crews at work on a day are those whose packed days have begun and not ended", () => {
    const { plan } = planned();
    const spans = plan.calendars.expected.districts.flatMap(({ crews }) => crews);
    expect(spans.some(({ worked }) => worked.size > 0)).toBe(true);
    for (const { worked, dated, finish } of spans) {
      for (const [on, busy] of worked)
        expect(dated.filter(({ from, to }) => from <= on && on <= to!)).toHaveLength(busy);
      expect(Math.max(...dated.map(({ to }) => to!))).toBe(finish);
    }
  });

  it("the first visit is the one that notice counts from, and later crews come after it", () => {
    const { visits } = planned();
    const first = firstVisits(visits);
    let later = 0;
    for (const { lateral, on, crew } of visits) {
      expect(first.get(lateral)!.on).toBeLessThanOrEqual(on);
      if (crew === "restoration") {
        const lining = visits.find((each) => each.lateral === lateral && each.crew === "lining");
        if (lining === undefined) continue;
        later++;
        expect(on).toBeGreaterThan(lining.until!);
      }
    }
    expect(later).toBeGreaterThan(0);
  });

  it("visits are listed by district, in it by day, on a day by lateral", () => {
    const { visits } = planned();
    const keys = visits.map(({ district, on, lateral }) => [district, isoDate(on), lateral].join(" | "));
    expect(new Set(visits.map(({ district }) => district)).size).toBeGreaterThan(1);
    expect(keys).toEqual([...keys].sort());
  });

  it("a visit that the season ends before has none, and its lateral is named", () => {
    const { visits, undated } = planned({ ends: "2026-07-09" });
    expect(undated.length).toBeGreaterThan(0);
    const dated = new Set(visits.map(({ lateral }) => lateral));
    // What is begun may be not done: then it has no last day.
    for (const { until, on } of visits) expect(until === null || until >= on).toBe(true);
    expect(undated.some((lateral) => !dated.has(lateral))).toBe(true);
  });
});

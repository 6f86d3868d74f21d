import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawStrip, stripOf } from "../../src/pictures/season-strip.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import { minutes } from "../../src/quantity/si.ts";
import { houseSeasonDays, type SeasonCalendar } from "../../src/reference/season-days.ts";
import { planCalendar } from "../../src/season/calendar.ts";
import type { CrewWork, DistrictWork } from "../../src/season/day-packing.ts";
import { EXPECTED, knownDay, weekdayOf, workDays } from "../../src/season/work-days.ts";
import { seasonCalendar } from "./season-examples.ts";

const work = (crew: CrewWork["crew"], days: readonly number[]): CrewWork => ({
  crew,
  travel: minutes(0),
  byCoordinates: false,
  days: days.map((takes, row) => ({ rows: [row], days: takes })),
  visits: days.length,
  crewDays: days.reduce((a, b) => a + b, 0),
  lowerBound: 0,
  exact: false,
  visitMinutes: 0,
  longVisits: [],
});
const ones = (n: number) => new Array<number>(n).fill(1);
const district = (name: string, ...crews: readonly CrewWork[]): DistrictWork => ({
  district: name,
  crews,
  notBefore: null,
});

describe("working days", () => {
  it("lose 29 days a year by the published table", () => {
    // Adverse-weather table of the school agreement: 7 7 4 3 1 1 0 0 0 2 2 2; its sum is 29.
    expect(Object.values(houseSeasonDays.daysLost)).toEqual([7, 7, 4, 3, 1, 1, 0, 0, 0, 2, 2, 2]);
    const year = workDays(
      seasonCalendar({ starts: "2026-01-01", ends: "2026-12-31" }),
      houseSeasonDays,
      EXPECTED,
    );
    // 2026 begins on a Thursday: 261 weekdays.
    expect(year).toHaveLength(261);
    expect(year.filter(({ lost }) => lost)).toHaveLength(29);
  });

  it("know their weekdays, and leave out holidays", () => {
    expect(weekdayOf(knownDay("2026-07-06"))).toBe("monday");
    expect(weekdayOf(knownDay("1969-12-31"))).toBe("wednesday");
    const july = seasonCalendar({ ends: "2026-07-31", holidays: [{ day: "2026-07-08", name: "a fair" }] });
    // Four weeks of five days from 6 July to 31 July, less one.
    expect(workDays(july, houseSeasonDays, EXPECTED).map((each) => isoDate(each.day))).not.toContain(
      "2026-07-08",
    );
    expect(workDays(july, houseSeasonDays, EXPECTED)).toHaveLength(19);
  });

  it("never come back when the weather is worse", () => {
    fc.assert(
      fc.property(fc.nat(12), fc.integer({ min: 1, max: 3 }), (more, times) => {
        const all = seasonCalendar({ starts: "2026-01-01", ends: "2026-12-31" });
        const lostIn = (weather: { times: number; more: number }) =>
          new Set(workDays(all, houseSeasonDays, weather).flatMap((each) => (each.lost ? [each.day] : [])));
        const before = lostIn({ times, more });
        for (const worse of [lostIn({ times, more: more + 1 }), lostIn({ times: times + 1, more })])
          for (const each of before) expect(worse.has(each)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
});

describe("the calendar of crews", () => {
  const planned = (districts: readonly DistrictWork[], differs: Partial<SeasonCalendar> = {}) =>
    planCalendar(districts, seasonCalendar(differs), houseSeasonDays, EXPECTED);

  it("mobilizes, works a packed day a day, and lets the next kind follow", () => {
    // July loses no day to weather. Monday 6 July: mobilize; 7 to 9 preparation; lining mobilizes on 10, works 13 and 14.
    const { districts, finish } = planned([
      district("A", work("preparation", ones(3)), work("lining", ones(2))),
    ]);
    const [preparation, lining] = districts[0]!.crews;
    expect(preparation!.mobilized.map(isoDate)).toEqual(["2026-07-06"]);
    expect(isoDate(preparation!.finish!)).toBe("2026-07-09");
    expect(lining!.mobilized.map(isoDate)).toEqual(["2026-07-10"]);
    expect([...lining!.worked.keys()].map(isoDate)).toEqual(["2026-07-13", "2026-07-14"]);
    expect(isoDate(finish!)).toBe("2026-07-14");
  });

  it("works districts in the order given, a kind of crew in one at a time", () => {
    const both = [district("A", work("lining", ones(2))), district("B", work("lining", ones(1)))];
    const { districts } = planned(both, { districtOrder: ["B"] });
    expect(districts.map((each) => each.district)).toEqual(["B", "A"]);
    // B: mobilize 6, work 7. A: mobilize 8, work 9 and 10.
    expect(districts.map(({ finish }) => isoDate(finish!))).toEqual(["2026-07-07", "2026-07-10"]);
  });

  it("counts the crews of the week, and a long visit keeps its crew", () => {
    const two = { count: 1, changes: [{ from: "2026-07-07", to: "2026-07-08", count: 2 }] };
    // Mobilise 6; 7: the visit of three days and a short one; 8: the long one and a short one; 9, one crew: the long one's last.
    const { districts } = planned([district("A", work("dig", [1, 3, 1]))], {
      crews: { ...seasonCalendar().crews, dig: two },
    });
    expect([...districts[0]!.crews[0]!.worked].map(([on, crews]) => [isoDate(on), crews])).toEqual([
      ["2026-07-07", 2],
      ["2026-07-08", 2],
      ["2026-07-09", 1],
    ]);
    // By row: the long visit from 7 to 9, the short ones one after another beside it.
    const { dated } = districts[0]!.crews[0]!;
    expect(dated.map(({ rows, from, to }) => [rows[0], isoDate(from), isoDate(to!)])).toEqual([
      [1, "2026-07-07", "2026-07-09"],
      [0, "2026-07-07", "2026-07-07"],
      [2, "2026-07-08", "2026-07-08"],
    ]);
  });

  describe("of a visit of several days", () => {
    // From Thursday 9 July: mobilise 9, work from Friday on. By row: from and to.
    const friday = { starts: "2026-07-09" };
    const dates = (lining: CrewWork, differs: Partial<SeasonCalendar> = friday) =>
      planned([district("A", lining)], differs).districts[0]!.crews[0]!.dated.map(
        ({ rows, from, to }) => [rows[0], isoDate(from), to === null ? null : isoDate(to)] as const,
      );
    const mustEnd = (of: CrewWork, on: string): CrewWork => ({
      ...of,
      days: of.days.map((each) => (each.days > 1 ? { ...each, ends: knownDay(on) } : each)),
    });

    it("does not let it lie open over a weekend while there is other work, and ends as soon", () => {
      expect(dates(work("lining", [2, 1, 1]))).toEqual([
        [1, "2026-07-10", "2026-07-10"],
        [0, "2026-07-13", "2026-07-14"],
        [2, "2026-07-15", "2026-07-15"],
      ]);
      // Over a blackout as over a weekend; where nothing else is to be done meanwhile, waiting would cost a day.
      const blackouts = [{ from: "2026-07-14", to: "2026-07-15", why: "a fair", district: "A" }];
      expect(dates(work("lining", [2, 1, 1]), { ...friday, blackouts })[1]).toEqual([
        2,
        "2026-07-13",
        "2026-07-13",
      ]);
      expect(dates(work("lining", [2]))).toEqual([[0, "2026-07-10", "2026-07-13"]]);
    });

    it("waits for no day on which its owner's permission has ended", () => {
      expect(dates(mustEnd(work("lining", [2, 1, 1]), "2026-07-13"))[0]).toEqual([
        0,
        "2026-07-10",
        "2026-07-13",
      ]);
      expect(dates(mustEnd(work("lining", [2, 1, 1]), "2026-07-14"))[1]).toEqual([
        0,
        "2026-07-13",
        "2026-07-14",
      ]);
    });

    it("moves neither the last day nor what is left undone, and lies open no longer than begun at once", () => {
      const jobs = fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 14 });
      fc.assert(
        fc.property(
          jobs,
          fc.integer({ min: 1, max: 3 }),
          fc.constantFrom("2026-07-22", "2026-10-30"),
          (lengths, count, ends) => {
            const season = { ends, crews: { ...seasonCalendar().crews, lining: { count, changes: [] } } };
            const of = (lining: CrewWork) => planned([district("A", lining)], season).districts[0]!.crews[0]!;
            const open = ({ dated }: ReturnType<typeof of>) =>
              dated.reduce(
                (sum, { rows, from, to }) => sum + (to === null ? 0 : to - from + 1 - lengths[rows[0]!]!),
                0,
              );
            const waiting = of(work("lining", lengths));
            // What no day suits any more is begun at once.
            const atOnce = of(mustEnd(work("lining", lengths), "2026-01-01"));
            expect([waiting.finish, waiting.left]).toEqual([atOnce.finish, atOnce.left]);
            expect(open(waiting)).toBeLessThanOrEqual(open(atOnce));
          },
        ),
        { numRuns: 200 },
      );
    });
  });

  it("stays out of a blacked-out district, and says what the season leaves undone", () => {
    const blackouts = [{ from: "2026-07-07", to: "2026-07-13", why: "a fair", district: "A" }];
    const { districts } = planned([district("A", work("lining", ones(1)))], { blackouts });
    expect(isoDate(districts[0]!.finish!)).toBe("2026-07-14");
    const short = planned([district("A", work("lining", ones(9)))], { ends: "2026-07-10" });
    expect(short.finish).toBeNull();
    // Five days, one to mobilize: four of nine done.
    expect(short.districts[0]!.crews[0]!.left).toBe(5);
  });

  it("never ends earlier with worse weather, and never does more than its crews can", () => {
    const jobs = fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 12 });
    const crews = fc.integer({ min: 1, max: 3 });
    fc.assert(
      fc.property(jobs, jobs, crews, (a, b, count) => {
        const plan = seasonCalendar({
          starts: "2026-03-02",
          crews: { ...seasonCalendar().crews, lining: { count, changes: [] } },
        });
        const districts = [
          district("A", work("preparation", ones(a.length)), work("lining", a)),
          district("B", work("lining", b)),
        ];
        const of = (weather: { times: number; more: number }) =>
          planCalendar(districts, plan, houseSeasonDays, weather);
        const expected = of(EXPECTED);
        const worse = of({ times: 2, more: 1 });
        expected.districts.forEach(({ finish, crews: spans }, i) => {
          expect(worse.districts[i]!.finish!).toBeGreaterThanOrEqual(finish!);
          for (const { crew, worked } of spans)
            for (const at of worked.values()) expect(at).toBeLessThanOrEqual(crew === "lining" ? count : 1);
        });
        const done = [...expected.districts.flatMap((each) => each.crews)].reduce(
          (sum, { worked }) => sum + [...worked.values()].reduce((x, y) => x + y, 0),
          0,
        );
        expect(done).toBe([...ones(a.length), ...a, ...b].reduce((x, y) => x + y, 0));
      }),
      { numRuns: 60 },
    );
  });

  it("is drawn as a strip, a letter a week", () => {
    const districts = [district("A", work("preparation", ones(6)), work("lining", ones(11)))];
    const plan = seasonCalendar({ ends: "2026-08-21" });
    const strip = stripOf(
      planCalendar(districts, plan, houseSeasonDays, EXPECTED),
      knownDay(plan.starts),
      knownDay(plan.ends),
    );
    // Preparation: mobilize on Monday 6 July, four days that week, two the next; lining mobilizes 15 July, then 2, 5, 4.
    expect(drawStrip(strip).split("\n").slice(0, 3)).toEqual([
      "                Jul   Aug".replace("Jul   Aug", "Jul Aug"),
      "A  preparation  42·····",
      "A  lining       ·254···",
    ]);
  });
});

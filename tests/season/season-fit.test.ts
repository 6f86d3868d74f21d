import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { crewDaysOf, fitSeason } from "../../src/season/season-fit.ts";
import { oneCrew, seasonCalendar } from "./season-examples.ts";

const noneLost = {
  ...houseSeasonDays,
  daysLost: Object.fromEntries(
    Object.keys(houseSeasonDays.daysLost).map((month) => [month, 0]),
  ) as typeof houseSeasonDays.daysLost,
};

const calendar = seasonCalendar({
  starts: "2026-04-06",
  ends: "2026-04-17",
  holidays: [{ day: "2026-04-10", name: "a holiday" }],
  crews: {
    preparation: oneCrew,
    lining: { count: 1, changes: [{ from: "2026-04-13", to: "2026-04-14", count: 3 }] },
    dig: { count: 0, changes: [] },
    restoration: { count: 2, changes: [] },
  },
});

describe("crew-days of a calendar", () => {
  it("are its working days times the crews of each day", () => {
    // 6 April 2026 is a Monday: ten weekdays less the holiday; two of the nine have three lining crews.
    expect(crewDaysOf(calendar, noneLost)).toEqual({
      preparation: 9,
      lining: 9 + 2 * 2,
      dig: 0,
      restoration: 18,
    });
  });

  it("are fewer by the days that weather takes, and never fewer in a longer season", () => {
    const takes = { ...noneLost, daysLost: { ...noneLost.daysLost, april: 21 } };
    // April 2026 has 22 weekdays, 21 of them without the holiday: all are lost.
    expect(crewDaysOf(calendar, takes).preparation).toBe(0);
    let before = 0;
    for (const ends of ["2026-04-10", "2026-04-24", "2026-05-08", "2026-06-05", "2026-07-17"]) {
      const { preparation } = crewDaysOf({ ...calendar, ends }, houseSeasonDays);
      expect(preparation).toBeGreaterThanOrEqual(before);
      before = preparation;
    }
    expect(before).toBeGreaterThan(50);
  });
});

describe("whether a season fits", () => {
  it("says how much of which crew and district is not done, and it is what the packed days lack", async () => {
    const loaded = await loadProgram(
      new URL("../../sample-programs/quennock-falls", import.meta.url).pathname,
    );
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    const { program } = loaded;
    const fitting = fitSeason(planSeason(program, [])!);
    expect(fitting.slips).toEqual([]);
    const short = {
      ...program,
      basis: { ...program.basis, calendar: { ...program.basis.calendar!, ends: "2026-04-30" } },
    };
    const plan = planSeason(short)!;
    const { slips, crews, finish } = fitSeason(plan);
    expect(finish).toBeNull();
    for (const { crew, packed } of crews) {
      const left = slips.filter((each) => each.crew === crew).reduce((sum, each) => sum + each.left, 0);
      const done = plan.calendars.expected.districts
        .flatMap((district) => district.crews.filter((each) => each.crew === crew))
        .reduce((sum, { worked }) => sum + [...worked.values()].reduce((days, count) => days + count, 0), 0);
      expect(left + done).toBe(packed);
    }
  });
});

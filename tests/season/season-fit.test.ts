import { describe, expect, it } from "vitest";
import type { CrewKind } from "../../src/columns/plan-columns.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { planSeason, type SeasonPlan } from "../../src/season/season-calendar.ts";
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

it("the fit of a season counts minutes and packed days over districts, kind by kind", () => {
  const crew = (kind: CrewKind, visitMinutes: number, crewDays: number) => ({
    crew: kind,
    visitMinutes,
    crewDays,
  });
  const span = (kind: CrewKind, mobilized: number, left: number) => ({
    crew: kind,
    mobilized: new Array(mobilized).fill(0),
    left,
  });
  const plan = {
    shiftMinutes: 480,
    work: [
      { district: "A", crews: [crew("lining", 1000, 3), crew("preparation", 240, 1)] },
      { district: "B", crews: [crew("lining", 680, 2)] },
    ],
    calendars: {
      expected: {
        finish: null,
        districts: [
          { district: "A", crews: [span("lining", 2, 0), span("preparation", 1, 0)] },
          { district: "B", crews: [span("lining", 1, 2)] },
        ],
      },
    },
  } as unknown as SeasonPlan;
  // 1,680 of 480 min are 3.5 crew-days, packed into 5; 240 are half a day.
  expect(fitSeason(plan)).toEqual({
    crews: [
      { crew: "preparation", countedHundredths: 50, packed: 1, mobilized: 1 },
      { crew: "lining", countedHundredths: 350, packed: 5, mobilized: 3 },
    ],
    finish: null,
    slips: [{ district: "B", crew: "lining", left: 2 }],
  });
});

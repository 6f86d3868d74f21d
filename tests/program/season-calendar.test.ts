import { describe, expect, it } from "vitest";
import { layBasis } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import { settingsSchema } from "../../src/program/settings-schema.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { smallSettings } from "./sample-settings.ts";

const one = { count: 1 };
const calendar = {
  starts: "2026-04-06",
  ends: "2026-10-30",
  working_week: ["monday", "tuesday"],
  crews: { preparation: one, lining: one, dig: one, restoration: one },
} as const;
const read = (differs: object) =>
  settingsSchema.safeParse({ ...smallSettings, season: { calendar: { ...calendar, ...differs } } });
const saidOf = (differs: object): string => JSON.stringify(read(differs).error?.issues ?? []);

describe("season.calendar of program.json", () => {
  it("is laid over the days of the shared table, and says so in their sources", () => {
    const settings = read({ days_lost: { april: 9 }, mobilisation_days: 2, coordinates_in: "ft" }).data!;
    const { basis } = layBasis(settings);
    expect(basis?.seasonDays.daysLost).toEqual({ ...houseSeasonDays.daysLost, april: 9 });
    expect(basis?.seasonDays.daysLostSource.at).toBe("season.calendar.days_lost");
    expect(basis?.seasonDays.mobilisationDays).toBe(2);
    expect(basis?.seasonDays.betweenVisitsSource).toEqual(houseSeasonDays.betweenVisitsSource);
    // 1 ft is 0.3048 m, exactly.
    expect(basis?.calendar?.coordinateMetres).toBe(0.3048);
    expect(basis?.calendar?.crews["lining"]).toEqual({ count: 1, changes: [] });
  });

  it("may be absent: then there is no calendar, and the shared days", () => {
    const { basis } = layBasis(smallSettings);
    expect(basis?.calendar).toBeNull();
    expect(basis?.seasonDays).toEqual(houseSeasonDays);
  });

  it("gives an example of what is left out that may be pasted in place", () => {
    const problemsOf = (season: object) => {
      const reading = readSettingsText(
        new TextEncoder().encode(JSON.stringify({ ...smallSettings, season })),
      );
      return reading.ok ? [] : reading.problems;
    };
    const { working_week: _week, crews: _crews, ...dates } = calendar;
    const problems = problemsOf({ calendar: dates });
    expect(problems.map(({ column }) => column)).toEqual([
      "season.calendar.working_week",
      "season.calendar.crews",
    ]);
    const examples = problems.map(({ remedy }) => /^Write (".*), for example\.$/.exec(remedy)?.[1]);
    const written = JSON.parse(`{ ${examples.join(", ")} }`);
    expect(Object.keys(written)).toEqual(["working_week", "crews"]);
    expect(problemsOf({ calendar: { ...dates, ...written } })).toEqual([]);
  });

  it("refuses unknown words, days that are none, a season backwards, and a kind of crew left out", () => {
    expect(saidOf({ rain: 1 })).toContain("rain");
    expect(saidOf({ starts: "2026-02-30" })).toContain("a day that exists, written as 2026-03-01");
    expect(saidOf({ ends: "2026-04-05" })).toContain("ends after it starts");
    expect(saidOf({ blackouts: [{ from: "2026-05-02", to: "2026-05-01", why: "x" }] })).toContain(
      "not before the first",
    );
    expect(read({ crews: { lining: one } }).success).toBe(false);
    expect(saidOf({ crews: { ...calendar.crews, lining: { count: -1 } } })).toContain("0 or more");
    const { faults } = layBasis(read({ days_lost: { april: 40 } }).data!);
    expect(faults.map(({ path }) => path.join("."))).toEqual(["season.calendar.days_lost.april"]);
  });
});

describe("season.mains_lined of program.json", () => {
  const readMains = (mains_lined: object) =>
    settingsSchema.safeParse({ ...smallSettings, season: { mains_lined } });

  it("is a day or not this season, by lateral and by district", () => {
    const settings = readMains({ laterals: { "7": "2026-06-22" }, districts: { North: "not this season" } })
      .data!;
    expect(layBasis(settings).basis?.mainsLined).toEqual({
      laterals: { "7": "2026-06-22" },
      districts: { North: null },
    });
    expect(layBasis(smallSettings).basis?.mainsLined).toEqual({ laterals: {}, districts: {} });
  });

  it("says what it expects of anything else", () => {
    const said = JSON.stringify(readMains({ districts: { North: "soon" } }).error?.issues ?? []);
    expect(said).toContain("a day that exists, written as 2026-03-01");
    expect(said).toContain("not this season");
    expect(readMains({ mains: {} }).success).toBe(false);
  });
});

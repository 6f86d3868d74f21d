import { describe, expect, it } from "vitest";
import { crewKinds } from "../../src/columns/plan-columns.ts";
import { calendarOf } from "../../src/commands/calendar.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planSeason } from "../../src/season/season-calendar.ts";

const sample = (name: string) => new URL(`../../sample-programs/${name}`, import.meta.url).pathname;

async function run(name: string, json: boolean): Promise<string> {
  const said: string[] = [];
  const io = { out: (text: string) => void said.push(text), err: () => {}, now: () => "", who: "a tester" };
  await calendarOf(sample(name), { json }, io);
  return said.join("");
}

describe("wyeplan calendar", () => {
  it.each(["quennock-falls", "kaltwendel"])(
    "of %s: each visit once, never below the bound nor the naive total",
    async (name) => {
      const loaded = await loadProgram(sample(name));
      if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
      const { program } = loaded;
      // All of them, those that wait for a permission too, so that the sums are the district table's.
      const season = planSeason(program, Array.from(program.order))!;
      for (const { crews } of season.work)
        for (const { crewDays, lowerBound, visitMinutes, days, visits } of crews) {
          expect(crewDays).toBeGreaterThanOrEqual(lowerBound);
          expect(crewDays * season.shiftMinutes).toBeGreaterThanOrEqual(visitMinutes);
          expect(new Set(days.flatMap(({ rows }) => rows)).size).toBe(visits);
        }
      // Without packing, the crews' time is that of the district table, to the minute.
      const { totals } = program;
      for (const crew of crewKinds) {
        const unpacked = season.work
          .flatMap(({ crews }) => crews.filter((each) => each.crew === crew))
          .reduce((sum, { visitMinutes }) => sum + visitMinutes, 0);
        expect(totals.program.crewMinutesByCrew[crew]).toBe(unpacked);
        expect(totals.districts.reduce((sum, of) => sum + of.crewMinutesByCrew[crew], 0)).toBe(unpacked);
      }
      expect(crewKinds.reduce((sum, crew) => sum + totals.program.crewMinutesByCrew[crew], 0)).toBe(
        totals.program.crewMinutes,
      );
    },
  );

  it("prints strip, finish dates, and crew-days with bound and unpacked time", async () => {
    const text = await run("quennock-falls", false);
    expect(text).toContain("LS-03  lining");
    expect(text).toContain("Done, one more day lost a month");
    expect(text).toMatch(/Crew-days {2}At least {2}Proved {2}Unpacked/);
    const json = JSON.parse(await run("quennock-falls", true));
    const { expected, one_more, twice } = json.calendars;
    expect(expected.finish <= one_more.finish && expected.finish <= twice.finish).toBe(true);
    expect(expected.finish > "2026-04-06").toBe(true);
  });
});

import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { crewKinds, seasonKeys } from "../../src/columns/plan-columns.ts";
import { latestSeason, placed, seasonToPlace } from "../../src/commands/current-season.ts";
import { explainSeason } from "../../src/commands/explain-season.ts";
import { geojsonOf } from "../../src/commands/geojson.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { reasonSentences } from "../../src/commands/season-reason-words.ts";
import { tableOf } from "../../src/commands/table.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import { day } from "../../src/quantity/si.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { programOfSeason } from "../../src/season/season-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { decidedTo } from "../season/examples.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

let folder: string;
beforeAll(async () => {
  folder = sampleCopy("quennock-falls", (settings) => {
    settings.season.must_not = ["00115"];
    settings.recipe = {
      ...settings.recipe,
      filters: { "to notify": 'in_season and season_reason == "worth what it takes"' },
    };
  });
  const { io, said } = recorded();
  await seasonOfFolder(folder, { save: "spring" }, io);
  expect(said.err).toContain("Saved as season spring");
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The program with its season columns, after these decisions (status, length …) and another as-of day or season where given. */
async function seen(
  decided: Readonly<Record<string, Readonly<Record<string, string | number>>>> = {},
): Promise<PlannedProgram> {
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  const season = await seasonToPlace(folder, loaded.settings);
  if (Object.keys(decided).length === 0) return placed(loaded.program, season);
  const { planProgram } = await import("../../src/season/planned-program.ts");
  const decisions = decidedTo(decided);
  const { tables, basis } = loaded.program;
  const program = planProgram({ ...tables, decisions }, basis, { problems: [], tallies: [] });
  return placed(program, season);
}

const rowOf = ({ laterals }: PlannedProgram, id: string): number =>
  Array.from({ length: laterals.rows }, (_, row) => row).find(
    (row) => textAt(laterals, "lateral", row) === id,
  )!;

describe("the columns of the saved season", () => {
  it("say of every lateral whether it is in, of which season, by what, why and when", async () => {
    const program = await seen();
    const { laterals, season } = program;
    const { run } = (await latestSeason(folder))!;
    expect(season).toMatchObject({ name: "spring", isFilled: true });
    const chosen = new Map(run.chosen.map((each) => [each.lateral, each.treatment]));
    let isIn = 0;
    for (let row = 0; row < laterals.rows; row++) {
      const id = textAt(laterals, "lateral", row);
      isIn += numberAt(laterals, "in_season", row);
      expect(numberAt(laterals, "in_season", row)).toBe(chosen.has(id) ? 1 : 0);
      expect(textAt(laterals, "season_name", row)).toBe("spring");
      expect(textAt(laterals, "season_treatment", row)).toBe(chosen.get(id) ?? "");
      expect(Object.keys(reasonSentences)).toContain(textAt(laterals, "season_reason", row));
      expect(Number.isNaN(numberAt(laterals, "season_visit", row))).toBe(!chosen.has(id));
      // Notice the day before, counted by the calendar.
      if (chosen.has(id))
        expect(numberAt(laterals, "notice_by", row)).toBe(numberAt(laterals, "season_visit", row) - 1);
    }
    expect(isIn).toBe(run.chosen.length);
    expect(textAt(laterals, "season_reason", rowOf(program, "00115"))).toBe("must not be done");
  });

  it("give reasons that the offers bear out: what has no offer, no permission, gains nothing, and what is in", async () => {
    const { laterals, offers } = await seen();
    const own = new Map<number, number[]>();
    for (let at = 0; at < offers.rows; at++) {
      if (textAt(offers, "treatment", at) === "leave and re-inspect") continue;
      const row = numberAt(offers, "lateral_row", at);
      own.set(row, [...(own.get(row) ?? []), at]);
    }
    const counted = (row: number) =>
      (own.get(row) ?? []).filter((at) => numberAt(offers, "may_be_scheduled", at) !== 0);
    const seenReasons = new Set<string>();
    for (let row = 0; row < laterals.rows; row++) {
      const reason = textAt(laterals, "season_reason", row);
      seenReasons.add(reason);
      const gains = counted(row).map((at) => numberAt(offers, "loss_avoided", at));
      if (reason === "no treatment allowed") expect(own.get(row) ?? []).toEqual([]);
      if (reason === "no permission that holds") {
        expect(own.get(row)!.length).toBeGreaterThan(0);
        expect(counted(row)).toEqual([]);
      }
      if (reason === "gains nothing") expect(Math.max(...gains)).toBeLessThanOrEqual(0);
      if (reason === "not worth its crew-days" || reason === "crew-days are gone")
        expect(Math.max(...gains)).toBeGreaterThan(0);
      const isIn = ["worth what it takes", "fills what was left", "district's least"].includes(reason);
      expect(numberAt(laterals, "in_season", row)).toBe(isIn ? 1 : 0);
    }
    for (const reason of [
      "no treatment allowed",
      "no permission that holds",
      "gains nothing",
      "not worth its crew-days",
    ])
      expect(seenReasons).toContain(reason);
  });

  it("have the dates of the season's own calendar", async () => {
    const program = await seen();
    const { run } = (await latestSeason(folder))!;
    const own = programOfSeason(program, "spring", run.chosen).program;
    const first = new Map<string, number>();
    for (const { crews } of planSeason(own)!.calendars.expected.districts)
      for (const { dated } of crews)
        for (const { rows, from } of dated)
          for (const row of rows) {
            const id = textAt(own.laterals, "lateral", row);
            first.set(id, Math.min(first.get(id) ?? Number.POSITIVE_INFINITY, from));
          }
    expect(first.size).toBe(run.chosen.length);
    for (const [id, on] of first)
      expect(numberAt(program.laterals, "season_visit", rowOf(program, id))).toBe(on);
  });

  it("stay while the season is carried out: what is done keeps its day, what is refused is out, the others do not move", async () => {
    const before = await seen();
    const { run } = (await latestSeason(folder))!;
    const [done, refused, other] = run.chosen.map(({ lateral }) => lateral);
    const out = "00188";
    const after = await seen({
      [done!]: { status: "lined", installed_cost: 123_456 },
      [refused!]: { status: "refused" },
      [out]: { status: "accepted" },
    });
    expect(after.season?.isFilled).toBe(true);
    const cells = (program: PlannedProgram, id: string) => {
      const row = rowOf(program, id);
      return [
        numberAt(program.laterals, "in_season", row),
        textAt(program.laterals, "season_reason", row),
        numberAt(program.laterals, "season_visit", row),
      ];
    };
    expect(cells(after, done!)).toEqual(cells(before, done!));
    expect(numberAt(before.laterals, "notice_by", rowOf(before, done!))).not.toBeNaN();
    expect(numberAt(after.laterals, "notice_by", rowOf(after, done!))).toBeNaN();
    expect(cells(after, other!)).toEqual(cells(before, other!));
    expect(cells(after, refused!)).toEqual([0, "refused", Number.NaN]);
    expect(cells(after, out)).toEqual([0, "done already", Number.NaN]);
  });

  it("are empty, and say so, when a decision makes it another plan", async () => {
    const { run } = (await latestSeason(folder))!;
    const { laterals, season, basis } = await seen({ [run.chosen[0]!.lateral]: { host_length: 10 } });
    expect(season).toMatchObject({ name: "spring", isFilled: false });
    expect(season?.said).toContain("was selected from another plan");
    for (const key of ["in_season", "season_visit", "notice_by"])
      expect(Number.isNaN(numberAt(laterals, key, 0))).toBe(true);
    for (const key of ["season_name", "season_treatment", "season_reason"])
      expect(textAt(laterals, key, 0)).toBe("");
    expect(explainSeason({ laterals, season, basis } as PlannedProgram, 0)[0]?.lines[0]?.value).toContain(
      "another plan",
    );
  });

  it("are of another saved season where a table or a map asks for it", async () => {
    const runs = join(folder, "runs");
    const spring = JSON.parse(readFileSync(join(runs, "spring.json"), "utf8"));
    const [first] = spring.chosen;
    const earlier = {
      ...spring,
      saved: { ...spring.saved, when: "2026-01-02T08:00:00.000Z" },
      chosen: [first],
    };
    writeFileSync(join(runs, "earlier.json"), JSON.stringify(earlier));
    const geojsonWith = async (season: string | undefined) => {
      const { io, said } = recorded();
      const code = await geojsonOf(folder, season === undefined ? {} : { season }, io);
      return { code, ...said };
    };
    const inSeason = ({ out }: { readonly out: string }): readonly string[] =>
      JSON.parse(out).features.flatMap(
        ({ properties }: { properties: { readonly in_season: unknown; readonly lateral: string } }) =>
          properties.in_season ? [properties.lateral] : [],
      );
    try {
      const { io, said } = recorded();
      await tableOf(folder, "Laterals", { season: "earlier" }, io);
      expect(said.err).toContain("The columns of the season are of season earlier");
      expect(inSeason(await geojsonWith("earlier"))).toEqual([first.lateral]);
      expect(inSeason(await geojsonWith(undefined)).length).toBe(spring.chosen.length);
      const unknown = await geojsonWith("autumn");
      expect(unknown).toMatchObject({ code: 2, out: "" });
      expect(unknown.err).toContain("Saved are: earlier, spring");
    } finally {
      rmSync(join(runs, "earlier.json"));
    }
  });

  it("are empty, and say so, when the rules change, and when the file does not say what it was selected from", async () => {
    const settings = join(folder, "program.json");
    const file = join(folder, "runs", "spring.json");
    const [rules, run] = [readFileSync(settings, "utf8"), readFileSync(file, "utf8")];
    try {
      const other = JSON.parse(rules);
      other.season.budget = 350_001;
      writeFileSync(settings, JSON.stringify(other));
      expect((await seen()).season).toMatchObject({ isFilled: false });
      writeFileSync(settings, rules);
      const { inputs, reasons, prices, ...older } = JSON.parse(run);
      writeFileSync(file, JSON.stringify(older));
      expect((await seen()).season?.said).toContain("does not say what plan it was selected from");
      // A damaged file is said, not taken for no season.
      writeFileSync(file, run.slice(0, -40));
      expect((await seen()).season).toMatchObject({ name: "spring", isFilled: false });
      expect((await seen()).season?.said).toContain("runs/spring.json cannot be read");
    } finally {
      writeFileSync(settings, rules);
      writeFileSync(file, run);
    }
    expect((await seen()).season?.isFilled).toBe(true);
  });

  it("are in the table, and filters of the recipe read them", async () => {
    const { io, said } = recorded();
    await tableOf(folder, "Laterals", { filter: "to notify" }, io);
    expect(said.err).toContain("The columns of the season are of season spring");
    const [head, ...rows] = said.out.trimEnd().split("\r\n");
    for (const heading of [
      "In season",
      "Season",
      "Season's work",
      "Why in or out",
      "First visit",
      "Notice by",
    ])
      expect(head!.split(",")).toContain(heading);
    const { run } = (await latestSeason(folder))!;
    expect(rows.length).toBe(run.reasons?.["worth what it takes"]?.length);
    const json = recorded();
    await planFolder(folder, { json: true, season: "spring" }, json.io);
    const plan = JSON.parse(json.said.out);
    expect(plan.laterals.every((each: Record<string, unknown>) => each["in_season"] === 1)).toBe(true);
    expect(Object.keys(plan.laterals[0])).toEqual(expect.arrayContaining([...seasonKeys]));
  });

  it("stand in why, with the day of each crew", async () => {
    const program = await seen();
    const { run } = (await latestSeason(folder))!;
    const { lateral } = run.chosen[0]!;
    const { io, said } = recorded();
    await whyLateral(folder, lateral, {}, io);
    expect(said.out).toContain("Season spring");
    const first = numberAt(program.laterals, "season_visit", rowOf(program, lateral));
    expect(said.out).toContain(isoDate(day(first)));
    expect(said.out).toContain(isoDate(day(first - 1)));
    expect(said.out).toContain("1 calendar day before the first visit");
    // The filter reads the season here as in the sheet.
    expect(said.out).toMatch(/filter "to notify" +(yes|no)\n/);
    expect(crewKinds.some((crew) => said.out.includes(`${crew} visit`))).toBe(true);
  });
});

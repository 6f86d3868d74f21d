import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { noticesIn } from "../../src/commands/notices.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { minutes } from "../../src/quantity/si.ts";
import type { DatedVisit } from "../../src/season/visit-dates.ts";
import { knownDay } from "../../src/season/work-days.ts";
import { overNightsSaid } from "../../src/workbook/notices-sheet.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

let folder: string;
beforeAll(() => {
  folder = sampleCopy("quennock-falls", (settings) => {
    settings.criteria = {
      ...settings.criteria,
      work_steps: { ...settings.criteria?.work_steps, notice_days: 2, notice_counts_in: "working days" },
    };
  });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function notices(options: Parameters<typeof noticesIn>[1] = {}) {
  const { io, said } = recorded();
  const code = await noticesIn(folder, options, io);
  return { code, ...said };
}

/** Cells of a file of ours: no cell of these has a comma or a quote. */
const cells = (csv: string): string[][] =>
  csv
    .replace(/^\ufeff/, "")
    .trimEnd()
    .split("\r\n")
    .map((row) => row.split(","));

describe("wyeplan notices", () => {
  it("without a saved season lists all that may be scheduled, and says how notice is counted", async () => {
    const { out, code } = await notices();
    expect(code).toBe(1);
    expect(out).toContain("Visits of all that may be scheduled");
    expect(out).toContain("2 working days before the day a crew comes");
    expect(out.replace(/\s+/g, " ")).toContain("days that weather takes or a blackout closes count");
    expect(out).not.toContain("Quillfeather");
  });

  it("of the saved season: by district and day, to be printed or as CSV, addresses only when asked for", async () => {
    await seasonOfFolder(folder, { save: "spring" }, recorded().io);
    const { out, err } = await notices();
    expect(out).toContain("Visits of season spring");
    expect(err).toContain(
      "Left out, as they may tell of occupants: Location. --with-addresses puts them in.",
    );
    const file = join(folder, "notices.csv");
    await notices({ out: file });
    const [head, ...rows] = cells(readFileSync(file, "utf8"));
    expect(head).toEqual([
      "District",
      "Notice by",
      "Crew comes",
      "Until",
      "Lateral",
      "Crew",
      "Without water (min)",
    ]);
    const run = JSON.parse(readFileSync(join(folder, "runs", "spring.json"), "utf8"));
    const chosen = new Set(run.chosen.map(({ lateral }: { lateral: string }) => lateral));
    expect(new Set(rows.map((row) => row[4]))).toEqual(chosen);
    const order = rows.map((row) => `${row[0] === "(no district)" ? "" : row[0]} ${row[2]}`);
    expect(order).toEqual([...order].sort());
    for (const [, by, on] of rows) expect(by! < on!).toBe(true);
    const asked = await notices({ out: file, withAddresses: true });
    expect(asked.err).toContain("keep it from the public");
    expect(cells(readFileSync(file, "utf8"))[0]).toContain("Location");
  });

  it("of a season whose file is damaged says what helps, and not to ask for it by its name", async () => {
    const damaged = sampleCopy("quennock-falls");
    mkdirSync(join(damaged, "runs"));
    writeFileSync(join(damaged, "runs", "spring.json"), "{");
    const { io, said } = recorded();
    expect(await noticesIn(damaged, {}, io)).toBe(2);
    expect(said.err).toContain("runs/spring.json cannot be read");
    expect(said.err).toContain("Take it from a backup, or delete it");
    expect(said.err).not.toContain("--season spring");
    rmSync(damaged, { recursive: true });
  });

  it("lists nothing rather than wrong days when the season is of another plan", async () => {
    changeRules(folder, { budget: 340_000 });
    const { code, out, err } = await notices();
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toContain("was selected from another plan");
    const asked = await notices({ season: "spring" });
    expect(asked.out).toContain("Visits of season spring");
    expect(asked.err).toContain("rules of the season in program.json have changed");
  });
});

it("names visits that lie open over nights, the most nights first, and only those", () => {
  const visit = (lateral: string, on: string, until: string | null): DatedVisit => ({
    lateral,
    district: "A",
    crew: "dig",
    on: knownDay(on),
    until: until === null ? null : knownDay(until),
    noticeBy: knownDay(on),
    outage: minutes(0),
  });
  const [said] = overNightsSaid([
    visit("1", "2026-07-06", "2026-07-06"),
    visit("2", "2026-07-07", "2026-07-08"),
    visit("3", "2026-07-10", "2026-07-13"),
    visit("4", "2026-10-30", null),
  ]);
  expect(said).toContain(
    "open over nights: 3 over 3 (dig, 2026-07-10 to 2026-07-13), 2 over 1 (dig, 2026-07-07 to 2026-07-08). Make",
  );
  expect(overNightsSaid([visit("1", "2026-07-06", "2026-07-06")])).toEqual([]);
});

import { readFileSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { calendarOf } from "../../src/commands/calendar.ts";
import { checkFolder } from "../../src/commands/check.ts";
import { formulasOf } from "../../src/commands/formulas.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { reportOf } from "../../src/commands/report.ts";
import { riskOf } from "../../src/commands/risk.ts";
import { showPackedDays } from "../../src/commands/season-words.ts";
import { takeoffOf } from "../../src/commands/takeoff.ts";
import { emptyFolder } from "../program/sample-settings.ts";
import { makeSmallCity } from "../soak/small-city.ts";
import { recorded } from "./sample-copy.ts";

/** More laterals than a number without a mark for thousands shows. */
const LATERALS = 2400;

async function bigCity(): Promise<string> {
  const folder = join(await emptyFolder(), "city");
  await makeSmallCity(folder);
  const ids = Array.from({ length: LATERALS }, (_, i) => `A-${i}`);
  const row = (id: string, i: number) => `${id},Mill,${i % 2 === 0 ? 4 : 6},${30 + (i % 60)},VCP,cleared`;
  await writeFile(
    join(folder, "laterals.csv"),
    `LAT_ID,AREA,DIAM,LEN,MAT,XBORE\n${ids.map(row).join("\n")}\n`,
  );
  const survey = (id: string, i: number) => `${id},6/1${i % 9}/2024,${1 + (i % 5)}`;
  await writeFile(join(folder, "inspections.csv"), `LAT_ID,DATE,GRADE\n${ids.map(survey).join("\n")}\n`);
  return folder;
}

/** Four digits or more in a row that are no year, no part of an id, a decimal or a source, and no bar of grades. */
const unmarked = (line: string): readonly string[] =>
  [...line.matchAll(/(?<![\d.,A-Za-z/-])[1-9]\d{3,}(?![\d-])/g)]
    .map(([digits]) => digits)
    .filter((digits) => !/^(19|20)\d\d$/.test(digits) && !line.startsWith("year "));

it("writes counts of a thousand and more with a comma, whichever command prints them", async () => {
  const folder = await bigCity();
  const { io, said } = recorded();
  await planFolder(folder, {}, io);
  await checkFolder(folder, io);
  await riskOf(folder, {}, io);
  await calendarOf(folder, {}, io);
  await takeoffOf(folder, {}, io);
  await progressOf(folder, {}, io);
  await formulasOf(folder, "host_length > 0 ft", io);
  await reportOf(folder, {}, io);
  const page = readFileSync(join(folder, "outputs", "report.html"), "utf8")
    .replace(/<style[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]*>/g, "\n");
  const lines = `${said.out}${said.err}${page}`.split("\n");
  expect(lines.filter((line) => line.includes("2,400")).length).toBeGreaterThanOrEqual(8);
  expect(lines.filter((line) => unmarked(line).length > 0)).toEqual([]);
});

it("does not round a limit of crew-days that is no whole number", () => {
  expect([0.5, 20.5, 1200, 1200.25].map(showPackedDays)).toEqual(["0.50", "20.50", "1,200", "1,200.25"]);
});

import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { builtProgram } from "./run-program.ts";
import { hasScript, SheetPty } from "./sheet-pty.ts";
import { makeSmallCity } from "./small-city.ts";

/** More than are planned before the sheet is shown. */
const LATERALS = 2_500;
const ids = Array.from({ length: LATERALS }, (_, i) => `B-${String(i + 1).padStart(4, "0")}`);

describe.skipIf(!hasScript || builtProgram === undefined)("the built sheet of a bigger city", () => {
  let folder = "";
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "wyeplan-first-"));
    await makeSmallCity(folder);
    const lines = ids.map((id, i) => `${id},Mill,${i % 2 === 0 ? 4 : 6},${30 + (i % 40)},VCP,cleared`);
    await writeFile(join(folder, "laterals.csv"), `LAT_ID,AREA,DIAM,LEN,MAT,XBORE\n${lines.join("\n")}\n`);
    // The last of the file is the worst.
    const grades = ids.map((id, i) => `${id},6/1/2024,${i === LATERALS - 1 ? 5 : i % 3}`);
    await writeFile(join(folder, "inspections.csv"), `LAT_ID,DATE,GRADE\n${grades.join("\n")}\n`);
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  it("shows the city's rows while the plan is made beside it, then the plan in the order of rank", async () => {
    const sheet = new SheetPty(folder);
    expect(await sheet.see(/lateral 1 of 2,500/)).not.toBeNull();
    const first = sheet.text;
    expect(first).toMatch(/planning, \d+ %/);
    expect(first).toMatch(/B-0001/);
    // A decision has to wait for the plan.
    sheet.press("\u001b[F");
    sheet.press("7");
    expect(await sheet.see(/The plan is being made/)).not.toBeNull();
    expect(await sheet.see(/B-2500/)).not.toBeNull();
    expect(await sheet.see(/cost USD|without a price/)).not.toBeNull();
    sheet.press("\u001b[H");
    for (let right = 0; right < 6; right++) sheet.press("\u001b[C");
    await sheet.see(/Host dia\.: \S/);
    sheet.press("7");
    await sheet.see(/takes it as/);
    sheet.press("\r");
    await sheet.see(/Why:/);
    sheet.press("measured");
    await sheet.see(/measured/);
    sheet.press("\r");
    expect(await sheet.see(/Lateral B-2500, Host dia\.: .*before: /)).not.toBeNull();
    sheet.press("q");
    await sheet.closed();
    expect(await readFile(join(folder, "decisions.csv"), "utf8")).toContain(
      "B-2500,host_diameter,7 in,measured",
    );
  }, 120_000);

  it("is left at once while the plan is made", async () => {
    const sheet = new SheetPty(folder);
    await sheet.see(/planning, \d+ %/);
    sheet.press("q");
    await sheet.closed();
    expect(sheet.text).not.toMatch(/mistake|failed/);
  }, 120_000);
});

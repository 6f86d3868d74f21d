import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { noticesIn } from "../../src/commands/notices.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { readSeasonRun } from "../../src/program/season-runs.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

let folder = "";
beforeAll(() => {
  folder = sampleCopy("quennock-falls");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A last cell with a day of this or the next year. */
const WITH_AN_END = /\d+\/\d+\/202[67](?=\r?$)/;

const words = (text: string) => text.replace(/\s+/g, " ");
async function saved(name: string) {
  const { io, said } = recorded();
  await seasonOfFolder(folder, { save: name }, io);
  const reading = await readSeasonRun(folder, name);
  if (!reading.ok) throw new Error(said.err);
  return { run: reading.run, out: words(said.out) };
}
async function why(lateral: string) {
  const { io, said } = recorded();
  await whyLateral(folder, lateral, {}, io);
  return words(said.out);
}

describe("a season whose first day is after the end of an owner's permission", () => {
  it("takes no lateral of it, says why, and dates no visit to it", async () => {
    const { run } = await saved("first");
    // The city's file: 00202 to 2026-03-23 and 00252 to 2026-03-31; the season starts on 2026-04-06.
    for (const [lateral, ends] of [
      ["00202", "2026-03-23"],
      ["00252", "2026-03-31"],
    ] as const) {
      expect(run.chosen.map((each) => each.lateral)).not.toContain(lateral);
      expect(run.reasons?.["no permission that holds"]).toContain(lateral);
      const said = await why(lateral);
      expect(said).toContain(`may be scheduled no: permission ends ${ends}, before 2026-04-06: renew it`);
      expect(said).toContain("in the season no");
    }
  }, 120_000);

  it("says of a permission that ends before its visits how they fall, in its text, in notices and by why", async () => {
    const { run } = await saved("second");
    // A chosen lateral with a permission that ends later: the last cell of its line. Crews mobilize on the season's first day.
    const file = join(folder, "laterals.csv");
    const text = readFileSync(file, "utf8");
    const chosen = new Set(run.chosen.map((each) => each.lateral));
    const line = text.split("\n").find((each) => chosen.has(each.split(",")[1]!) && WITH_AN_END.test(each))!;
    const lateral = line.split(",")[1]!;
    writeFileSync(file, text.replace(line, line.replace(WITH_AN_END, "4/6/2026")));
    const { run: again, out } = await saved("third");
    expect(again.chosen.map((each) => each.lateral)).toContain(lateral);
    const said = `The owner's permission ends before the work at 1 lateral(s) is done: ${lateral} (ends 2026-04-06; `;
    expect(out).toContain(said);
    const { io: ofJson, said: written } = recorded();
    await seasonOfFolder(folder, { json: true }, ofJson);
    expect(JSON.parse(written.out).calendar.unpermitted).toMatchObject([{ lateral, ends: "2026-04-06" }]);
    const { io, said: notices } = recorded();
    await noticesIn(folder, {}, io);
    expect(words(notices.out)).toContain(said);
    expect(await why(lateral)).toContain(
      "the owner's permission ends 2026-04-06: renew it before a crew comes",
    );
  }, 120_000);
});

import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decideValue } from "../../src/commands/decide.ts";
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

const words = (text: string) => text.replace(/\s+/g, " ");
async function decide(lateral: string, column: string, value: string) {
  const asked = { folder, lateral, column, value, reason: "the owner's letter" };
  await decideValue(asked, recorded().io, { hasLateral: async () => true, objectionsTo: async () => [] });
}
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
    const { lateral } = run.chosen.find(({ treatment }) => treatment === "full-length liner")!;
    for (const part of ["lower_owner", "upper_owner"]) await decide(lateral, part, "private");
    await decide(lateral, "permission_signed", "2026-01-05");
    await decide(lateral, "permission_expires", "2026-04-06");
    const { run: again, out } = await saved("third");
    expect(again.chosen.map((each) => each.lateral)).toContain(lateral);
    const said = `The owner's permission ends before the work at 1 lateral(s) is done: ${lateral} (ends 2026-04-06; `;
    expect(out).toContain(said);
    const { io, said: notices } = recorded();
    await noticesIn(folder, {}, io);
    expect(words(notices.out)).toContain(said);
    expect(await why(lateral)).toContain(
      "the owner's permission ends 2026-04-06: renew it before a crew comes",
    );
  }, 120_000);
});

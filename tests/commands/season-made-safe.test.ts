import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { calendarOf } from "../../src/commands/calendar.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { workOnPane } from "../../src/commands/pane-work.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { textOfLine } from "../../src/screen/line.ts";
import { seasonLines } from "../../src/screen/season-pane.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

/** The city's file: a cross-bore was found in 00291, and in no other. */
const BORED = "00291";
const HELD = `HELD BACK: 1 lateral(s) with a cross-bore that was found and is not recorded as made safe: ${BORED}.`;
const HOW = `record it: wyeplan decide FOLDER ID cross_bore "made safe" --reason "…"`;
const words = (text: string) => text.replace(/\s+/g, " ");

let folder = "";
beforeAll(() => {
  folder = sampleCopy("quennock-falls");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function ran(run: (io: ReturnType<typeof recorded>["io"]) => Promise<number>) {
  const { io, said } = recorded();
  const code = await run(io);
  return { code, out: words(said.out), err: words(said.err), raw: said.out };
}

describe("a season of a city where a cross-bore was found", () => {
  it("names the lateral, says that nobody is sent there and how it is recorded that it was made safe", async () => {
    const { out } = await ran((io) => seasonOfFolder(folder, { save: "spring" }, io));
    expect(out).toContain(HELD);
    expect(out).toContain(HOW);
    const { raw } = await ran((io) => seasonOfFolder(folder, { json: true }, io));
    const json = JSON.parse(raw);
    expect(json.heldBack).toEqual([BORED]);
    expect(json.chosen.map(({ lateral }: { lateral: string }) => lateral)).not.toContain(BORED);
    const why = await ran((io) => seasonOfFolder(folder, { why: BORED }, io));
    expect(why.out).toContain("nobody is sent there, not with a camera either");
  }, 240_000);

  it("says so in calendar, progress, the season's sheets and the season pane", async () => {
    for (const season of [{}, { season: "spring" }])
      expect((await ran((io) => calendarOf(folder, season, io))).out).toContain(HELD);
    expect(JSON.parse((await ran((io) => calendarOf(folder, { json: true }, io))).raw).held_back).toEqual([
      BORED,
    ]);
    expect((await ran((io) => progressOf(folder, {}, io))).out).toContain(HELD);
    expect(JSON.parse((await ran((io) => progressOf(folder, { json: true }, io))).raw)).toMatchObject({
      held_back: [BORED],
      held: [],
    });
    const loaded = await loadProgram(folder);
    if (!loaded.ok) throw new Error("the sample does not load");
    const seen = await workOnPane({ what: "season", folder }, loaded.program);
    if (seen.what !== "season" || seen.found.kind !== "known") throw new Error("no season was seen");
    const row = loaded.program.tables.laterals.rows - 1;
    const lines = seasonLines(seen.found.value, { id: "some", row }, 60);
    expect(words(lines.map(textOfLine).join(" "))).toContain(HELD);
  }, 240_000);

  it("is not selected where its rules ask for the lateral, and says which and why", async () => {
    changeRules(folder, { must_do: [BORED] });
    const { code, err } = await ran((io) => seasonOfFolder(folder, {}, io));
    expect(code).toBe(2);
    expect(err).toContain(`nothing can be selected for ${BORED} (cross-bore not made safe)`);
    expect(err).toContain(HELD);
    changeRules(folder, { must_do: ["00113"], only_after: { "00113": [BORED] } });
    expect((await ran((io) => seasonOfFolder(folder, {}, io))).err).toContain(
      "00113 (only_after one that is held back, refused or in must_not)",
    );
  }, 240_000);

  it("takes its inspection where that must be done, once it is recorded as made safe", async () => {
    changeRules(folder, { must_do: [BORED], only_after: {} });
    const decision = { folder, lateral: BORED, column: "cross_bore", value: "made safe", reason: "a letter" };
    const { code } = await ran((io) =>
      decideValue(decision, io, { hasLateral: async () => true, objectionsTo: async () => [] }),
    );
    expect(code).toBe(0);
    const { raw } = await ran((io) => seasonOfFolder(folder, { json: true }, io));
    const json = JSON.parse(raw);
    expect(json.heldBack).toEqual([]);
    expect(json.chosen).toContainEqual({ lateral: BORED, treatment: "inspect first", cost: 35_000 });
  }, 240_000);
});

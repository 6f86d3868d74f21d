import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { progressOf } from "../../src/commands/progress.ts";
import { type SeasonOptions, seasonOfFolder } from "../../src/commands/season.ts";
import { viewOf } from "../../src/commands/season-view.ts";
import { seasonOf } from "../../src/program/season-settings.ts";
import { textAt } from "../../src/sheet/table.ts";
import { recorded, sampleCopy, unread } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

// What a stranger read in the season's words, and could not make out.

let folder: string;
beforeAll(() => {
  folder = sampleCopy("quennock-falls");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function season(options: SeasonOptions = {}) {
  const { io, said } = recorded();
  const code = await seasonOfFolder(folder, options, io);
  return { code, ...said };
}

async function decide(lateral: string, column: string, value: string) {
  await decideValue({ folder, lateral, column, value, reason: "site diary" }, recorded().io, unread);
}

describe("the words of a season", () => {
  it("hold the ranked cut to what the season may choose: no inspections in it, but those that must be", async () => {
    const { out } = await season();
    expect(out).toContain("What is planned to be inspected first it passes over too, unless it must be done");
    expect(out).toMatch(/The ranked cut leaves USD [\d,.]+ \([\d.]+ %\) on the table/);
    const loaded = await loadProgram(folder);
    if (!loaded.ok) throw new Error("the sample does not load");
    const { program, settings } = loaded;
    const rules = seasonOf(settings)!;
    const first = Array.from(program.order).find(
      (row) => textAt(program.laterals, "treatment", row) === "inspect first",
    )!;
    const id = textAt(program.laterals, "lateral", first);
    const planned = (mustDo: readonly string[]) => viewOf(program, { ...rules, mustDo }).season;
    const treatments = ({ plannedWork: offers, offerRows }: ReturnType<typeof planned>) =>
      Array.from(offers).flatMap((j) => (j < 0 ? [] : [textAt(program.offers, "treatment", offerRows[j]!)]));
    expect(treatments(planned([]))).not.toContain("inspect first");
    expect(treatments(planned([id])).filter((treatment) => treatment === "inspect first")).toHaveLength(1);
  });

  it("say of an offer that could be chosen why it is not", async () => {
    // Bursting 00151 gains more than its liner and digs; the season's six days of digging are taken.
    const { out } = await season({ why: "00151" });
    expect(out).toMatch(/full-length liner .*in the season/);
    expect(out).toMatch(/pipe bursting .*its dig days are gone/);
    expect(out).not.toContain("considered");
  });

  it("name allowed work that the season may not choose, and say how much is waited for by an inspection", async () => {
    // Its upper part is private and no permission is signed; cutting its roots would spare more than it costs.
    const { out } = await season({ why: "00285" });
    expect(out).toMatch(
      /clean and cut roots +USD 345\.60 +USD 900\.72 +not looked at: .*without a permission that holds/,
    );
    expect(out).toMatch(/inspect first .*fits, and gains nothing/);
    expect(out).toContain("The plan inspects it first. A season takes no inspection for its worth");
    // Open-cut replacement of 00103, 00163 and 00176, by `why` of each; of four more, and of these roots, no permission is signed.
    const whole = await season();
    expect(whole.out).toContain("For 3 of them the rules of treatment allow other work all the same");
    expect(whole.out).toContain("no other season of the works that may be chosen is better");
  }, 60_000);

  it("show the worth of a lateral by the day where the objective is a flow, and what money buys of it", async () => {
    changeRules(folder, { objective: "infiltration removed" });
    const { out } = await season({ why: "00217" });
    changeRules(folder, { objective: "loss avoided" });
    const [, cost, worth, share] =
      /connection liner +USD ([\d,.]+) +([\d.]+) gal\/day +([\d.]+) gal\/day +in the season/.exec(out)!;
    expect(Number(worth)).toBeGreaterThan(100);
    // For 1,000 USD; both are shown to a tenth.
    expect(Number(share)).toBeCloseTo((Number(worth) / Number(cost!.replaceAll(",", ""))) * 1000, 0);
  });

  it("say which of its two counts of crew-days has the work that is done, and progress whose cost it sets against the budget", async () => {
    const before = await season();
    expect(before.out).not.toContain("not in the table of crews below");
    expect(before.out).toMatch(/Crew +counted +packed +mobilization +limit\n/);
    await decide("00217", "status", "accepted");
    const { out } = await season();
    expect(out).toContain("those of work that is done, and of visits that are over, are in them");
    expect(out).toContain("Loss and infiltration of the 1 lateral(s) done are those after their work.");
    const days = (of: RegExp) => Number(of.exec(out)![1]);
    const [, packed, mobilized] = /^lining +[\d.]+ +(\d+) +(\d+) +35$/m.exec(out)!;
    expect(Number(packed) + Number(mobilized)).toBeLessThan(days(/crew-days, lining \(of 35\) +(\d+)/));
    const { io, said } = recorded();
    await progressOf(folder, {}, io);
    expect(said.out.replaceAll(/\s+/g, " ")).toContain("of the whole plan and not of a season alone");
  });

  it("come after a look at the lock: what could not be saved is not worked out", async () => {
    const lock = join(folder, ".wyeplan-lock");
    writeFileSync(lock, JSON.stringify({ pid: 1, host: "another machine", started: "today" }));
    const { code, out, err } = await season({ save: "spring" });
    rmSync(lock);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain("another machine");
    expect(() => readFileSync(join(folder, "runs", "spring.json"))).toThrow();
  });
});

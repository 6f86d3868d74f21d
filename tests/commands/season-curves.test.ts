import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compareCurves } from "../../src/commands/compare-curves.ts";
import { type SeasonOptions, seasonOfFolder } from "../../src/commands/season.ts";
import type { NewCurve } from "../../src/program/season-curves.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

let folder: string;
beforeAll(async () => {
  folder = sampleCopy("quennock-falls");
  expect((await season({ list: true })).out).toContain("Nothing is saved of the season yet");
  await season({ save: "spring" });
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function season(options: SeasonOptions) {
  const { io, said } = recorded();
  const code = await seasonOfFolder(folder, options, io);
  return { code, ...said };
}

const budgets = ["budget", "250000..350000", "by", "50000"];

describe("curves of the season", () => {
  it("are saved by name, listed with the seasons, and shown again as they were", async () => {
    const first = await season({ vary: budgets, save: "money" });
    expect(first.err).toContain("Saved as curve money, 3 points.");
    const again = await season({ curve: "money" });
    expect(again.out).toContain("Curve money, saved 2026-03-02T08:00:00.000Z by a tester");
    // The same lines below the head.
    expect(again.out.endsWith(first.out)).toBe(true);
    const list = await season({ list: true });
    expect(list.out).toMatch(/^season spring: .* laterals, USD /m);
    expect(list.out).toMatch(/^curve money: .*budget USD 250,000.00 to USD 350,000.00, 3 points/m);
  }, 120_000);

  it("go through the season that was saved with the same settings", async () => {
    const run = JSON.parse(readFileSync(join(folder, "runs", "spring.json"), "utf8"));
    const told = JSON.parse((await season({ curve: "money", json: true })).out);
    expect(told.points.find(({ amount }: { amount: number }) => amount === 350_000).worth).toBe(run.worth);
    expect(told.seasons).toEqual([
      { season: "spring", amount: 350_000, worth: run.worth, worthOnCurve: run.worth },
    ]);
    expect((await season({ curve: "money" })).out).toMatch(
      /At USD 350,000.00 it is season spring, worth USD [\d,.]+, the\s+same\./,
    );
  });

  it("never take a name that stands, of a curve or of a season, and say so before they search", async () => {
    for (const save of ["Money", "spring"]) {
      const { code, out, err } = await season({ vary: budgets, save });
      expect([code, out]).toEqual([2, ""]);
      expect(err).toContain("expected a new name");
    }
    expect((await season({ save: "money" })).err).toContain("something else of that name");
    expect((await season({ vary: budgets, save: "../x" })).err).toContain("letters, digits");
    expect(existsSync(join(folder, "x.json"))).toBe(false);
    expect((await season({ curve: "nothing" })).err).toContain("Saved are: money");
  }, 120_000);

  it("are compared by name: differences at the same amounts, also in a picture", async () => {
    const { lining } = JSON.parse(readFileSync(join(folder, "program.json"), "utf8")).season.crew_days;
    changeRules(folder, { crew_days: { preparation: 30, lining: lining + 10, dig: 6 } });
    const picture = join(folder, "both.svg");
    const more = await season({
      vary: ["budget", "300000..400000", "by", "50000"],
      save: "more lining",
      against: "money",
      picture,
    });
    expect(more.out).toContain("more lining less money");
    expect(more.out).toContain("2 amount(s) in common.");
    expect(more.out).toContain("Between them changed: the season's rules.");
    const svg = readFileSync(picture, "utf8");
    for (const words of ["more lining", "money", "USD 250,000.00"]) expect(svg).toContain(words);

    const told = JSON.parse((await season({ curve: "more lining", against: "money", json: true })).out);
    const [one, two] = ["more lining", "money"].map((name) =>
      JSON.parse(readFileSync(join(folder, "curves", `${name}.json`), "utf8")),
    );
    const worthAt = (curve: NewCurve, amount: number) =>
      curve.points.find((point) => point.amount === amount)?.worth ?? null;
    for (const { amount, difference } of told.differences.points) {
      const [a, b] = [worthAt(one, amount), worthAt(two, amount)];
      expect(difference).toBe(a === null || b === null ? null : a - b);
    }
    // Ten crew-days more of what binds are worth something.
    expect(
      told.differences.points.find(({ amount }: { amount: number }) => amount === 350_000).difference,
    ).toBeGreaterThan(0);
  }, 120_000);

  it("with another thing varied, another objective or currency are refused, not compared", () => {
    const file = readFileSync(join(folder, "curves", "money.json"), "utf8");
    const money: NewCurve = JSON.parse(file);
    const because = (changes: Partial<NewCurve>) => {
      const compared = compareCurves(money, { ...money, ...changes });
      return compared.ok ? "" : compared.because;
    };
    expect(because({})).toBe("");
    expect(because({ vary: { of: "crews", crew: "dig" } })).toContain(
      "one varies budget, the other crews dig",
    );
    expect(because({ objective: { loss_avoided: 0, infiltration_removed: 1 } })).toContain("objectives");
    expect(because({ currency: "EUR" })).toContain("EUR");
  });

  it("that are damaged are said by name, in the list too, and never shown", async () => {
    const file = join(folder, "curves", "money.json");
    const whole = readFileSync(file, "utf8");
    try {
      writeFileSync(file, whole.replace(/"gap": 0\.0\d/, '"gap": 0.09'));
      const { code, out, err } = await season({ curve: "money" });
      expect([code, out]).toEqual([2, ""]);
      expect(err).toContain("curves/money.json");
      expect(err).toContain("changed after it was saved");
      const list = await season({ list: true });
      expect(list.code).toBe(1);
      expect(list.err).toContain("curves/money.json");
      expect(list.out).toContain("curve more lining");
    } finally {
      writeFileSync(file, whole);
    }
  });
});

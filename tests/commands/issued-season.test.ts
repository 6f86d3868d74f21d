import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { issueBid } from "../../src/commands/issue.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { priceBid } from "../../src/commands/price.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import type { ChosenLateral } from "../../src/season/season-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { savedRun, worstWorked } from "../season/saved-selection.ts";
import { issuedOf, plainOf } from "../workbook/returned-book.ts";
import { costBookCopy, recorded, sampleCopy } from "./sample-copy.ts";

const folder = sampleCopy("quennock-falls");
const { io, said } = recorded();
const cost = costBookCopy();
const inFolder = (name: string) => join(folder, name);
const book = (number: number) => readFileSync(inFolder(`outputs/bid-book-${number}.xlsx`));

/** Worked laterals of the sample that may be scheduled, worst first, as a season would take them. */
let worked: readonly ChosenLateral[];
/** Saves a season as `wyeplan season --save` writes it; one that is there is first deleted, as a person would. */
const select = (name: string, chosen: readonly ChosenLateral[], when?: string) => {
  mkdirSync(inFolder("runs"), { recursive: true });
  const settings = JSON.parse(readFileSync(inFolder("program.json"), "utf8"));
  writeFileSync(inFolder(`runs/${name}.json`), JSON.stringify(savedRun(settings.season, chosen, when)));
};
const run = async (work: Promise<number>) => {
  said.out = "";
  said.err = "";
  return await work;
};
const bidLaterals = (number: number, sheet = "Lateral schedule") => {
  const { cells } = plainOf(book(number)).sheets.find(({ name }) => name === sheet)!;
  const ids = new Set(worked.map(({ lateral }) => lateral));
  return [...cells].flatMap(([at, { value }]) =>
    /^A\d+$/.test(at) && ids.has(String(value)) ? [String(value)] : [],
  );
};
const idsOf = (chosen: readonly ChosenLateral[]) => chosen.map(({ lateral }) => lateral).sort();

beforeAll(async () => {
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  worked = worstWorked(loaded.program);
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("an issue of a saved season", () => {
  it("holds the season's laterals and no other, and its record says which selection it was", async () => {
    select("spring", worked.slice(0, 12));
    expect(await run(issueBid(folder, { season: "spring" }, io))).not.toBe(EXIT.notDone);
    expect(bidLaterals(1).sort()).toEqual(idsOf(worked.slice(0, 12)));
    const record = JSON.parse(readFileSync(inFolder("issues/1.json"), "utf8"));
    expect(record.season).toBe("spring");
    expect(Object.keys(record.seasons)).toEqual(["spring"]);
  }, 60_000);

  it("stands when the same laterals are selected again", async () => {
    select("spring", worked.slice(0, 12), "2026-03-02T08:00:00Z");
    await run(issueBid(folder, { season: "spring" }, io));
    expect(said.out).toContain("Nothing differs from issue 1");
    expect(said.err).not.toContain("selected again");
  }, 60_000);

  it("is still priced and compared as issued after another selection, and that is said", async () => {
    const priced = inFolder("priced.xlsx");
    await run(priceBid(folder, { book: cost, out: priced }, io));
    expect(said.err).not.toContain("selected again");
    select("spring", worked.slice(2, 16));
    await run(priceBid(folder, { book: cost, out: priced }, io));
    expect(said.err).toContain(
      "Season spring was selected again since issue 1 of 2026-03-02: prices go into the book as it was issued",
    );
    expect(issuedOf(readFileSync(priced)).content).toBe(issuedOf(book(1)).content);
    expect(await run(tabulateBids(folder, [priced], {}, io))).toBe(EXIT.done);
    expect(said.err).toContain("bids are compared on what was issued, not on what is selected now");
    expect(said.out).toContain("quantities as issued for season spring");
  }, 60_000);

  it("gets an addendum for what the other selection changes, and bids on it are then refused", async () => {
    await run(issueBid(folder, { season: "spring", addendum: "Selected again." }, io));
    expect(said.err).toContain(
      "Season spring was selected again since issue 1 of 2026-03-02: this issue is of what is selected now",
    );
    expect(bidLaterals(2).sort()).toEqual(idsOf(worked.slice(2, 16)));
    const { cells } = plainOf(book(2)).sheets.find(({ name }) => name === "Changes")!;
    const rows = new Map<string, string[]>();
    for (const [at, { value }] of cells) {
      const row = at.replace(/\D/g, "");
      rows.set(row, [...(rows.get(row) ?? []), String(value)]);
    }
    const said2 = [...rows.values()].filter(([sheet]) => sheet === "Lateral schedule");
    const gone = said2.filter(([, , what]) => what === "row removed").map(([, about]) => about);
    const come = said2.filter(([, , what]) => what === "row added").map(([, about]) => about);
    expect(gone.sort()).toEqual(idsOf(worked.slice(0, 2)));
    expect(come.sort()).toEqual(idsOf(worked.slice(12, 16)));
    expect(await run(tabulateBids(folder, [inFolder("priced.xlsx")], {}, io))).toBe(EXIT.notDone);
    expect(said.err).toContain(
      "Issue 1 is superseded since 2026-03-02 by issue 2 (addendum 1: Selected again.)",
    );
  }, 60_000);

  it("is followed by one of the whole plan only with an addendum, and it says so: somebody may have forgotten the season", async () => {
    expect(await run(issueBid(folder, { addendum: " " }, io))).toBe(EXIT.notDone);
    expect(await run(issueBid(folder, {}, io))).toBe(EXIT.notDone);
    expect(said.err).toMatch(/found "\d+ change\(s\) since issue 2 of 2026-03-02"/);
    expect(said.err).toContain(
      "Issue 2 was of season spring, this one would be of the whole plan: give --season spring if the former is meant. Nothing is issued.",
    );
    expect(existsSync(inFolder("issues/3.json"))).toBe(false);
    expect(existsSync(inFolder("outputs/bid-book-3.xlsx"))).toBe(false);
    await run(issueBid(folder, { addendum: "All of it." }, io));
    expect(said.err).toContain("Issue 2 was of season spring; this one is of the whole plan.");
    expect(said.err).not.toContain("selected again");
    expect(bidLaterals(3).sort()).toEqual(idsOf(worked));
  }, 60_000);

  it("whose season is gone says so, and bids on it are compared all the same", async () => {
    await run(issueBid(folder, { season: "spring", addendum: "Spring again." }, io));
    const priced = inFolder("priced-4.xlsx");
    await run(priceBid(folder, { book: cost, out: priced }, io));
    rmSync(inFolder("runs/spring.json"));
    expect(await run(tabulateBids(folder, [priced], {}, io))).toBe(EXIT.done);
    expect(said.err).toContain("Season spring is not there any more, or cannot be read, since issue 4");
  }, 60_000);
});

describe("an alternate told by a saved season", () => {
  const divide = (alternates: unknown) => {
    const settings = JSON.parse(readFileSync(inFolder("program.json"), "utf8"));
    writeFileSync(inFolder("program.json"), JSON.stringify({ ...settings, bid: { alternates } }));
  };
  const partsOf = (number: number) => {
    const { cells } = plainOf(book(number)).sheets.find(({ name }) => name === "Lateral schedule")!;
    const [heading] = [...cells].find(([, { value }]) => value === "Part of the bid")!;
    const column = heading.replace(/\d+$/, "");
    const parts = new Map<string, string[]>();
    for (const [at, { value }] of cells) {
      if (at === heading || at.replace(/\d+$/, "") !== column) continue;
      const id = String(cells.get(at.replace(column, "A"))?.value);
      parts.set(String(value), [...(parts.get(String(value)) ?? []), id].sort());
    }
    return Object.fromEntries(parts);
  };

  it("takes what a larger season has beyond a smaller one, and the smaller is the base bid", async () => {
    select("large", worked.slice(0, 20));
    select("small", worked.slice(0, 13));
    divide([{ name: "The rest of the large season", beyond_season: "small" }]);
    expect(await run(issueBid(folder, { season: "large", addendum: "Divided." }, io))).not.toBe(EXIT.notDone);
    expect(partsOf(5)).toEqual({
      "base bid": idsOf(worked.slice(0, 13)),
      "alternate 1": idsOf(worked.slice(13, 20)),
    });
    const record = JSON.parse(readFileSync(inFolder("issues/5.json"), "utf8"));
    expect(Object.keys(record.seasons).sort()).toEqual(["large", "small"]);
  }, 60_000);

  it("or what a season takes", async () => {
    select("few", worked.slice(4, 9));
    divide([{ name: "A few of it", season: "few" }]);
    await run(issueBid(folder, { season: "large", addendum: "Divided." }, io));
    expect(partsOf(6)["alternate 1"]).toEqual(idsOf(worked.slice(4, 9)));
  }, 60_000);

  it("is refused by the name that nobody saved", async () => {
    divide([{ name: "A few of it", season: "nobody" }]);
    expect(await run(issueBid(folder, { season: "large", addendum: "Divided." }, io))).toBe(EXIT.notDone);
    expect(said.err).toContain('found "nobody", expected the name of a saved season');
    divide([{ name: "A few of it", season: "few", districts: ["LS-03"] }]);
    expect(await run(issueBid(folder, { season: "large", addendum: "Divided." }, io))).toBe(EXIT.notDone);
    expect(said.err).toContain('"beyond_season"');
  }, 60_000);
});

describe("a lateral that is refused or done", () => {
  const city = sampleCopy("quennock-falls");
  afterAll(() => rmSync(city, { recursive: true, force: true }));
  const sheetOf = (name: string, sheet: string) =>
    plainOf(readFileSync(join(city, "outputs", name))).sheets.find((each) => each.name === sheet)!;
  /** Rows of a sheet by their first column. */
  const rowsOf = (name: string, sheet: string): ReadonlyMap<string, readonly string[]> => {
    const rows = new Map<string, string[]>();
    for (const [at, { value }] of sheetOf(name, sheet).cells) {
      const row = at.replace(/\D/g, "");
      rows.set(row, [...(rows.get(row) ?? []), String(value ?? "")]);
    }
    return new Map([...rows.values()].map(([first = "", ...rest]) => [first, rest]));
  };
  const state = async (lateral: string, status: string) => {
    const decision = { folder: city, lateral, column: "status", value: status, reason: "the owner" };
    expect(await decideValue(decision, io, decidedProgram(city))).toBe(EXIT.done);
  };
  const select = (chosen: readonly ChosenLateral[]) => {
    mkdirSync(join(city, "runs"), { recursive: true });
    const record = readFileSync(inFolder("runs/large.json"), "utf8");
    writeFileSync(join(city, "runs/spring.json"), JSON.stringify({ ...JSON.parse(record), chosen }));
  };

  it("is not in what bidders price: an addendum takes it out of a season that was issued, and says so", async () => {
    const [first, second, third] = worked as readonly [ChosenLateral, ChosenLateral, ChosenLateral];
    select([first, second, third]);
    await run(issueBid(city, { season: "spring" }, io));
    expect(said.err).not.toContain("done or refused");
    await state(first.lateral, "refused");
    await state(second.lateral, "lined");
    expect(await run(issueBid(city, { season: "spring" }, io))).toBe(EXIT.notDone);
    await run(issueBid(city, { season: "spring", addendum: "Two are out." }, io));
    expect(said.err).toContain("Not in the bid, because done or refused: 2 lateral(s) with paid work: ");
    expect(said.err).toContain(`${first.lateral} (refused)`);
    expect(said.err).toContain(`${second.lateral} (lined)`);
    expect(rowsOf("bid-book-1.xlsx", "Lateral schedule").has(first.lateral)).toBe(true);
    for (const sheet of ["Lateral schedule", "Lateral quantities"]) {
      const rows = rowsOf("bid-book-2.xlsx", sheet);
      expect([first, second, third].map(({ lateral }) => rows.has(lateral))).toEqual([false, false, true]);
    }
    const left = await loadProgram(city);
    if (!left.ok) throw new Error(JSON.stringify(left.problems));
    const { laterals, lines } = left.program;
    const row = [...left.program.order].find((at) => textAt(laterals, "lateral", at) === third.lateral);
    const hundredths = (of: number) =>
      Array.from({ length: lines.rows }, (_, at) => at)
        .filter((at) => numberAt(lines, "lateral_row", at) === of)
        .map((at) => numberAt(lines, "hundredths", at) / 100);
    // What is left to price is the third lateral's work, beside the lump sums.
    const quantities = issuedOf(readFileSync(join(city, "outputs/bid-book-2.xlsx"))).lines.filter(
      ({ role, lumpSum }) => role === "work" && !lumpSum,
    );
    expect(quantities.map((line) => line.hundredths / 100).sort()).toEqual(hundredths(row!).sort());
  }, 60_000);

  it("is not in the bid of the whole program either, nor in the estimate, which still adds up", async () => {
    await run(workbookOf(city, {}, io));
    expect(said.err).toContain(`${worked[0]!.lateral} (refused)`);
    expect(rowsOf("bid-book.xlsx", "Lateral schedule").has(worked[0]!.lateral)).toBe(false);
    expect(rowsOf("bid-book.xlsx", "Lateral schedule").has(worked[2]!.lateral)).toBe(true);
    const estimate = rowsOf("planning-book.xlsx", "Estimate");
    const amount = (what: string) => Number(estimate.get(what)?.[0]);
    // And the look at 00291, where a cross-bore was found: 350.00.
    const held = (worked[0]!.cost + worked[1]!.cost + 35_000) / 100;
    expect(amount("of them done, refused or held back, and not bid")).toBeCloseTo(held, 2);
    expect(amount("Difference")).toBeCloseTo(
      amount("Total") - amount("of it lump sums") - amount("Costs of the laterals, added up") + held,
      2,
    );
    // The city still sees it: with its status, among all.
    expect(sheetOf("planning-book.xlsx", "Ranking").cells.size).toBeGreaterThan(0);
    expect([...sheetOf("planning-book.xlsx", "Ranking").cells.values()].map(({ value }) => value)).toContain(
      worked[0]!.lateral,
    );
  }, 60_000);
});

describe("an issue in which only a picture is another", () => {
  const moved = sampleCopy("quennock-falls");
  afterAll(() => rmSync(moved, { recursive: true, force: true }));

  it("is an addendum that lists the picture's mark and no line of the schedule", async () => {
    await run(issueBid(moved, {}, io));
    // A place on the map, which no sheet shows in figures.
    const file = join(moved, "laterals.csv");
    const text = readFileSync(file, "utf8");
    expect(text).toContain(",1204231.33,388116.37,");
    writeFileSync(file, text.replace(",1204231.33,388116.37,", ",1204931.33,388816.37,"));
    await run(issueBid(moved, { addendum: "The map is corrected." }, io));
    expect(said.out).toContain(
      "Addendum 1 takes the place of issue 1: 1 change(s), 0 of them in the bid schedule",
    );
    const changes = plainOf(readFileSync(join(moved, "outputs/bid-book-2.xlsx"))).sheets.find(
      ({ name }) => name === "Changes",
    )!;
    const row = [...changes.cells].filter(([at]) => /^[ABC]6$/.test(at)).map(([, { value }]) => value);
    expect(row).toEqual(["Pictures", "Map of the laterals", "Mark"]);
  }, 60_000);
});

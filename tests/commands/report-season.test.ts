import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { calendarOf } from "../../src/commands/calendar.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { pageStyle } from "../../src/commands/report/page-style.ts";
import { reportOf } from "../../src/commands/report.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { tableOf } from "../../src/commands/table.ts";
import { uncertaintyOf } from "../../src/commands/uncertainty.ts";
import { asRead, printedJson, reportFor, sectionOf, whole } from "./report-page.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { changeRules } from "./season-rules.ts";

let folder = "";
// biome-ignore lint/suspicious/noExplicitAny: JSON of a command.
let selected: any;
let page = "";
beforeAll(async () => {
  folder = sampleCopy("quennock-falls");
  selected = await printedJson(async (io) => {
    await seasonOfFolder(
      folder,
      { save: "spring", json: true },
      { ...io, out: (text) => text.startsWith("{") && io.out(text) },
    );
    return 0;
  });
  page = await reportFor(folder, "spring");
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const copyOfSeason = () => {
  const copy = mkdtempSync(join(tmpdir(), "season-"));
  cpSync(folder, copy, { recursive: true });
  rmSync(join(copy, "outputs"), { recursive: true, force: true });
  return copy;
};

/** The laterals as the terminal's table has them, each a record by heading; the sample's cells hold no line and no quoted comma that is asked for here. */
async function lateralRows(): Promise<readonly Readonly<Record<string, string>>[]> {
  const { io, said } = recorded();
  await tableOf(folder, "Laterals", { season: "spring" }, io);
  const [headings, ...lines] = said.out.trimEnd().split("\n").map(cellsOf);
  return lines.map((cells) => Object.fromEntries(headings!.map((heading, i) => [heading, cells[i]!])));
}

const cellsOf = (line: string): readonly string[] =>
  [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, bare]) => quoted ?? bare ?? "");

const isOpenCut = ({ treatment }: { readonly treatment: string }) => treatment === "open-cut replacement";

const count = <T>(list: readonly T[], isOne: (each: T) => boolean) => list.filter(isOne).length;

describe("the report of a season", () => {
  it("is written beside the season's books, and stands alone", async () => {
    const { io, said } = recorded();
    expect(await reportOf(folder, { season: "spring" }, io)).toBe(EXIT.doneWithProblems);
    const file = join(folder, "outputs", "season-spring", "report.html");
    expect(said.out).toContain(file);
    expect(readFileSync(file, "utf8")).toBe(page);
    expect(page).not.toMatch(/<script|<img|<link|<iframe|@import|url\((?!#)|(?:src|href)="(?!#)/i);
    expect(page).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
  });

  it("has the money of wyeplan season: budget, reserve, works, crews moved, what is left, and who pays", () => {
    const { sums, payers, budget, moneyBeforeSpending, money } = selected;
    const section = sectionOf(page, "season");
    for (const [name, cents] of [
      ["Budget", budget],
      ["Kept back as a reserve", budget - moneyBeforeSpending],
      ["Works", sums.works],
      ["Moving crews into districts", sums.mobilization],
      ["Left over", money - sums.works - sums.mobilization],
    ] as const)
      expect(section).toContain(`${name} |${whole(cents)} |`);
    expect(section).toContain(
      `Of this the city pays USD ${whole(payers.city)} and owners USD ${whole(payers.owners)}; USD ${whole(payers.notDivided)} is not divided`,
    );
    // To the cent, and 42,500.00 of lump sums.
    const all = ((sums.works + 4_250_000) / 100).toLocaleString("en-US", { minimumFractionDigits: 2 });
    expect(section).toContain(`Works and lump sums come to USD ${all}`);
    expect(asRead(page)).toContain(`${sums.laterals} of 400 laterals are in the season`);
    expect(asRead(page)).toContain(`USD ${whole(sums.works)} estimated cost of their work`);
  });

  it("has the totals of wyeplan season: loss before and after, what is spared, by district and in all", () => {
    const { program, districts } = selected.totals;
    const section = sectionOf(page, "season");
    expect(section).toContain(
      `cost USD ${whole(program.lossBefore)} over 50 years, as money of today, if nothing more is done, and USD ${whole(program.lossBefore - program.lossAvoided)} after this season: it spares USD ${whole(program.lossAvoided)}.`,
    );
    expect(section).toContain(`(${program.withoutInfiltration} lateral(s) not counted: theirs is not known)`);
    const where = sectionOf(page, "districts");
    for (const of of [...districts, program])
      expect(where).toContain(
        `${of.chosen} of ${of.laterals} |${whole(of.works + of.mobilization)} |${whole(of.lossBefore)} |${whole(of.lossBefore - of.lossAvoided)} |`,
      );
  });

  it("has the flows that wyeplan season prints", async () => {
    const { io, said } = recorded();
    await seasonOfFolder(folder, {}, io);
    const [, before, removed] = /all +50 of 400 .*? ([\d.]+) gpm +([\d.]+) gpm\n/.exec(said.out)!;
    expect(sectionOf(page, "season")).toContain(
      `Of ${before} gpm of groundwater that enters in the wet season it keeps out ${removed} gpm`,
    );
    for (const [, name, own] of said.out.matchAll(/^(LS-\d\d|\(no district\)) .* ([\d.]+) gpm$/gm))
      expect(sectionOf(page, "districts")).toMatch(
        new RegExp(`${name!.replace(/[()]/g, "\\$&")} \\|[^|]*\\|[^|]*\\|[^|]*\\|[^|]*\\|${own} \\|`),
      );
  });

  it("has the days of wyeplan calendar --season, and how sure they are as wyeplan uncertainty --season", async () => {
    const { calendars } = await printedJson((io) => calendarOf(folder, { season: "spring", json: true }, io));
    const where = sectionOf(page, "districts");
    for (const { finish } of calendars.expected.districts) expect(where).toContain(`|${finish} |`);
    expect(where).toContain(`the work would be done on ${calendars.twice.finish}.`);
    expect(asRead(page)).toContain(`${calendars.expected.finish} the work is done, in the expected weather`);
    const { program } = await printedJson((io) =>
      uncertaintyOf(folder, { season: "spring", json: true }, io),
    );
    const { cost_cents: cost, finish } = program;
    const sure = sectionOf(page, "certainty");
    for (const key of ["planned", "p10", "p50", "p80", "p90"])
      expect(sure).toContain(`|${whole(cost[key])} |${finish[key]} |`);
  });

  it("has the treatments and the cost of wyeplan plan --season", async () => {
    const { totals } = await printedJson((io) => planFolder(folder, { season: "spring", json: true }, io));
    const section = sectionOf(page, "season");
    expect(section).toContain(`All |${totals.laterals} |${whole(totals.cost)} |100.0 % |`);
    for (const [treatment, laterals] of Object.entries(totals.byTreatment))
      if (laterals !== 0)
        expect(section).toContain(`${treatment[0]!.toUpperCase()}${treatment.slice(1)} |${laterals} |`);
  });

  it("tells what is left and why, and what becomes of the first of the ranking, as the table of laterals has it", async () => {
    const rows = await lateralRows();
    const isIn = (row: (typeof rows)[number]) => row["In season"] === "yes" || row["In season"] === "1";
    expect(count(rows, isIn)).toBe(50);
    const out = rows.filter((row) => !isIn(row));
    const isWork = (row: (typeof rows)[number]) =>
      !["inspect first", "leave and re-inspect"].includes(row["Treatment"]!);
    const first = (row: (typeof rows)[number]) => Number(row["Rank"]) <= 40;
    const left = sectionOf(page, "left");
    const held = out.filter(isWork);
    const costs = held.map((row) => Math.round(Number(row["Cost (USD)"]) * 100));
    expect(left).toContain(
      `Work is planned on ${held.length} more lateral(s) that are not in this season: as planned it would cost USD ${whole(costs.reduce((sum, each) => sum + each, 0))}.`,
    );
    const reasons = new Set(out.map((row) => row["Why in or out"]!));
    expect(reasons.size).toBeGreaterThan(3);
    for (const reason of reasons) {
      const these = out.filter((row) => row["Why in or out"] === reason);
      expect(left).toContain(
        `${reason[0]!.toUpperCase()}${reason.slice(1)} |${these.length} |${count(these, isWork)} |${count(these, first)} |`,
      );
    }
    const urgent = sectionOf(page, "urgent");
    const parts = (of: typeof rows) =>
      [
        of.length,
        count(of, isIn),
        count(of, (row) => !isIn(row) && isWork(row)),
        count(of, (row) => !isIn(row) && row["Treatment"] === "inspect first"),
        count(of, (row) => !isIn(row) && row["Treatment"] === "leave and re-inspect"),
      ].join(" |");
    expect(urgent).toContain(`First tenth of the ranking |${parts(rows.filter(first))} |`);
    expect(urgent).toContain(`All |${parts(rows)} |`);
    // Planted in the sample: one cross-bore that was found.
    expect(urgent).toContain("A cross-bore was found: tell the utility's owner now");
  });

  it("shows its works on the map, each class with a shape of its own", () => {
    const map = page.slice(page.indexOf('<section id="map"'));
    // All laterals of the sample have coordinates.
    expect(map).toContain(
      `north up. in this season: ${selected.sums.laterals}; work planned, not in this season: `,
    );
    const drawn = /<svg.*?<\/svg>/s.exec(map)![0];
    const red = drawn.match(/<path [^>]*fill="#a40000"/g)!.length;
    // One is the legend's; marks of one class that would lie on one another are drawn once.
    expect(red).toBeGreaterThan(selected.sums.laterals / 2);
    expect(red).toBeLessThanOrEqual(selected.sums.laterals + 1);
    expect(drawn).toMatch(/<rect [^>]*fill="#e69f00"/);
    expect(drawn).toMatch(/<circle [^>]*fill="#0072b2"/);
  });

  it("has headings in order, named tables and pictures, and names nobody: no lateral, no address", () => {
    expect([...page.matchAll(/<h(\d)/g)].map(([, level]) => level)).toEqual(["1", ..."22222222"]);
    expect(page.match(/<table/g)!.length).toBe(page.match(/<caption>/g)!.length);
    expect(page).not.toMatch(/<th>/);
    expect(page.match(/role="img" aria-label="[^"]{40,}"/g)).toHaveLength(page.match(/<svg/g)!.length);
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, target] of page.matchAll(/(?:href="#|url\(#)([^")]+)/g)) expect(ids).toContain(target);
    for (const { lateral } of selected.chosen) expect(asRead(page)).not.toContain(` ${lateral} `);
    const addresses = readFileSync(join(folder, "laterals.csv"), "utf8").match(
      /\d+ [A-Z][a-z]+ (?:St|Ave|Rd|Ln|Dr|Ct|Pl)\b/g,
    )!;
    for (const address of addresses) expect(page).not.toContain(address);
  });

  it("says what of it is done, and that what is refused since is no part of it", async () => {
    const copy = copyOfSeason();
    const [first, second] = selected.chosen as { lateral: string; cost: number }[];
    for (const [lateral, column, value] of [
      [first!.lateral, "status", "accepted"],
      [first!.lateral, "installed_cost", "5210.40"],
      [second!.lateral, "status", "refused"],
    ] as const) {
      const { io, said } = recorded();
      const code = await decideValue({ folder: copy, lateral, column, value, reason: "said so" }, io, {
        hasLateral: async () => true,
        objectionsTo: async () => [],
      });
      expect(code, said.err).toBe(0);
    }
    const now = await reportFor(copy, "spring");
    expect(sectionOf(now, "progress")).toContain(
      "Of the season's 50 laterals 1 are done, 0 are under way, 48 are to do, and 1 are refused since: no work is done there. USD 5,210 is spent on them",
    );
    expect(sectionOf(now, "urgent")).toMatch(/All \|400 \|49 \|/);
    // What was selected stays as it was: recording the work is no other plan.
    expect(now).not.toContain("Out of date");
    rmSync(copy, { recursive: true, force: true });
  }, 60_000);

  it("warns above all figures when the season was selected from another plan, and shows no reasons then", async () => {
    const copy = copyOfSeason();
    changeRules(copy, { budget: 400_000 });
    const now = await reportFor(copy, "spring");
    const warning = now.indexOf("Out of date.");
    expect(warning).toBeGreaterThan(0);
    expect(warning).toBeLessThan(now.indexOf('<ul class="figures">'));
    expect(sectionOf(now, "left")).toContain("Why each lateral is in or out is not shown:");
    rmSync(copy, { recursive: true, force: true });
  }, 60_000);

  it("marks its sums, and says why, when the work of one of its laterals has no price any more", async () => {
    const copy = copyOfSeason();
    const file = join(copy, "program.json");
    const settings = JSON.parse(readFileSync(file, "utf8"));
    delete settings.unit_prices.items["open-cut replacement"];
    writeFileSync(file, JSON.stringify(settings));
    // One of the season's works is an open cut.
    expect(selected.chosen.filter(isOpenCut).length).toBe(1);
    const now = await reportFor(copy, "spring");
    expect(asRead(now)).toContain("1 lateral(s) of the season are not in the program any more, or their");
    const section = sectionOf(now, "season");
    const works = selected.sums.works - selected.chosen.find(isOpenCut).cost;
    expect(section).toContain(`Works |${whole(works)}* |`);
    expect(section).toMatch(/Left over \|[\d,]+\* \|/);
    expect(section).toMatch(/it spares USD [\d,]+\*/);
    expect(section).toMatch(/the city pays USD [\d,]+\* and owners USD [\d,]+\*/);
    expect(page).not.toMatch(/\d\*/);
    rmSync(copy, { recursive: true, force: true });
  }, 60_000);

  it("is refused where program.json has no season's rules any more or they name a stranger, or there is no such season", async () => {
    const copy = copyOfSeason();
    const settings = JSON.parse(readFileSync(join(copy, "program.json"), "utf8"));
    delete settings.season;
    writeFileSync(join(copy, "program.json"), JSON.stringify(settings));
    const { io, said } = recorded();
    expect(await reportOf(copy, { season: "spring" }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain("the rules that the saved season was selected by");
    expect(await reportOf(folder, { season: "autumn" }, io)).toBe(EXIT.notDone);
    const other = copyOfSeason();
    changeRules(other, { must_do: ["nobody's"] });
    expect(await reportOf(other, { season: "spring" }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain("the id of a lateral of the city's file");
    rmSync(other, { recursive: true, force: true });
    expect(existsSync(join(copy, "outputs", "season-spring"))).toBe(false);
    rmSync(copy, { recursive: true, force: true });
  }, 60_000);

  it("counts the city's share where the budget does", async () => {
    const copy = copyOfSeason();
    changeRules(copy, { budget_pays: "city share" });
    const share = await printedJson(async (io) => {
      await seasonOfFolder(
        copy,
        { save: "share", json: true },
        { ...io, out: (text) => text.startsWith("{") && io.out(text) },
      );
      return 0;
    });
    const section = sectionOf(await reportFor(copy, "share"), "season");
    expect(section).toContain("The season's budget, which counts the city's share of cost");
    expect(section).toContain(`Works, the city's share |${whole(share.sums.works)} |`);
    expect(section).toContain(
      `Left over |${whole(share.money - share.sums.works - share.sums.mobilization)} |`,
    );
    rmSync(copy, { recursive: true, force: true });
  }, 120_000);
});

describe("the page of a report", () => {
  it("has words in colours that stand out from what is behind them, 4.5 to 1 (WCAG 2.2, 1.4.3)", () => {
    const style = pageStyle("letter");
    const words = [...style.matchAll(/[ {]color: (#[0-9a-f]{6})/g)].map(([, colour]) => colour!);
    const grounds = [...style.matchAll(/background: (#[0-9a-f]{6})/g)].map(([, colour]) => colour!);
    expect(new Set(words).size).toBeGreaterThanOrEqual(3);
    expect(new Set(grounds).size).toBeGreaterThanOrEqual(2);
    for (const word of words)
      for (const ground of grounds)
        expect(contrast(word, ground), `${word} on ${ground}`).toBeGreaterThanOrEqual(4.5);
    // Known pairs: black on white is 21, and this grey is the lightest that passes.
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
    expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
  });
});

/** Ratio of the lighter luminance to the darker, 0.05 added to each (WCAG 2.2, definition of contrast ratio and of relative luminance). */
function contrast(a: string, b: string): number {
  const luminance = (colour: string): number => {
    const [red, green, blue] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
  };
  const [darker, lighter] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (lighter! + 0.05) / (darker! + 0.05);
}

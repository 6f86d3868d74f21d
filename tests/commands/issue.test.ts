import { readFileSync, writeFileSync } from "node:fs";
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { issueBid } from "../../src/commands/issue.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { priceBid } from "../../src/commands/price.ts";
import { isNumeric, isQuantity, toShown } from "../../src/quantity/measure.ts";
import { numberAt } from "../../src/sheet/table.ts";
import {
  awardNames,
  formFields,
  issueNames,
  scheduleNames,
  TOTAL_IN_WORDS,
} from "../../src/workbook/bid-names.ts";
import type { PlainBook } from "../../src/workbook/plain-book.ts";
import { issuedOf, plainOf } from "../workbook/returned-book.ts";
import { zipMembers } from "../workbook/written-book.ts";
import { recorded, SAMPLES, sampleCopy } from "./sample-copy.ts";

/** Planted where no bidder may read: the city's own columns, the source of its prices, the reason of a decision. */
const SECRETS = ["sentinel-tenant", "sentinel-owner-note", "sentinel-prices", "sentinel-reason"] as const;
/** A price of the city's own, in money. */
const SECRET_PRICE = 98_765.43;

const folder = sampleCopy("quennock-falls", (settings) => {
  settings.unit_prices.source = SECRETS[2];
  settings.unit_prices.items.mobilization = SECRET_PRICE;
  settings.bidding = {
    conditions: { flow_control: { paid_by: "owner", clause: "Section 7: the owner bypasses." } },
  };
});
const laterals = join(folder, "laterals.csv");
const [title = "", head = "", ...rows] = readFileSync(laterals, "utf8").split("\n");
const withSecrets = rows.map((row) => (row === "" ? row : `${row.trimEnd()},${SECRETS[0]},${SECRETS[1]}`));
writeFileSync(laterals, [title, `${head.trimEnd()},Tenant,Owner note`, ...withSecrets].join("\n"));

const { io, said } = recorded();
const book = (number: number) => join(folder, "outputs", `bid-book-${number}.xlsx`);
const listed: string[] = [];
let book1: Buffer;
let firstSaid: string;
beforeAll(async () => {
  expect(await issueBid(folder, { addendum: "too early" }, io)).toBe(EXIT.notDone);
  const run = async (work: Promise<number>) => {
    said.out = "";
    expect(await work).not.toBe(EXIT.notDone);
    listed.push(said.out);
  };
  await run(issueBid(folder, {}, io));
  book1 = await readFile(book(1));
  firstSaid = said.err;
  await run(issueBid(folder, {}, io));
  const decision = { folder, lateral: "00278", column: "host_length", value: "100 ft", reason: SECRETS[3] };
  expect(await decideValue(decision, io, decidedProgram(folder))).toBe(EXIT.done);
  await run(issueBid(folder, { addendum: "Lateral 00278 was measured again." }, io));
}, 120_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The texts of a sheet's column by their rows. */
const rowsOf = (plain: PlainBook, sheet: string, letter: string): ReadonlyMap<number, string> => {
  const { cells } = plain.sheets.find(({ name }) => name === sheet)!;
  return new Map(
    [...cells].flatMap(([at, { value }]) =>
      at.replace(/\d+/, "") === letter ? [[Number(at.slice(1)), String(value ?? "")] as const] : [],
    ),
  );
};

/** The cells of a sheet's column from a row on, as text. */
const columnOf = (plain: PlainBook, sheet: string, letter: string): readonly string[] => {
  const { cells } = plain.sheets.find(({ name }) => name === sheet)!;
  return [...cells].flatMap(([at, { value }]) =>
    at.replace(/\d+/, "") === letter ? [String(value ?? "")] : [],
  );
};

describe("an issue of the bid documents", () => {
  it("is numbered, and issued again only when something differs", async () => {
    expect(said.err).toContain("Nothing was issued yet");
    expect(listed[0]).toContain("bid-book-1.xlsx  issue 1");
    expect(listed[1]).toContain("Nothing differs from issue 1 of 2026-03-02");
    expect(listed[2]).toContain("bid-book-2.xlsx  issue 2");
    expect(await readdir(join(folder, "issues"))).toEqual(["1.json", "2.json"]);
    const record = JSON.parse(await readFile(join(folder, "issues", "2.json"), "utf8"));
    const issued = issuedOf(await readFile(book(2)));
    expect(record).toMatchObject({ number: 2, date: "2026-03-02", content: issued.content });
    expect(
      record.lines.map(({ item, unit, hundredths }: Record<string, unknown>) => [item, unit, hundredths]),
    ).toEqual(issued.lines.map(({ item, unit, hundredths }) => [item, unit, hundredths]));
  });

  it("lists each changed line from what to what, as the two books have it, and marks it in words", async () => {
    const [first, second] = [issuedOf(await readFile(book(1))), issuedOf(await readFile(book(2)))];
    const was = new Map(first.lines.map((line) => [line.description, line.hundredths]));
    const changed = second.lines.filter(({ description, hundredths }) => was.get(description) !== hundredths);
    expect(changed.length).toBeGreaterThan(0);
    const plain = plainOf(await readFile(book(2)));
    const marks = columnOf(plain, "Bid schedule", "G").filter((text) => text === "by addendum 1");
    expect(marks.length).toBe(changed.length);
    for (const { description, hundredths } of changed) {
      const from = ((was.get(description) ?? Number.NaN) / 100).toFixed(2);
      expect(columnOf(plain, "Changes", "D")).toContain(from);
      expect(columnOf(plain, "Changes", "E")).toContain((hundredths / 100).toFixed(2));
    }
    // The lateral itself, beside the lines it changes: 100 ft as decided, as the schedule rounds lengths.
    expect(columnOf(plain, "Changes", "B")).toContain("00278");
    expect(columnOf(plain, "Changes", "E")).toContain("100.0");
  });

  it("says when the work is done and who pays for flow control, and what the owner does not state", async () => {
    const rows = new Map(
      ["A", "B", "D", "E"].map((letter) => [letter, rowsOf(plainOf(book1), "Working conditions", letter)]),
    );
    const at = (what: string) => [...rows.get("A")!].find(([, text]) => text === what)?.[0] ?? 0;
    const said = (what: string) => [rows.get("D")!.get(at(what)), rows.get("E")!.get(at(what))];
    // 2026-04-06 is day 46118 of spreadsheets: 46023 is 2026-01-01, and 95 days are behind it.
    expect(rows.get("B")!.get(at("Days of work"))).toBe("46118");
    expect(said("No work: river fair")[0]).toBe("District LS-03 only.");
    expect(said("Bypass pumping and flow control: who pays")).toEqual([
      "Provided and paid by the owner.",
      "Section 7: the owner bypasses.",
    ]);
    expect(said("Hours of work")[0]).toBe("Not stated by the owner. Ask before you bid.");
    expect(said("Read the sheet Cautions")[0]).toMatch(
      /confined spaces.*gas lines bored through laterals.*resin.*steam.*traffic/i,
    );
    expect(firstSaid).toContain("Bidders are told that this is not stated: Bids are due; ");
    expect(firstSaid).not.toContain("Bypass pumping");
  });

  it("names its addendum on the bid form, to be acknowledged", async () => {
    const plain = plainOf(await readFile(book(2)));
    expect(issuedOf(await readFile(book(2))).addenda).toBe(1);
    expect(columnOf(plain, "Bid form", "C").join("\n")).toContain(
      "Addendum 1 of 2026-03-02: Lateral 00278 was measured again.",
    );
  });

  it("that is superseded gets its bids refused, with the reason; a bid on the latest is taken", async () => {
    const cost = join(folder, "cost.json");
    await writeFile(cost, await readFile(join(SAMPLES, "demo-cost-book.json")));
    const [old, current] = [join(folder, "old.xlsx"), join(folder, "current.xlsx")];
    await priceBid(book(1), { book: cost, out: old }, io);
    await priceBid(folder, { book: cost, out: current }, io);
    said.err = "";
    expect(await tabulateBids(folder, [old, current], {}, io)).toBe(EXIT.doneWithProblems);
    expect(said.err).toContain(
      "Issue 1 is superseded since 2026-03-02 by issue 2 (addendum 1: Lateral 00278 was measured again.). Ask for prices on issue 2.",
    );
    expect(said.err).not.toContain("current.xlsx");
  }, 60_000);

  it("is not compared with when its book was written over", async () => {
    const bytes = await readFile(book(2));
    await writeFile(book(2), await readFile(book(1)));
    said.err = "";
    expect(await tabulateBids(folder, [book(1)], {}, io)).toBe(EXIT.notDone);
    expect(said.err).toContain("the book as it was issued, issue 2");
    await writeFile(book(2), bytes);
  });
});

describe.each([1, 2])("what bidders get with issue %i", (number) => {
  let members: ReadonlyMap<string, string>;
  beforeAll(async () => {
    members = zipMembers(await readFile(book(number)));
  });

  it("has the sheets of the list, all in view, and no member, name or property beside", () => {
    const workbook = members.get("xl/workbook.xml") ?? "";
    const sheets = [...workbook.matchAll(/<sheet [^>]*?name="([^"]+)"/g)].map(([, name]) => name);
    expect(sheets.filter((name) => name !== "Changes")).toEqual(ALLOWED_SHEETS);
    expect(sheets.includes("Changes")).toBe(number > 1);
    expect(workbook).not.toMatch(/state="(very)?hidden"/i);
    const names = [...workbook.matchAll(/<definedName [^>]*?name="([^"]+)"/g)].map(([, name]) => name ?? "");
    const own: ReadonlySet<string> = new Set([
      ...scheduleNames,
      ...Object.values(issueNames),
      ...Object.values(formFields).map(({ name }) => name),
      TOTAL_IN_WORDS,
      ...Object.values(awardNames),
    ]);
    expect(
      names.filter((name) => !own.has(name) && !/^_xlnm\.(Print_Titles|_FilterDatabase)$/.test(name)),
    ).toEqual([]);
    expect(
      [...members].filter(
        ([name, text]) => !ALLOWED_MEMBERS.test(name) && !(name.endsWith("/") && text === ""),
      ),
    ).toEqual([]);
    const properties = `${members.get("docProps/core.xml")}${members.get("docProps/app.xml")}`;
    expect(properties).toContain("Bid book, issue");
    for (const [name, text] of members)
      if (/worksheets\/sheet/.test(name)) expect(text, name).not.toMatch(/<(row|col) [^>]*hidden="(1|true)"/);
  });

  it("has the map and the lengths as pictures, and each in words", () => {
    expect([...members.keys()].filter((name) => name.endsWith(".png")).sort()).toEqual([
      "xl/media/image1.png",
      "xl/media/image2.png",
    ]);
    expect(members.get("xl/sharedStrings.xml")).toContain(
      "Map: laterals with paid work by kind of work, north up.",
    );
  });

  it("holds nothing that was planted in prices, decisions and the city's other columns", () => {
    for (const secret of SECRETS)
      for (const [name, text] of members) expect(text.includes(secret), `${secret} in ${name}`).toBe(false);
    for (const [name, text] of members) expect(text.includes("98765.43"), name).toBe(false);
    for (const word of [
      "Likelihood",
      "Consequence",
      "Crew time",
      "Crew-days",
      "Mixed resin",
      "Owner",
      "Rank",
    ])
      for (const [name, text] of members) expect(text.includes(word), `${word} in ${name}`).toBe(false);
  });

  it("holds no number of a column it may not show: cost, risk, crew time, takeoff", async () => {
    const loaded = await loadProgram(folder);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    const { laterals: table, columns, basis, totals } = loaded.program;
    const secret = new Set<number>([totals.program.cost / 100, SECRET_PRICE]);
    for (const { key, measure } of columns) {
      if (ALLOWED_COLUMNS.has(key) || !isNumeric(measure)) continue;
      for (let row = 0; row < table.rows; row++) {
        const value = numberAt(table, key, row);
        for (const each of [
          value,
          isQuantity(measure) ? toShown(value, measure, basis.program.units) : value,
        ])
          if (isTelling(each)) secret.add(each);
      }
    }
    // Many, or this test would look for nothing.
    expect(secret.size).toBeGreaterThan(1_000);
    const found: number[] = [];
    for (const [name, text] of members)
      if (name.startsWith("xl/worksheets/"))
        for (const [, value] of text.matchAll(/<v>([^<]*)<\/v>/g))
          if (secret.has(Number(value))) found.push(Number(value));
    expect(found).toEqual([]);
  });
});

const ALLOWED_SHEETS = [
  "How to read this",
  "Bid form",
  "Bid schedule",
  "Instructions to bidders",
  "Working conditions",
  "Measurement and payment",
  "Lateral schedule",
  "Lateral quantities",
  "District quantities",
  "Pictures",
  "Data gaps",
  "Basis",
  "Sources",
  "Cautions",
  "Number words",
];
const ALLOWED_MEMBERS =
  /^(\[Content_Types\]\.xml|_rels\/\.rels|docProps\/(app|core)\.xml|xl\/(workbook|styles|sharedStrings)\.xml|xl\/theme\/theme1\.xml|xl\/_rels\/workbook\.xml\.rels|xl\/worksheets\/sheet\d+\.xml|xl\/worksheets\/_rels\/sheet\d+\.xml\.rels|xl\/drawings\/drawing\d\.xml|xl\/drawings\/_rels\/drawing\d\.xml\.rels|xl\/media\/image\d\.png)$/;
const ALLOWED_COLUMNS: ReadonlySet<string> = new Set([
  "host_diameter",
  "host_length",
  "cover_main",
  "cover_house",
  "wall_specified",
  "wall",
  "wall_main",
]);

/** Whether a number is met by chance in no other place: more than two decimals. */
const isTelling = (value: number): boolean =>
  Number.isFinite(value) && Math.abs(value * 100 - Math.round(value * 100)) > 1e-6;

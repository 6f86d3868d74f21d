import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { priceBid } from "../../src/commands/price.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { disagreements, formulaCells, recalculate, soffice } from "../workbook/recalculate.ts";
import { changedText, issuedOf, plainOf } from "../workbook/returned-book.ts";
import { recorded } from "./sample-copy.ts";

const samples = new URL("../../sample-programs/", import.meta.url).pathname;
const SCHEDULE = "xl/worksheets/sheet3.xml";
const FORM = "xl/worksheets/sheet2.xml";
let home = "";
let folder = "";
const { io, said, forget } = recorded();
const inFolder = (name: string) => join(home, name);

/** Instructions to bidders of an invented city. */
const bidding = {
  governs: { rule: "unit price", clause: "In case of a discrepancy the unit price governs." },
  missing_price: {
    rule: "total over quantity",
    clause: "A missing unit price is the total over the quantity.",
  },
  column_sum: { rule: "correct sum", clause: "The correct sum governs." },
  mobilization_cap: {
    share: "10 %",
    of: "other items",
    remedy: "reduce",
    clause: "At most 10 % of the other items.",
  },
};

/** The entries of the form, typed as a bidder would. */
const signed = (bytes: Buffer, name: string): Buffer =>
  [name, "A. Person, president", "A. Person", "2026-05-03", "bond, 10 %", "none"].reduce(
    (book, entry, i) =>
      changedText(
        book,
        FORM,
        new RegExp(`<c r="B${8 + i}"( s="\\d+")?/>`),
        `<c r="B${8 + i}"$1 t="inlineStr"><is><t>${entry}</t></is></c>`,
      ),
    bytes,
  );

let names: Readonly<Record<"low" | "high", Buffer>>;
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), "wyeplan-bids-"));
  folder = inFolder("falls");
  await cp(join(samples, "quennock-falls"), folder, { recursive: true });
  const settings = JSON.parse(await readFile(join(folder, "program.json"), "utf8"));
  await writeFile(join(folder, "program.json"), JSON.stringify({ ...settings, bidding }, null, 2));
  await workbookOf(folder, {}, io);
  const cost = await readFile(join(samples, "demo-cost-book.json"), "utf8");
  const bids = {
    low: cost,
    high: cost
      .replace('"profit": "8 %"', '"profit": "15 %"')
      .replace('"subcontract": 14500', '"subcontract": 160000'),
  };
  const made: Record<string, Buffer> = {};
  for (const [name, text] of Object.entries(bids)) {
    await writeFile(inFolder(`${name}.json`), text);
    const out = inFolder(`${name}.xlsx`);
    await priceBid(join(folder, "outputs", "bid-book.xlsx"), { book: inFolder(`${name}.json`), out }, io);
    made[name] = signed(await readFile(out), `Bidder ${name}`);
    await writeFile(out, made[name]);
  }
  names = made as typeof names;
}, 60_000);
afterAll(() => rm(home, { recursive: true, force: true }));

const tabulated = async (...files: string[]) => {
  forget();
  const out = inFolder("tabulation.xlsx");
  const code = await tabulateBids(folder, files.map(inFolder), { out }, io);
  return { code, out };
};

describe("returned bids", () => {
  it("are compared as read and as corrected, and each correction is said", async () => {
    const { code } = await tabulated("low.xlsx", "high.xlsx");
    expect(said.err).toBe("");
    expect(code).toBe(EXIT.done);
    expect(said.out).toMatch(/Bidder low .* 1 .* 1 /);
    // Mobilization of the second bid is over a tenth of the rest, and is reduced.
    expect(said.out).toMatch(
      /Bidder high: item 1.00: Mobilization [\d,.]+, [\d.]+ % of .*Corrected by −[\d,.]+: At most 10 %/,
    );
    expect(said.out).toContain("Bidder low: Bid security: to be read (bond, 10 %)");
    expect(said.out).toContain("The award is left to the owner and counsel.");
  });

  it("of one name are told apart by their files' names, and by their places where these are one too", async () => {
    await writeFile(inFolder("again.xlsx"), names.low);
    await tabulated("low.xlsx", "again.xlsx", "high.xlsx");
    expect(said.out).toMatch(/^Bidder low \(low\.xlsx\) /m);
    expect(said.out).toMatch(/^Bidder low \(again\.xlsx\) /m);
    expect(said.out).toMatch(/^Bidder high /m);
    await mkdir(inFolder("other"));
    await writeFile(inFolder("other/low.xlsx"), names.low);
    await tabulated("low.xlsx", "high.xlsx", "other/low.xlsx");
    expect(said.out).toMatch(/^Bidder low \(low\.xlsx\), bid 1 /m);
    expect(said.out).toMatch(/^Bidder low \(low\.xlsx\), bid 3 /m);
  });

  it("have an extension typed at a hundredth of the price corrected, which changes the low bidder", async () => {
    // The published case: $210.00 a unit, extended at $2.10. The dearest line but the lump sums stands in for it.
    const issued = issuedOf(names.high);
    const priceIn = (row: number) => Number(plainOf(names.high).sheets[2]!.cells.get(`E${row}`)?.value);
    const extensions = issued.lines.map(({ hundredths }, at) => priceIn(6 + at) * hundredths);
    const line = extensions.indexOf(Math.max(...extensions.slice(2)));
    const row = 6 + line;
    const price = priceIn(row);
    const typed = (price / 100) * (issued.lines[line]!.hundredths / 100);
    const slipped = changedText(
      names.high,
      SCHEDULE,
      new RegExp(`(<c r="F${row}"[^>]*>)<f>[^<]*</f><v>[^<]*</v>`),
      `$1<v>${typed.toFixed(2)}</v>`,
    );
    // Low mobilisation, so that the cap leaves it alone and the slip alone decides.
    const cheap = changedText(slipped, SCHEDULE, /(<c r="E6"[^>]*>)<v>[^<]*<\/v>/, "$1<v>18000</v>");
    await writeFile(inFolder("slip.xlsx"), cheap);
    await tabulated("low.xlsx", "slip.xlsx");
    const ranks = (name: string) =>
      new RegExp(`${name} +[\\d,.]+ +(\\d) +[\\d,.]+ +(\\d)`).exec(said.out)?.slice(1);
    expect(ranks("Bidder high")).toEqual(["1", "2"]);
    expect(ranks("Bidder low")).toEqual(["2", "1"]);
    expect(said.out).toContain("In case of a discrepancy the unit price governs.");
  });

  it("with a price below nothing, or of text, are said to be what they are, and their rank as read is marked", async () => {
    const { lines } = issuedOf(names.low);
    const cells = plainOf(names.low).sheets[2]!.cells;
    const [row, sum] = [8, 6 + lines.length];
    const before = Number(cells.get(`F${sum}`)?.value);
    const [old, gives] = [Number(cells.get(`F${row}`)?.value), (-3 * lines[2]!.hundredths) / 100];
    const shows = (of: Buffer, at: string, value: string) =>
      changedText(of, SCHEDULE, new RegExp(`(<c r="${at}"[^>]*>.*?<v>)[^<]*`), `$1${value}`);
    const total = before - old + gives;
    const negative = shows(shows(names.low, `E${row}`, "-3"), `F${row}`, gives.toFixed(2));
    await writeFile(inFolder("negative.xlsx"), shows(negative, `F${sum}`, total.toFixed(2)));
    const price = new RegExp(`<c r="E${row}"( s="\\d+")?><v>[^<]*</v>`);
    const text = `<c r="E${row}"$1 t="inlineStr"><is><t>see letter</t></is>`;
    await writeFile(inFolder("text.xlsx"), changedText(names.low, SCHEDULE, price, text));
    await tabulated("high.xlsx", "negative.xlsx", "text.xlsx");
    const read = new Intl.NumberFormat("en-US", { minimumFractionDigits: 2 }).format(total);
    expect(said.out).toMatch(new RegExp(`\\(negative.xlsx\\) +${read.replaceAll(".", "\\.")} +1\\* +none`));
    expect(said.out).toMatch(/\(text.xlsx\) +not readable +none/);
    expect(said.out).toContain("* A total as read over lines without an amount: no whole bid");
    expect(said.out).toContain(
      `(negative.xlsx): item ${lines[2]!.item}: The unit price reads "-3", which is below nothing and no price.`,
    );
    expect(said.out).not.toMatch(/\(negative.xlsx\): The extensions of the base bid/);
    expect(said.out).toMatch(
      /\(text.xlsx\): The extensions .* the total reads "#VALUE!", which is no amount/,
    );
    expect(said.out).not.toContain(`F${row} shows ${gives}`);
    const { sheets } = plainOf(await readFile(inFolder("tabulation.xlsx")));
    const comparison = [...sheets.find(({ name }) => name === "Comparison")!.cells.values()];
    expect(comparison.map(({ value }) => value)).toContain("not readable");
  });

  it("of another issue, or changed, are refused with the reason; the rest is compared", async () => {
    const mark = issuedOf(names.low).content;
    await writeFile(
      inFolder("old.xlsx"),
      changedText(names.low, "xl/sharedStrings.xml", mark, "0123456789abcdef"),
    );
    await writeFile(inFolder("cut.xlsx"), names.low.subarray(0, 9_000));
    const { code } = await tabulated("low.xlsx", "old.xlsx", "cut.xlsx");
    expect(code).toBe(EXIT.doneWithProblems);
    expect(said.err).toContain('old.xlsx: found "issue 1, content 0123456789abcdef"');
    expect(said.err).toContain('cut.xlsx: found "no zip file, or one that is cut off"');
    const { sheets } = plainOf(await readFile(inFolder("tabulation.xlsx")));
    const told = [...sheets.find(({ name }) => name === "Comparison")!.cells.values()].map(
      ({ value }) => value,
    );
    expect(told).toContainEqual(expect.stringMatching(/^Not compared: old.xlsx: found "issue 1, content/));
  });
});

describe.skipIf(soffice === null)("the whole way", () => {
  it("from issue over prices and another spreadsheet program to the tabulation loses nothing, and recalculates", async () => {
    await tabulated("low.xlsx", "high.xlsx");
    const direct = said.out;
    const saved = await recalculate(names);
    for (const name of ["low", "high"] as const)
      await writeFile(inFolder(`${name}-saved.xlsx`), saved[name].bytes);
    const { code, out } = await tabulated("low-saved.xlsx", "high-saved.xlsx");
    expect(said.err).toBe("");
    expect(code).toBe(EXIT.done);
    expect(said.out).toBe(direct);
    const tabulation = await readFile(out);
    const again = await recalculate({ tabulation });
    expect(formulaCells(again.tabulation).length).toBeGreaterThan(100);
    expect(disagreements(again.tabulation)).toEqual([]);
  }, 300_000);
});

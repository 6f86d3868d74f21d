import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { issueBid } from "../../src/commands/issue.ts";
import { priceBid } from "../../src/commands/price.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { recorded, SAMPLES, sampleCopy } from "../commands/sample-copy.ts";
import { disagreements, formulaCells, type Recalculated, recalculate, soffice } from "./recalculate.ts";
import { sheetOf } from "./written-book.ts";

/** Instructions that put every live formula into the books: words, the cap, alternates and allowances. */
const clause = "As the instructions state.";
const bidding = {
  governs: { rule: "unit price", clause },
  words: { rule: "words", clause },
  total_in_words: { rule: "words", clause },
  missing_price: { rule: "total over quantity", clause },
  column_sum: { rule: "correct sum", clause },
  alternates: { rule: "in stated order", clause },
  mobilization_cap: { share: "10 %", of: "total", remedy: "payment limit", clause },
};
const samples = ["quennock-falls", "kaltwendel"] as const;
const folders = samples.map((sample) =>
  sampleCopy(sample, (settings) => {
    const [, district] = Object.keys(settings.district_aliases);
    settings.bidding = bidding;
    settings.bid = {
      alternates: [{ name: "One district", districts: [district] }],
      allowances: [{ wording: "Found work", amount: 12_500.5, payment: clause }],
    };
  }),
);
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** Every workbook that the commands make of a sample, made anew: by name. */
async function booksOf(folder: string): Promise<Readonly<Record<string, Buffer>>> {
  const { io } = recorded();
  const output = (name: string) => join(folder, "outputs", name);
  await issueBid(folder, {}, io);
  const file = join(folder, "program.json");
  const settings = JSON.parse(readFileSync(file, "utf8"));
  settings.bid.allowances[0].amount = 13_000;
  writeFileSync(file, JSON.stringify(settings));
  await issueBid(folder, { addendum: "Another allowance." }, io);
  await workbookOf(folder, {}, io);
  const cost = readFileSync(join(SAMPLES, "demo-cost-book.json"), "utf8");
  for (const [name, profit] of [
    ["a", "8 %"],
    ["b", "11 %"],
  ] as const) {
    const book = join(folder, `${name}.json`);
    const text = cost
      .replace('"profit": "8 %"', `"profit": "${profit}"`)
      .replace('"USD"', `"${settings.currency}"`)
      .replace('"units": "us"', `"units": "${settings.units}"`);
    writeFileSync(book, text);
    await priceBid(folder, { book, out: output(`priced-${name}.xlsx`) }, io);
  }
  const bids = ["a", "b"].map((name) => output(`priced-${name}.xlsx`));
  expect(await tabulateBids(folder, bids, {}, io)).toBe(EXIT.done);
  const names = ["bid-book", "planning-book", "bid-book-1", "bid-book-2", "priced-a", "bid-tabulation"];
  return Object.fromEntries(names.map((name) => [name, readFileSync(output(`${name}.xlsx`))]));
}

describe.skipIf(soffice === null)("every workbook that is made of a sample", () => {
  const done: Record<string, Recalculated> = {};
  beforeAll(async () => {
    const books: Record<string, Buffer> = {};
    for (const [i, folder] of folders.entries())
      for (const [name, bytes] of Object.entries(await booksOf(folder)))
        books[`${samples[i]} ${name}`] = bytes;
    Object.assign(done, await recalculate(books));
  }, 300_000);

  it.each(samples)(
    "of %s agree on the estimate: the planning book's total of each part is what bids are compared with",
    (sample) => {
      const estimate = sheetOf(done[`${sample} planning-book`]!.after, "Estimate");
      const totals = new Map<string, number>();
      estimate.eachRow((row) =>
        totals.set(String(row.getCell(2).value), Math.round(Number(row.getCell(6).result) * 100)),
      );
      const base = totals.get("Total of the base bid") ?? Number.NaN;
      const alternate = totals.get("Total of the alternate 1, One district") ?? Number.NaN;
      const compared = new Map<string, number>();
      sheetOf(done[`${sample} bid-tabulation`]!.after, "Comparison").eachRow((row) =>
        compared.set(String(row.getCell(2).value), Math.round(Number(row.getCell(8).result) * 100)),
      );
      expect(compared.get("base bid")).toBe(base);
      expect(compared.get("base bid + alternate 1")).toBe(base + alternate);
      expect(base).toBeGreaterThan(1_300_000);
    },
  );

  it.each(
    samples.flatMap((sample) =>
      ["bid-book", "planning-book", "bid-book-1", "bid-book-2", "priced-a", "bid-tabulation"].map(
        (name) => `${sample} ${name}`,
      ),
    ),
  )(
    "%s is worked out by another spreadsheet program to the engine's own values, with no error in a cell",
    (name) => {
      const cells = formulaCells(done[name]!);
      expect(cells.length).toBeGreaterThan(name.endsWith("bid-tabulation") ? 40 : 80);
      expect(disagreements(done[name]!)).toEqual([]);
      expect(
        cells.filter(
          ({ after }) => typeof after === "string" && /^\{|#(REF|VALUE|NAME|DIV|N\/A)/.test(after),
        ),
      ).toEqual([]);
    },
  );
});

import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { IssuedRecordLine } from "../../src/bidding/issue-changes.ts";
import { numbersIssued } from "../../src/bidding/issued-numbers.ts";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { issueBid } from "../../src/commands/issue.ts";
import { LivePanes } from "../../src/commands/live-panes.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { priceBid } from "../../src/commands/price.ts";
import { readIssueRecords } from "../../src/program/issue-records.ts";
import { issuedOf, plainOf } from "../workbook/returned-book.ts";
import { costBookCopy, recorded, sampleCopy } from "./sample-copy.ts";

const folder = sampleCopy("quennock-falls", (settings) => {
  settings.bid = { allowances: [{ wording: "Police details", amount: 4_000, payment: "At cost." }] };
});
const { io, said } = recorded();
const book = (number: number) => join(folder, "outputs", `bid-book-${number}.xlsx`);
const linesOf = async (number: number): Promise<readonly IssuedRecordLine[]> =>
  JSON.parse(await readFile(join(folder, "issues", `${number}.json`), "utf8")).lines;

const decide = async (lateral: string, value: string) => {
  const decision = { folder, lateral, column: "host_diameter", value, reason: "measured" };
  expect(await decideValue(decision, io, decidedProgram(folder))).toBe(EXIT.done);
};

beforeAll(async () => {
  expect(await issueBid(folder, {}, io)).not.toBe(EXIT.notDone);
  // The only 5 in liner becomes 8 in, and a 4 in one 3 in: sizes behind and before all that were issued.
  await decide("00277", "8 in");
  await decide("00131", "3 in");
  const settings = join(folder, "program.json");
  const written = JSON.parse(await readFile(settings, "utf8"));
  written.bid.allowances.unshift({ wording: "Repairs", amount: 9_000, payment: "As ordered." });
  await writeFile(settings, JSON.stringify(written));
  expect(await issueBid(folder, { addendum: "Two were measured again." }, io)).not.toBe(EXIT.notDone);
}, 120_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("an addendum to issued items", () => {
  it("leaves every number that bidders have, and gives new lines numbers that nothing had", async () => {
    const [first, second] = [await linesOf(1), await linesOf(2)];
    const was = new Map(first.filter(({ amount }) => amount === null).map(({ key, item }) => [key, item]));
    const stay = second.filter(({ key, amount }) => amount === null && was.has(key));
    expect(stay.length).toBeGreaterThan(30);
    expect(stay.map(({ item }) => item)).toEqual(stay.map(({ key }) => was.get(key)));
    const added = second.filter(({ key }) => key.startsWith("full-length liner") && !was.has(key));
    expect(added.map(({ item, key }) => [item, key])).toEqual([
      ["6.04", "full-length liner | 3 in"],
      ["6.05", "full-length liner | 8 in"],
    ]);
    expect(second.filter(({ amount }) => amount !== null).map(({ item, amount }) => [item, amount])).toEqual([
      ["90.01", 400_000],
      ["90.02", 900_000],
    ]);
  });

  it("says on Changes and over the schedule which line is deleted, and uses its number for nothing", async () => {
    expect((await linesOf(2)).map(({ item }) => item)).not.toContain("6.02");
    const plain = plainOf(await readFile(book(2)));
    const texts = (name: string) =>
      [...plain.sheets.find((sheet) => sheet.name === name)!.cells.values()].map(({ value }) => value);
    expect(texts("Bid schedule")).toContain(
      "Deleted from this schedule, and their numbers given to no other line: 6.02, 7.02 by addendum 1.",
    );
    expect(texts("Bid schedule")).toContain("new, by addendum 1");
    expect(texts("Changes")).toContain("6.02 full-length liner | 5 in");
    expect(texts("Changes")).toContain("line deleted");
  });

  it("stands in the sheet's pane of the bid under these numbers", async () => {
    const loaded = await loadProgram(folder);
    const records = await readIssueRecords(folder);
    if (!loaded.ok || !records.ok) throw new Error("the program or its issues cannot be read");
    const { program } = loaded;
    const nothing = () => {};
    const panes = new LivePanes(
      null,
      () => program,
      nothing,
      nothing,
      nothing,
      numbersIssued(records.records),
    );
    const items = (await linesOf(2)).filter(({ amount }) => amount === null).map(({ item }) => item);
    expect(panes.schedule(program).lines.map(({ number }) => number)).toEqual(items);
    expect(items).toContain("6.05");
  });

  it("is priced, returned and compared under these numbers", async () => {
    const record = (await linesOf(2)).map(({ item, wording, hundredths }) => [item, wording, hundredths]);
    const issued = issuedOf(await readFile(book(2)));
    expect(issued.lines.map(({ item, description, hundredths }) => [item, description, hundredths])).toEqual(
      record,
    );
    const priced = join(folder, "priced.xlsx");
    await priceBid(folder, { book: costBookCopy(), out: priced }, io);
    said.err = "";
    expect(await tabulateBids(folder, [priced], {}, io)).toBe(EXIT.done);
    const tabulation = plainOf(await readFile(join(folder, "outputs", "bid-tabulation.xlsx")));
    const [, sheet] = tabulation.sheets;
    const items = [...sheet!.cells].flatMap(([at, { value }]) =>
      /^A\d+$/.test(at) && /^\d+\.\d\d$/.test(String(value)) ? [value] : [],
    );
    expect(items).toEqual(record.map(([item]) => item));
  }, 120_000);

  it("follows a record of before, in which numbers had moved", async () => {
    const file = join(folder, "issues", "2.json");
    const kept = await readFile(file, "utf8");
    const record = JSON.parse(kept);
    const lines: IssuedRecordLine[] = record.lines;
    const liners = lines.filter(({ key }) => key.startsWith("full-length liner"));
    const bySize = ["3 in", "4 in", "6 in", "8 in"];
    const moved = liners.map((line) => ({
      ...line,
      item: `6.0${1 + bySize.findIndex((size) => line.key.endsWith(size))}`,
    }));
    record.lines = lines.map((line) => moved.find(({ key }) => key === line.key) ?? line);
    await writeFile(file, JSON.stringify(record));
    await decide("00277", "5 in");
    expect(await issueBid(folder, { addendum: "As it was." }, io)).not.toBe(EXIT.notDone);
    const now = (await linesOf(3)).filter(({ key }) => key.startsWith("full-length liner"));
    // 6.02 was 5 in at first and 4 in at last: it stays with the latter, and 5 in gets a number of its own.
    expect(now.map(({ item, key }) => [item, key.split(" | ")[1]])).toEqual([
      ["6.01", "3 in"],
      ["6.02", "4 in"],
      ["6.03", "6 in"],
      ["6.05", "5 in"],
    ]);
  }, 120_000);
});

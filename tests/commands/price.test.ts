import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, onTestFinished } from "vitest";
import { centsOf, type Part } from "../../src/bidding/bid.ts";
import { money } from "../../src/bidding/money-words.ts";
import { tabulateBids } from "../../src/commands/bids.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planMinutes } from "../../src/commands/plan-minutes.ts";
import { priceBid } from "../../src/commands/price.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { writeWorkbook } from "../../src/commands/write-workbook.ts";
import { extend } from "../../src/quantity/money.ts";
import { cents } from "../../src/quantity/si.ts";
import { houseBidItems } from "../../src/reference/bid-items.ts";
import { variantIn } from "../../src/workbook/bid-schedule.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { issuedOf, plainOf } from "../workbook/returned-book.ts";
import { smallContents, smallProgram } from "../workbook/small-program.ts";
import { zipMembers } from "../workbook/written-book.ts";
import { recorded, SAMPLES, sampleCopy } from "./sample-copy.ts";

const sample = new URL("../../sample-programs/demo-cost-book.json", import.meta.url).pathname;
let folder = "";
const { io, said, forget } = recorded();
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-price-"));
  forget();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** The bid book of a city priced from the sample's costs, with more of them for traffic control; the city goes with the folder of the test. */
async function pricedIn(city: string, more: string) {
  onTestFinished(() => rm(city, { recursive: true, force: true }));
  await workbookOf(city, {}, io);
  const bidBook = join(city, "outputs", "bid-book.xlsx");
  const book = join(folder, "own.json");
  const costs = await readFile(sample, "utf8");
  await writeFile(book, costs.replace('"subcontract": 11800', `"subcontract": 11800${more}`));
  await priceBid(bidBook, { book }, io);
  const issued = issuedOf(await readFile(bidBook));
  const { lines } = readBid(
    "a.xlsx",
    plainOf(await readFile(join(city, "outputs", "bid-book-priced.xlsx"))),
    issued,
    [],
  );
  const priced = issued.lines.map((line, i) => ({ ...line, price: centsOf(lines[i]!.price) ?? cents(0) }));
  return { priced, book };
}

/** The city whose bid has one district as an alternate. */
const dividedCity = () =>
  sampleCopy("quennock-falls", (settings) => {
    settings.bid = { alternates: [{ name: "One district", districts: ["LS-07"] }] };
  });

describe("pricing a bid book", () => {
  it("fills the prices in, and nothing of the cost book gets into the workbook", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("us"), folder);
    // Words and rates that stand nowhere else.
    const text = (await readFile(sample, "utf8"))
      .replace(/DEMO: [^"]*/, "sentinel-cost-source")
      .replaceAll('"lining rig"', '"sentinel-rig"');
    const book = join(folder, "own.json");
    await writeFile(book, text);
    const code = await priceBid(bidBook, { book }, io);
    // A host that is no stocked size has no price in the book: said, and left empty.
    expect(code).toBe(said.err === "" ? EXIT.done : EXIT.doneWithProblems);
    const priced = await readFile(join(folder, "bid-book-priced.xlsx"));
    const all = [...zipMembers(priced).values()].join("\n");
    for (const secret of ["sentinel", "technician", "overhead", "contingency", "labour"])
      expect(all).not.toContain(secret);
    const kept = await readFile(join(folder, "own.bid-book-priced.prices.txt"), "utf8");
    for (const shown of ["sentinel-cost-source", "sentinel-rig", "overhead", "unit price"])
      expect(kept).toContain(shown);
    expect(said.out).toContain(kept);
  });

  it("in another currency than the book's is refused", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("si"), folder);
    expect(await priceBid(bidBook, { book: sample }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain('line 4, key "currency": found "USD"');
  });

  it("in other units than the book's is refused, with the line and what to write", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("si"), folder);
    const { currency } = issuedOf(await readFile(bidBook));
    const book = join(folder, "own.json");
    const text = (await readFile(sample, "utf8")).replace('"USD"', `"${currency}"`);
    await writeFile(book, text);
    expect(await priceBid(bidBook, { book }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain('line 5, key "units": found "us", expected the units of the bid book');
    expect(said.err).toContain('"units": "si"');
    expect((await readdir(folder)).filter((name) => /priced|prices/.test(name))).toEqual([]);
    await writeFile(book, text.replace('"units": "us"', '"units": "si"'));
    expect(await priceBid(bidBook, { book }, io)).not.toBe(EXIT.notDone);
  });

  it("shares a lump sum that several parts of the bid ask for, as the estimate does, and says so", async () => {
    const city = dividedCity();
    const { priced, book } = await pricedIn(city, ', "per_job": 900');
    const traffic = priced.filter(({ item }) => item === "2.00");
    expect(traffic.map(({ part }) => part)).toEqual(["base", 1]);
    const [base = 0, alternate = 0] = traffic.map(({ price }): number => price);
    // By hand: 12,700.00 with 4 % is 508.00 more, with 12 % 1,584.96, with 8 % 1,183.44: 15,976.40; 1.2 % and 1.5 % of
    // 15,976.40 / 0.973 = 16,419.73 are 197.04 and 246.30.
    const whole = 1_641_974;
    expect(base + alternate).toBe(whole);
    const work = (part: Part) =>
      priced.reduce(
        (sum, line) =>
          line.part === part && !line.lumpSum ? sum + extend(line.hundredths, line.price) : sum,
        0,
      );
    const share = (whole * work(1)) / (work("base") + work(1));
    expect(share).toBeGreaterThan(100_000);
    // Whole cents.
    expect(Math.abs(alternate - share)).toBeLessThan(1);
    const shown = (amount: number) => money(cents(amount));
    const shared =
      `Item 2.00, Traffic control: ${shown(whole)} for all the work, shared by the other work of each part at these prices: ` +
      `base bid ${shown(base)}, alternate 1 ${shown(alternate)}.`;
    expect(said.out).toContain(`${shared}\nThe share of an alternate that is not awarded is paid by nobody`);

    const bid = join(city, "outputs", "bid-book-priced.xlsx");
    forget();
    await tabulateBids(city, [bid], { book }, io);
    expect(said.out).toContain(shared);
    // The city's cost book is the bidder's here: every award comes to its estimate.
    expect(said.out.match(/ 100\.0 %/g)).toHaveLength(2);
    const { sheets } = plainOf(await readFile(join(city, "outputs", "bid-tabulation.xlsx")));
    const told = [...sheets.find(({ name }) => name === "Comparison")!.cells.values()];
    expect(told.map(({ value }) => String(value)).filter((text) => text.includes(shared))).toHaveLength(1);
  });

  it("changes the total by a rate of a lump sum that is shared once, as without the alternate", async () => {
    const profitHigher = async (city: string, more: string) => {
      forget();
      const { priced } = await pricedIn(city, more);
      const [, change = ""] = /^profit +([\d,.]+) +[\d.]+ %$/m.exec(said.out) ?? [];
      return { change: Number(change.replaceAll(",", "")), lines: priced.length };
    };
    const divided = await profitHigher(dividedCity(), ', "per_job": 900');
    const whole = await profitHigher(sampleCopy("quennock-falls"), ', "per_job": 900');
    const without = await profitHigher(sampleCopy("quennock-falls"), "");
    // By hand: 8.8 % in place of 8 % of 900.00 with 4 % and 12 %, over 0.973: 1,048.32 × 0.008 / 0.973 = 8.62. Four prices in whole cents.
    expect(Math.abs(whole.change - without.change - 8.62)).toBeLessThanOrEqual(0.025);
    // As much of all of 12,700.00 is 121.63, once. Each line's extension is rounded to the cent, before and with the higher rate.
    expect(divided.lines).toBeGreaterThan(whole.lines);
    expect(Math.abs(divided.change - whole.change)).toBeLessThanOrEqual(0.01 * (divided.lines + whole.lines));
    expect(0.01 * (divided.lines + whole.lines)).toBeLessThan(121.63 / 50);
  });

  it("leaves each lump sum whole where one part asks for it", async () => {
    const { priced } = await pricedIn(sampleCopy("quennock-falls"), "");
    // By hand as above: 11,800.00, 472.00, 1,472.64, 1,099.57, and of 15,256.13 are 183.07 and 228.84.
    expect(priced.find(({ item }) => item === "2.00")!.price).toBe(1_525_612);
    expect(said.out).not.toContain("shared by the other work");
  });

  it("leaves a priced book that was filled in since, and writes beside it", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("us"), folder);
    const book = join(folder, "own.json");
    await writeFile(book, await readFile(sample));
    const out = join(folder, "bid-book-priced.xlsx");
    await priceBid(bidBook, { book }, io);
    const filledIn = Buffer.concat([await readFile(out), Buffer.from("a name on the form")]);
    await writeFile(out, filledIn);
    const before = await readFile(join(folder, "own.bid-book-priced.prices.txt"));
    forget();
    await priceBid(bidBook, { book }, io);
    await priceBid(bidBook, { book }, io);
    expect(said.err).toContain(`${out} holds something else and stays as it is`);
    expect(await readFile(out)).toEqual(filledIn);
    expect(await readFile(join(folder, "own.bid-book-priced.prices.txt"))).toEqual(before);
    expect((await readdir(folder)).filter((name) => /priced/.test(name)).sort()).toEqual([
      "bid-book-priced-2.xlsx",
      "bid-book-priced.xlsx",
      "own.bid-book-priced-2.prices.txt",
      "own.bid-book-priced.prices.txt",
    ]);
    expect(await priceBid(bidBook, { book, out }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain("Name another with --out");
    expect(await readFile(out)).toEqual(filledIn);
  });

  it("empties the price of a line that the cost book does not price, whoever put it there, and says what stood in every cell that changes", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("us"), folder);
    const book = join(folder, "own.json");
    await writeFile(book, await readFile(sample));
    await priceBid(bidBook, { book }, io);
    const out = join(folder, "bid-book-priced.xlsx");
    const pricesIn = async (file: string) => {
      const bytes = await readFile(file);
      return readBid("a.xlsx", plainOf(bytes), issuedOf(await readFile(bidBook)), []).lines;
    };
    const before = await pricesIn(out);
    const costs = JSON.parse(await readFile(sample, "utf8")) as {
      roles: Record<string, number>;
      items: Record<string, object>;
    };
    delete costs.items["full-length liner"];
    for (const role of Object.keys(costs.roles)) costs.roles[role]! *= 2;
    await writeFile(book, JSON.stringify(costs));
    forget();
    expect(await priceBid(out, { book }, io)).toBe(EXIT.doneWithProblems);
    const again = join(folder, "bid-book-priced-priced.xlsx");
    const after = await pricesIn(again);
    const issued = issuedOf(await readFile(bidBook));
    const { number } = houseBidItems.items.find(({ key }) => key === "full-length liner")!;
    const emptied = issued.lines.flatMap(({ item }, i) => (Math.floor(Number(item)) === number ? [i] : []));
    expect(emptied.length).toBeGreaterThan(0);
    for (const i of emptied) {
      expect(centsOf(before[i]!.price)).not.toBeNull();
      expect([after[i]!.price.kind, after[i]!.extension.kind]).toEqual(["missing", "missing"]);
      expect(said.err).toMatch(
        new RegExp(
          `Item ${issued.lines[i]!.item}: [\\d.,]+ stood in the given book; in the priced one stands nothing`,
        ),
      );
    }
    // Nothing that the cost book leaves out is added up, on the page, in the book or by whoever reads it.
    const total = after.reduce((sum, { extension }) => sum + (centsOf(extension) ?? 0), 0);
    expect(said.out).toContain(`Total of the priced lines`);
    expect(said.out).toContain(money(cents(total)));
    const changed = after.filter(({ price }, i) => centsOf(price) !== centsOf(before[i]!.price)).length;
    expect(said.err.match(/stood in the given book/g)).toHaveLength(changed);
    forget();
    await priceBid(again, { book }, io);
    expect(said.err).not.toContain("stood in the given book");
  });

  it("finds the size of each line in its description", () => {
    for (const units of ["us", "si"] as const)
      for (const { key, description, item } of readBidView(smallContents(units)).lines)
        expect([description, variantIn(description, item)]).toEqual([description, key.split(" | ")[1] ?? ""]);
    expect(variantIn("another wording", houseBidItems.items[3]!)).toBeNull();
  });

  it.each(["quennock-falls", "kaltwendel"])(
    "takes the minutes of the plan so that they add up to the plan's crew time: %s",
    async (city) => {
      const loaded = await loadProgram(join(SAMPLES, city));
      if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
      const { program } = loaded;
      const minutes = planMinutes(program);
      let sum = 0;
      for (const [item, each] of minutes)
        for (const [key, hundredths] of program.totals.program.bidLines)
          if (key.split(" | ")[0] === item) sum += (each * hundredths) / 100;
      expect(sum).toBeCloseTo(program.totals.program.crewMinutes, 6);
    },
  );
});

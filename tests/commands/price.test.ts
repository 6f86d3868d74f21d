import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { EXIT } from "../../src/commands/command-io.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planMinutes } from "../../src/commands/plan-minutes.ts";
import { priceBid } from "../../src/commands/price.ts";
import { writeWorkbook } from "../../src/commands/write-workbook.ts";
import { houseBidItems } from "../../src/reference/bid-items.ts";
import { variantIn } from "../../src/workbook/bid-schedule.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { issuedOf } from "../workbook/returned-book.ts";
import { smallContents, smallProgram } from "../workbook/small-program.ts";
import { zipMembers } from "../workbook/written-book.ts";
import { recorded, SAMPLES } from "./sample-copy.ts";

const sample = new URL("../../sample-programs/demo-cost-book.json", import.meta.url).pathname;
let folder = "";
const { io, said, forget } = recorded();
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-price-"));
  forget();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

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

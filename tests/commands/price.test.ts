import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
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
    const kept = await readFile(join(folder, "own.prices.txt"), "utf8");
    for (const shown of ["sentinel-cost-source", "sentinel-rig", "overhead", "unit price"])
      expect(kept).toContain(shown);
    expect(said.out).toContain(kept);
  });

  it("in another currency than the book's is refused", async () => {
    const { bidBook } = await writeWorkbook(smallProgram("si"), folder);
    expect(await priceBid(bidBook, { book: sample }, io)).toBe(EXIT.notDone);
    expect(said.err).toContain('found "USD"');
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

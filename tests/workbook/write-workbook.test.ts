import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { writeWorkbook } from "../../src/commands/write-workbook.ts";
import { smallProgram } from "./small-program.ts";
import { readBack } from "./written-book.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-books-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const program = smallProgram("us");

describe("writing the books", () => {
  it("makes the folder, puts both in it and says where", async () => {
    const out = join(folder, "new", "outputs");
    const written = await writeWorkbook(program, out);
    expect(written).toEqual({
      bidBook: join(out, "bid-book.xlsx"),
      planningBook: join(out, "planning-book.xlsx"),
    });
    expect((await readdir(out)).sort()).toEqual(["bid-book.xlsx", "planning-book.xlsx"]);
    const names = async (path: string) =>
      (await readBack(await readFile(path))).worksheets.map((worksheet) => worksheet.name);
    expect(await names(written.bidBook)).toContain("Bid schedule");
    expect(await names(written.bidBook)).not.toContain("Estimate");
    expect(await names(written.planningBook)).toContain("Estimate");
  });

  it("replaces what was there", async () => {
    await writeFile(join(folder, "bid-book.xlsx"), "old");
    await writeWorkbook(program, folder);
    const { worksheets } = await readBack(await readFile(join(folder, "bid-book.xlsx")));
    expect(worksheets.map(({ name }) => name)).toContain("Bid schedule");
  });

  it("leaves both books of before where one of the new cannot be put in place", async () => {
    await writeFile(join(folder, "bid-book.xlsx"), "old");
    await mkdir(join(folder, "planning-book.xlsx", "in the way"), { recursive: true });
    await expect(writeWorkbook(program, folder)).rejects.toThrow();
    expect((await readdir(folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
    expect(await readFile(join(folder, "bid-book.xlsx"), "utf8")).toBe("old");
  });

  it("touches no file when a book cannot be built", async () => {
    await writeFile(join(folder, "bid-book.xlsx"), "old");
    const broken = {
      ...program,
      basis: { ...program.basis, bidItems: { ...program.basis.bidItems, items: [] } },
    };
    await expect(writeWorkbook(broken, folder)).rejects.toThrow("no bid item");
    expect(await readFile(join(folder, "bid-book.xlsx"), "utf8")).toBe("old");
  });
});

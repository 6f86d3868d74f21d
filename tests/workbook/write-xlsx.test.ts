import { describe, expect, it } from "vitest";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { type Book, formula, type Row, type SheetModel } from "../../src/workbook/sheet-model.ts";
import { siBasis, usBasis } from "../plan/examples.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf, readBack, sheetOf, zipMembers } from "./written-book.ts";

const sheet = (rows: readonly Row[], differs: Partial<SheetModel> = {}): SheetModel => ({
  name: "Sheet",
  title: "Title",
  notes: [],
  columns: [
    { heading: "One", width: 10 },
    { heading: "Two", width: 10 },
  ],
  rows,
  frozenColumns: 0,
  pagesWide: 1,
  locked: false,
  ...differs,
});
const bookOf = (rows: readonly Row[], differs: Partial<Book> = {}): Book => ({
  title: "A book",
  head: usBasis.program,
  sheets: [sheet(rows)],
  ...differs,
});
const sheetXml = async (book: Book): Promise<string> =>
  zipMembers(await bytesOf(book)).get("xl/worksheets/sheet1.xml") ?? "";
/** Title, program line and headings come first. */
const FIRST = 4;
const read = async (text: string): Promise<unknown> =>
  sheetOf(await readBack(await bytesOf(bookOf([[text]]))), "Sheet").getCell(FIRST, 1).value;

describe("text", () => {
  it.each([
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    '=HYPERLINK("http://example.invalid")',
    "1",
    "007",
    "TRUE",
    "2026-03-01",
  ])("%j stays text", async (text) => {
    const xml = await sheetXml(bookOf([[text]]));
    expect(xml).not.toContain("<f>");
    expect(xml).toMatch(new RegExp(`<c r="A${FIRST}" s="\\d+" t="s">`));
    expect(await read(text)).toBe(text);
  });

  it("that looks like a formula has the text format, so that editing the cell does not make it one", async () => {
    const workbook = await readBack(await bytesOf(bookOf([["=1+1", "plain"]])));
    expect(sheetOf(workbook, "Sheet").getCell(FIRST, 1).numFmt).toBe("@");
    expect(sheetOf(workbook, "Sheet").getCell(FIRST, 2).numFmt).not.toBe("@");
  });

  it("keeps what XML can carry and shows what it cannot", async () => {
    expect(await read("a < b & \"c\" > 'd' 管 😀\nnext\tline")).toBe("a < b & \"c\" > 'd' 管 😀\nnext\tline");
    expect(await read("bell\u0007 null\u0000 half\ud83d")).toBe("bell\ufffd null\ufffd half\ufffd");
    expect(await read("windows\r\nmac\rend")).toBe("windows\nmac\nend");
  });

  it("that reads like an escape of the file format is escaped", async () => {
    const strings = zipMembers(await bytesOf(bookOf([["_x0041_ and _x41_"]]))).get("xl/sharedStrings.xml");
    expect(strings).toContain("_x005F_x0041_ and _x41_");
  });

  it("too long for a cell is cut and says so", async () => {
    const long = String(await read("x".repeat(40_000)));
    expect(long).toHaveLength(32_767);
    expect(long.endsWith("x…")).toBe(true);
  });

  it("in headers and footers is never one of their codes", async () => {
    const xml = await sheetXml(bookOf([], { head: { ...usBasis.program, name: "24 Wells & Sons &D" } }));
    expect(xml).toContain("24 Wells &amp;&amp; Sons &amp;&amp;D, as of 2026-03-01");
    expect(xml).toContain("Page &amp;P of &amp;N");
  });
});

describe("numbers", () => {
  it("that are missing are empty cells", async () => {
    const xml = await sheetXml(bookOf([[Number.NaN, null]]));
    expect(xml).not.toContain("NaN");
    expect(xml).toMatch(new RegExp(`<c r="A${FIRST}" s="\\d+"/>`));
  });

  it("that are none are refused with their place", async () => {
    await expect(bytesOf(bookOf([[1 / 0]]))).rejects.toThrow("Sheet, row 4: Infinity");
    await expect(bytesOf(bookOf([[formula("1/0", Number.NaN)]]))).rejects.toThrow("1/0 has the result NaN");
  });

  it("of formulas are written with the formula", async () => {
    expect(await sheetXml(bookOf([[2, formula("A4*2", 4)]]))).toContain("<f>A4*2</f><v>4</v>");
  });
});

describe("pages", () => {
  it("are letter in a US program and A4 in an SI one, with the headings on each", async () => {
    const letter = zipMembers(await bytesOf(bookOf([["a"]])));
    expect(letter.get("xl/worksheets/sheet1.xml")).toMatch(/<pageSetup [^>]*paperSize="1"/);
    expect(letter.get("xl/workbook.xml")).toContain("$3:$3</definedName>");
    expect(await sheetXml(bookOf([["a"]], { head: siBasis.program }))).toMatch(
      /<pageSetup [^>]*paperSize="9"/,
    );
  });

  it("leave the headings in view", async () => {
    const xml = await sheetXml(
      bookOf([["a"]], { sheets: [sheet([["a"]], { frozenColumns: 1, notes: ["n"] })] }),
    );
    expect(xml).toMatch(/<pane xSplit="1" ySplit="4" topLeftCell="B5"/);
  });
});

describe("files", () => {
  it("of the same program have the same members, byte for byte, whenever they are written", async () => {
    const books = () => {
      const contents = smallContents("us");
      return [buildBidBook(readBidView(contents)), buildPlanningBook(contents)];
    };
    const first = await Promise.all(books().map((book) => bytesOf(book)));
    await new Promise((resolve) => setTimeout(resolve, 1100));
    const second = await Promise.all(books().map((book) => bytesOf(book)));
    for (const [i, bytes] of first.entries()) expect(zipMembers(second[i]!)).toEqual(zipMembers(bytes));
    expect(zipMembers(first[0]!).get("docProps/core.xml")).toContain("2026-03-01T00:00:00");
  });

  it("report a stream that fails", async () => {
    const { Writable } = await import("node:stream");
    const { writeXlsx } = await import("../../src/workbook/write-xlsx.ts");
    const full = new Writable({ write: (_chunk, _encoding, done) => done(new Error("disk full")) });
    await expect(writeXlsx(bookOf([["a"]]), full)).rejects.toThrow("disk full");
  });
});

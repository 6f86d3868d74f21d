import { Writable } from "node:stream";
import type ExcelJS from "exceljs";
import { beforeAll, describe, expect, it } from "vitest";
import { numberAt } from "../../src/sheet/table.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { writeDocument } from "../../src/workbook/document-xlsx.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import type { Book, Row, Rows } from "../../src/workbook/sheet-model.ts";
import { MOST_DOCUMENT_CELLS } from "../../src/workbook/sheet-model.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { writeXlsx } from "../../src/workbook/write-xlsx.ts";
import { usBasis } from "../plan/examples.ts";
import { inManyParts, smallContents } from "./small-program.ts";
import { bytesOf, readBack, zipMembers } from "./written-book.ts";

const COLUMNS = 4;
const bookOf = (rows: Rows): Book => ({
  title: "A book",
  head: usBasis.program,
  sheets: [
    {
      name: "Sheet",
      title: "Title",
      notes: ["One note."],
      columns: Array.from({ length: COLUMNS }, (_, i) => ({ heading: `Column ${i}`, width: 12 })),
      rows,
      frozenColumns: 0,
      pagesWide: 1,
      locked: false,
    },
  ],
});
/** Rows of digits that pack badly; `made` is told of each as it is worked out. */
const manyRows = (length: number, made: (row: number) => void = () => {}): Rows => ({
  length,
  *[Symbol.iterator]() {
    for (let row = 0; row < length; row++) {
      made(row);
      yield Array.from({ length: COLUMNS }, (_, i) => digits(row * COLUMNS + i));
    }
  },
});
const digits = (seed: number): string => [1, 2, 3, 4].map((i) => Math.sin(seed + i / 7)).join(" ");

const contents = smallContents("us");
const books: Readonly<Record<string, Book>> = {
  "bid book": buildBidBook(readBidView(contents)),
  "planning book": buildPlanningBook(contents),
  "bid book in parts": buildBidBook(readBidView(inManyParts("si"))),
};

describe.each(Object.entries(books))("the %s, streamed", (_name, book) => {
  let streamed: ExcelJS.Workbook;
  let document: ExcelJS.Workbook;
  let members: ReadonlyMap<string, string>;
  beforeAll(async () => {
    const bytes = await bytesOf(book, writeStreaming);
    members = zipMembers(bytes);
    streamed = await readBack(bytes);
    document = await readBack(await bytesOf(book, writeDocument));
  });

  it("is the document cell for cell: values, formulas, formats, heights, widths, protection, print", () => {
    expect(streamed.worksheets.map(({ name }) => name)).toEqual(document.worksheets.map(({ name }) => name));
    for (const [i, worksheet] of document.worksheets.entries())
      expect(modelOf(streamed.worksheets[i]!)).toEqual(modelOf(worksheet));
  });

  it("has that comparison looking: it sees a value, a format, a width and a lock", () => {
    const [worksheet] = document.worksheets;
    const before = modelOf(worksheet!);
    const cell = worksheet!.getCell("A4");
    for (const change of [
      () => (cell.value = "changed"),
      () => (cell.numFmt = "0.0000000"),
      () => (worksheet!.getColumn(1).width = 77),
      () => (cell.protection = { locked: false }),
    ]) {
      const last = modelOf(worksheet!);
      change();
      expect(modelOf(worksheet!)).not.toEqual(last);
    }
    expect(modelOf(worksheet!)).not.toEqual(before);
  });

  it("has the same names, the same properties and titles to print", async () => {
    const other = zipMembers(await bytesOf(book, writeDocument));
    // Properties without a value are left out by one writer, and empty by the other; ours names the program that wrote the book.
    const stated = (xml: string | undefined) =>
      xml?.replace(/<([\w:]+)><\/\1>/g, "").replace(/<Application>.*?<\/Application>/, "");
    expect(members.get("docProps/app.xml")).toContain("<Application>wyeplan</Application>");
    for (const name of ["docProps/core.xml", "docProps/app.xml"])
      expect(stated(members.get(name))).toBe(stated(other.get(name)));
    expect(members.get("xl/workbook.xml")).toContain("_xlnm.Print_Titles");
    expect(namesIn(members)).toEqual(namesIn(other));
  });

  it("has the elements of each sheet in the order of the file format", () => {
    const sheets = [...members].filter(([name]) => name.startsWith("xl/worksheets/sheet"));
    expect(sheets.length).toBe(book.sheets.length);
    for (const [name, xml] of sheets) {
      const found = [...xml.replace(/<sheetData>.*<\/sheetData>/s, "<sheetData/>").matchAll(/<(\w+)[ />]/g)]
        .map(([, element]) => element!)
        .filter((element) => IN_ORDER.includes(element));
      expect(found, name).toEqual(IN_ORDER.filter((element) => found.includes(element)));
      expect(found).toContain("sheetViews");
    }
    const all = sheets.map(([, xml]) => xml).join("");
    expect(all).toContain("<autoFilter");
    if (book.sheets.some(({ locked }) => locked)) expect(all).toContain("<sheetProtection");
  });

  it("has the same members, byte for byte, whenever it is written", async () => {
    expect(zipMembers(await bytesOf(book, writeStreaming))).toEqual(members);
  });
});

/** ECMA-376 Part 1, 18.3.1.99 (worksheet) and the schema's CT_Worksheet: the children that the books use, in order. */
const IN_ORDER = [
  "sheetPr",
  "dimension",
  "sheetViews",
  "sheetFormatPr",
  "cols",
  "sheetData",
  "sheetProtection",
  "autoFilter",
  "mergeCells",
  "conditionalFormatting",
  "dataValidations",
  "hyperlinks",
  "printOptions",
  "pageMargins",
  "pageSetup",
  "headerFooter",
];

/** All that a worksheet holds as it was read. */
const modelOf = (worksheet: ExcelJS.Worksheet): unknown => structuredClone(worksheet.model);

const namesIn = (members: ReadonlyMap<string, string>): readonly string[] =>
  [...(members.get("xl/workbook.xml") ?? "").matchAll(/<definedName .*?<\/definedName>/g)].map(
    ([name]) => name,
  );

describe("the streaming writer", () => {
  it("waits for a slow stream instead of making all rows at once", async () => {
    const ROWS = 80_000;
    let made = 0;
    let release = (): void => {};
    const released = new Promise<void>((resolve) => (release = resolve));
    const slow = new Writable({ write: (_chunk, _encoding, done) => void released.then(() => done()) });
    const writing = writeStreaming(bookOf(manyRows(ROWS, (row) => (made = row + 1))), slow);
    let last = -1;
    while (made === 0 || made > last) {
      last = made;
      await new Promise((resolve) => setTimeout(resolve, 400));
    }
    // A megabyte waits for the packer; all rows are 10 MB packed.
    expect(made).toBeGreaterThan(1000);
    expect(made).toBeLessThan(ROWS / 2);
    release();
    await writing;
    expect(made).toBe(ROWS);
  });

  it("reports a stream that fails in the middle, and does not wait for it for ever", async () => {
    let taken = 0;
    const full = new Writable({
      write: (chunk: Uint8Array, _encoding, done) => {
        taken += chunk.length;
        done(taken > 100_000 ? new Error("disk full") : null);
      },
    });
    await expect(writeStreaming(bookOf(manyRows(100_000)), full)).rejects.toThrow("disk full");
  });

  it("reports a row that cannot be written, with its place", async () => {
    const rows: readonly Row[] = [...manyRows(10), [1 / 0]];
    await expect(bytesOf(bookOf(rows), writeStreaming)).rejects.toThrow("Sheet, row 15: Infinity");
  });
});

describe("a book", () => {
  const hasSharedTexts = async (rows: number): Promise<boolean> =>
    zipMembers(await bytesOf(bookOf(manyRows(rows)), writeXlsx)).has("xl/sharedStrings.xml");

  it("is written as a document up to a stated number of cells, and beyond it as a stream", async () => {
    expect(await hasSharedTexts(MOST_DOCUMENT_CELLS / COLUMNS)).toBe(true);
    expect(await hasSharedTexts(MOST_DOCUMENT_CELLS / COLUMNS + 1)).toBe(false);
  });

  it("plans each lateral again once at most, and a lined one once more for its design", () => {
    const asked = new Map<number, number>();
    const counting = {
      ...contents,
      recordAt: (row: number) => {
        asked.set(row, (asked.get(row) ?? 0) + 1);
        return contents.recordAt(row);
      },
    };
    for (const { rows } of buildBidBook(readBidView(counting)).sheets) for (const _ of rows);
    expect(asked.size).toBe(0);
    const planning = buildPlanningBook(counting);
    // The design that is shown first is worked out when the book is laid out.
    asked.clear();
    for (const { rows } of planning.sheets) for (const _ of rows);
    const { laterals } = contents.program;
    for (let row = 0; row < laterals.rows; row++)
      expect(asked.get(row)).toBe(Number.isNaN(numberAt(laterals, "wall", row)) ? 1 : 2);
  });
});

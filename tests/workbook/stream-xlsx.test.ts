import { Writable } from "node:stream";
import type ExcelJS from "exceljs";
import { beforeAll, describe, expect, it } from "vitest";
import { numberAt } from "../../src/sheet/table.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { writeDocument } from "../../src/workbook/document-xlsx.ts";
import type { LongList } from "../../src/workbook/long-list.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import type { Book, Row, Rows } from "../../src/workbook/sheet-model.ts";
import { cellsIn, MOST_DOCUMENT_CELLS } from "../../src/workbook/sheet-model.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { writeXlsx } from "../../src/workbook/write-xlsx.ts";
import { usBasis } from "../plan/examples.ts";
import { compared, issuedOf } from "./returned-book.ts";
import { smallPng } from "./small-png.ts";
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
/** Eight pixels by four. */
const png = smallPng(8, 4);
const pictures = [
  {
    title: "One",
    picture: { png, width: 300, height: 150 },
    drawing: "<svg>1</svg>",
    words: 'One: "north" & up',
  },
  { title: "None", picture: null, drawing: "", words: "No picture." },
  { title: "Two", picture: { png, width: 200, height: 101 }, drawing: "<svg>2</svg>", words: "Two." },
];
const books: Readonly<Record<string, Book>> = {
  "bid book": buildBidBook(readBidView(contents), undefined, [], { pictures }),
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
    expect(streamed.worksheets.map(({ name }) => name)).toEqual(book.sheets.map(({ name }) => name));
    expect(document.worksheets.map(({ name }) => name)).toEqual(book.sheets.map(({ name }) => name));
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

  it("has the same pictures in the same places, each with its words, and the same page breaks", async () => {
    const other = zipMembers(await bytesOf(book, writeDocument));
    const wanted = book.sheets.flatMap(({ pictures: own = [] }) => own);
    const of = (name: string, from: ReadonlyMap<string, string>) =>
      [...from].filter(([member]) => member.includes(name)).sort(([a], [b]) => (a < b ? -1 : 1));
    expect(of("xl/media/", members).filter(([name]) => name.endsWith(".png"))).toHaveLength(wanted.length);
    for (const kind of ["xl/media/image", "xl/drawings/drawing", "xl/drawings/_rels/drawing"])
      expect(of(kind, members)).toEqual(of(kind, other));
    for (const [i, sheet] of book.sheets.entries()) {
      const images = streamed.worksheets[i]!.getImages();
      expect(images.map(placeOf)).toEqual(document.worksheets[i]!.getImages().map(placeOf));
      expect(images).toHaveLength((sheet.pictures ?? []).length);
      for (const [n, { imageId }] of images.entries())
        expect(Buffer.from(streamed.getImage(Number(imageId)).buffer!).equals(sheet.pictures![n]!.png)).toBe(
          true,
        );
    }
    const breaks = (from: ReadonlyMap<string, string>) =>
      of("xl/worksheets/sheet", from).map(([name, xml]) => [name, /<brk id="(\d+)"/.exec(xml)?.[1]]);
    expect(breaks(members)).toEqual(breaks(other));
    if (wanted.length > 0)
      expect(members.get("xl/drawings/drawing1.xml")).toContain('descr="One: &quot;north&quot; &amp; up"');
  });

  it("has the same names, the same properties and titles to print", async () => {
    const other = zipMembers(await bytesOf(book, writeDocument));
    // Properties without a value are left out by one writer, and empty by the other.
    const stated = (xml: string | undefined) => xml?.replace(/<([\w:]+)><\/\1>/g, "");
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
  "rowBreaks",
  "colBreaks",
  "drawing",
];

const placeOf = ({ range }: ReturnType<ExcelJS.Worksheet["getImages"]>[number]) => {
  // The types know no size of a picture that stands at one cell.
  const { tl, ext } = range as typeof range & { readonly ext: unknown };
  return [tl.nativeRow, tl.nativeCol, ext];
};

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
  /** Only a document shares its texts. */
  const isDocument = async (of: Book, most?: number): Promise<boolean> =>
    zipMembers(await bytesOf(of, (book, stream) => writeXlsx(book, stream, most))).has(
      "xl/sharedStrings.xml",
    );

  it("is written as a document up to a stated number of cells, and beyond it as a stream", async () => {
    expect(MOST_DOCUMENT_CELLS).toBe(50_000);
    expect(await isDocument(bookOf(manyRows(MOST_DOCUMENT_CELLS / COLUMNS)))).toBe(true);
    expect(await isDocument(bookOf(manyRows(MOST_DOCUMENT_CELLS / COLUMNS + 1)))).toBe(false);
  });

  it("of the city's own bid changes the writer with its last cell, and nothing that a bidder sees", async () => {
    const book = books["bid book"]!;
    const cells = cellsIn(book.sheets);
    expect([await isDocument(book, cells), await isDocument(book, cells - 1)]).toEqual([true, false]);
    const issued = await bytesOf(book, (of, stream) => writeXlsx(of, stream, cells));
    const streamed = await bytesOf(book, (of, stream) => writeXlsx(of, stream, cells - 1));
    expect(compared(issued, streamed)).toEqual({ problems: [], additions: [] });
    expect(issuedOf(streamed)).toMatchObject({
      content: issuedOf(issued).content,
      lines: issuedOf(issued).lines,
    });
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

describe("a bid of more cells than a document may have", () => {
  it("has the sheets and the pictures of a small one", async () => {
    const view = readBidView(contents);
    const small = buildBidBook(view, undefined, [], { pictures });
    // The lists many times over: planning as many laterals would take longer than writing them.
    const times = Math.ceil((2.5 * MOST_DOCUMENT_CELLS) / cellsIn(small.sheets));
    const many = {
      ...view,
      laterals: repeated(view.laterals, times),
      quantities: repeated(view.quantities, times),
    };
    const big = buildBidBook(many, undefined, [], { pictures });
    expect(cellsIn(small.sheets)).toBeLessThanOrEqual(MOST_DOCUMENT_CELLS);
    expect(cellsIn(big.sheets)).toBeGreaterThan(MOST_DOCUMENT_CELLS);
    const [below, above] = [zipMembers(await bytesOf(small)), zipMembers(await bytesOf(big))];
    expect([below.has("xl/sharedStrings.xml"), above.has("xl/sharedStrings.xml")]).toEqual([true, false]);
    const sheetsIn = (members: ReadonlyMap<string, string>) =>
      [...(members.get("xl/workbook.xml") ?? "").matchAll(/<sheet [^>]*?name="([^"]+)"/g)].map(
        ([, name]) => name,
      );
    expect(sheetsIn(above)).toEqual(sheetsIn(below));
    const pictured = (members: ReadonlyMap<string, string>) =>
      [...members].filter(([name]) => /\.png$|drawings\/drawing/.test(name)).sort();
    expect(pictured(above)).toEqual(pictured(below));
    expect(pictured(above)).toHaveLength(3);
  }, 30_000);
});

function repeated<Entry>(list: LongList<Entry>, times: number): LongList<Entry> {
  const [part] = list.parts;
  const length = list.length * times;
  const entries = {
    *[Symbol.iterator]() {
      for (let i = 0; i < times; i++) yield* list;
    },
  };
  return { ...entries, length, parts: [{ ...part!, ...entries, length }] };
}

import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { correctBid } from "../../src/bidding/corrected-bid.ts";
import { houseBidItems } from "../../src/reference/bid-items.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { readIssued } from "../../src/workbook/issued-bid.ts";
import { readPlainBook } from "../../src/workbook/plain-book.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { differences } from "../../src/workbook/returned-differences.ts";
import { readZip, unpack, writeZip, type ZipMember } from "../../src/workbook/zip-file.ts";
import { allRules } from "../bidding/examples.ts";
import { changedText, issuedOf, plainOf } from "./returned-book.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf } from "./written-book.ts";

const book = buildBidBook(readBidView(smallContents("us", [], 12)));
const SCHEDULE = "xl/worksheets/sheet3.xml";
/** A run that fails names its seed; with this one every run is the same. */
const FUZZ = { seed: 20_260_301, numRuns: 400 };
let good: Buffer;
beforeAll(async () => {
  good = await bytesOf(book);
});

/** The whole way of a returned book. Returns why it was refused; null when it was read. Nothing may throw. */
function takeIn(bytes: Buffer): string | null {
  const read = readPlainBook("a.xlsx", bytes);
  if (!read.ok) return read.problems.map(({ found }) => found).join("; ");
  const own = readIssued("a.xlsx", read.value, houseBidItems);
  if (!own.ok) return own.problems.map(({ found }) => found).join("; ");
  const issued = issuedOf(good);
  const found = differences("a.xlsx", plainOf(good), issued, read.value);
  if (found.problems.length > 0) return found.problems.map((problem) => problem.found).join("; ");
  correctBid(readBid("a.xlsx", read.value, issued, found.additions), issued.lines, allRules);
  return null;
}

/** The book with a member put in or replaced, whole and well packed. */
function withMember(name: string, content: Buffer | string): Buffer {
  const bytes = Buffer.from(content);
  const members = readZip(good);
  const one: ZipMember = { name, method: 0, packed: Buffer.alloc(0), size: 0, crc: 0, time: 0 };
  const all = members.some((member) => member.name === name) ? members : [...members, one];
  return writeZip(all, new Map([[name, bytes]]));
}

describe("a returned file that is", () => {
  it("the issued book is taken in", () => {
    expect(takeIn(good)).toBeNull();
  });

  it("empty, text, or cut off anywhere is refused", () => {
    expect(takeIn(Buffer.alloc(0))).toBe("an empty file");
    expect(takeIn(Buffer.from("Item,Price\n1,100\n"))).toContain("no zip file");
    for (let part = 1; part < 60; part++)
      expect(takeIn(good.subarray(0, Math.floor((good.length * part) / 60)))).not.toBeNull();
  });

  it("an older form, or protected by a password, is refused with what to do", () => {
    const old = Buffer.concat([
      Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]),
      Buffer.alloc(5000),
    ]);
    expect(takeIn(old)).toBe("a file in an older form, or protected by a password");
  });

  it("carrying macros, links, embedded programs or connections is refused by name", () => {
    expect(takeIn(withMember("xl/vbaProject.bin", "x"))).toContain("macros");
    expect(takeIn(withMember("xl/externalLinks/externalLink1.xml", "<a/>"))).toContain(
      "links to other workbooks",
    );
    expect(takeIn(withMember("xl/embeddings/oleObject1.bin", "x"))).toContain("embedded programs");
    expect(takeIn(withMember("xl/connections.xml", "<a/>"))).toContain("connections");
    const types = unpack(readZip(good).find(({ name }) => name === "[Content_Types].xml")!).toString("utf8");
    expect(
      takeIn(
        withMember(
          "[Content_Types].xml",
          types.replace(
            "</Types>",
            '<Default Extension="x" ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>',
          ),
        ),
      ),
    ).toBe("a workbook with macros");
  });

  it("a bomb is refused before it is unpacked, or when it turns out to be one", () => {
    const zeros = Buffer.alloc(120 << 20);
    const bomb = withMember("xl/worksheets/sheet99.xml", zeros);
    // Kibibytes at the peak so far: the bomb of 120 MiB was made here, and taking it in may not add to that.
    const peak = process.resourceUsage().maxRSS;
    expect(takeIn(bomb)).toContain("times its size");
    expect(process.resourceUsage().maxRSS - peak).toBeLessThan(32 << 10);
    // One that says it is small: unpacking stops at what it says.
    const members = readZip(good);
    const lying = members.map((member) =>
      member.name === SCHEDULE ? { ...member, packed: deflateRawSync(zeros), size: 4000 } : member,
    );
    expect(takeIn(writeZip(lying, new Map()))).toContain("does not unpack to what the file says");
    // Many that are each small enough.
    const many = Array.from(
      { length: 200 },
      (_, i): ZipMember => ({ ...members[0]!, name: `a${i}`, size: 1 << 20 }),
    );
    expect(takeIn(writeZip([...members, ...many], new Map()))).toContain("bytes when unpacked");
    const flood = Array.from({ length: 3000 }, (_, i): ZipMember => ({ ...members[0]!, name: `a${i}` }));
    expect(takeIn(writeZip([...members, ...flood], new Map()))).toContain("files within the file");
  });

  it("a zip with names that lead out of it, two of one name, or members over one another is refused", () => {
    expect(takeIn(withMember("../evil.xml", "x"))).toContain("evil.xml");
    const members = readZip(good);
    expect(takeIn(writeZip([...members, members[0]!], new Map()))).toContain("same name");
    // The second entry of the directory points to the bytes of the first.
    const over = writeZip(members, new Map());
    const first = over.indexOf(Buffer.from("PK\u0001\u0002", "latin1"));
    const second = over.indexOf(Buffer.from("PK\u0001\u0002", "latin1"), first + 4);
    over.writeUInt32LE(0, second + 42);
    expect(takeIn(over)).toContain("under two names");
  });

  it("XML meant to run away with memory or time is refused or read at once", () => {
    const sheet = unpack(readZip(good).find(({ name }) => name === SCHEDULE)!).toString("utf8");
    const timed = (xml: string, name = SCHEDULE) => {
      const before = performance.now();
      const answer = takeIn(withMember(name, xml));
      expect(performance.now() - before).toBeLessThan(SECONDS * 1000);
      return answer;
    };
    expect(timed(`<!DOCTYPE a [<!ENTITY b "bb">]>${sheet}`)).toContain("document type");
    expect(timed(sheet.replace("<sheetData>", `${"<a>".repeat(100_000)}<sheetData>`))).toContain("deep");
    expect(timed(sheet.replace("<sheetData>", `<a ${"b".repeat(900_000)}/><sheetData>`))).toBeNull();
    expect(timed(sheet.replace('<row r="1"', `<row ${"b".repeat(900_000)} r="1"`))).toContain("attribute");
    // Expanded by readers that keep every cell of a range.
    expect(
      timed(
        sheet.replace(
          "</sheetData>",
          '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
        ),
      ),
    ).toBeNull();
    expect(
      timed(
        sheet.replace(
          "</sheetData>",
          '</sheetData><dataValidations><dataValidation sqref="A1:XFD1048576"/></dataValidations>',
        ),
      ),
    ).toBeNull();
    expect(
      timed(
        sheet.replace("</sheetData>", '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'),
      ),
    ).toBeNull();
    expect(
      timed(sheet.replace("</sheetData>", '<row r="9"><c r="ZZZ99999999"><v>1</v></c></row></sheetData>')),
    ).toContain("ZZZ");
    const formula = `A1+${"1+".repeat(4000)}1`;
    const followers = Array.from(
      { length: 200_000 },
      (_, i) => `<row r="${i + 100}"><c r="A${i + 100}"><f t="shared" si="0"/></c></row>`,
    );
    expect(
      timed(
        sheet.replace(
          "</sheetData>",
          `<row r="99"><c r="A99"><f t="shared" si="0">${formula}</f></c></row>${followers.join("")}</sheetData>`,
        ),
      ),
    ).toContain("formulas too long");
    const workbook = unpack(readZip(good).find(({ name }) => name === "xl/workbook.xml")!).toString("utf8");
    expect(timed(workbook.replace(/\$E\$6:\$E\$\d+/, "$E$6:$E$1048576"), "xl/workbook.xml")).toContain(
      "bid_prices",
    );
  }, 120_000);

  it("damaged in its bytes is read or refused with a reason, within memory and time", () => {
    const before = process.resourceUsage().maxRSS;
    const start = performance.now();
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: 0, max: 255 })), {
          minLength: 1,
          maxLength: 8,
        }),
        (changes) => {
          const bytes = Buffer.from(good);
          for (const [at, value] of changes)
            bytes[Math.min(bytes.length - 1, Math.floor(at * bytes.length))] = value;
          if (takeIn(bytes) !== null) refused++;
        },
      ),
      FUZZ,
    );
    expect(refused).toBeGreaterThan(100);
    expect(performance.now() - start).toBeLessThan(FUZZ.numRuns * 200);
    // Kibibytes.
    expect(process.resourceUsage().maxRSS - before).toBeLessThan(1 << 20);
  }, 120_000);

  it("damaged in the text of its sheets, names or texts, but well packed, is read or refused with a reason", () => {
    const members = readZip(good);
    const names = [
      SCHEDULE,
      "xl/workbook.xml",
      "xl/sharedStrings.xml",
      "xl/worksheets/sheet2.xml",
      "xl/_rels/workbook.xml.rels",
    ];
    const texts = new Map(
      names.map((name) => [name, unpack(members.find((member) => member.name === name)!).toString("utf8")]),
    );
    const piece = fc.oneof(
      fc.constantFrom(
        "<",
        ">",
        "</c>",
        "<c>",
        '"',
        "&",
        "&#0;",
        "1E999",
        "-1",
        't="s"',
        "<f>",
        "]]>",
        "<!--",
        "\u0000",
      ),
      fc.string({ maxLength: 6 }),
    );
    let refused = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...names),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 40 }),
        piece,
        (name, at, cut, put) => {
          const text = texts.get(name)!;
          const from = Math.floor(at * text.length);
          const bytes = Buffer.from(text.slice(0, from) + put + text.slice(from + cut));
          if (takeIn(writeZip(members, new Map([[name, bytes]]))) !== null) refused++;
        },
      ),
      FUZZ,
    );
    expect(refused).toBeGreaterThan(100);
  }, 120_000);

  it("tampered with in a formula is refused with the cell", () => {
    const tampered = changedText(good, SCHEDULE, /SUMIFS\(/, "2*SUMIFS(");
    expect(takeIn(tampered)).toContain("2*SUMIFS");
  });
});

/** For a book that takes a tenth of a second: room for a busy machine. */
const SECONDS = 10;

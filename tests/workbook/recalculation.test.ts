import { beforeAll, describe, expect, it } from "vitest";
import { extend } from "../../src/quantity/money.ts";
import { cents } from "../../src/quantity/si.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import type { Book, Cell, SheetModel } from "../../src/workbook/sheet-model.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { lateralRow } from "../season/examples.ts";
import { disagreements, formulaCells, type Recalculated, recalculate, soffice } from "./recalculate.ts";
import { inManyParts, smallContents } from "./small-program.ts";
import { bytesOf, sheetOf } from "./written-book.ts";

/** Names that a spreadsheet would compute with, match loosely, or take for one another. */
const hostile = ["=1+1", "01", "1", "*", "mill creek", ">0", '="x"', "TRUE", "_x0041_", "a\tb\nc", "<&>"];

const contents = smallContents(
  "us",
  hostile.map((name, i) => lateralRow(`${name}${i}`, { district: name, location: name })),
);
const view = readBidView(contents);
const bidBook = buildBidBook(view);
const planningBook = buildPlanningBook(contents);
const metric = smallContents("si");

/** A price for each line at which its extension comes to exactly half a cent, where there is one. */
const typed = view.lines.map(({ hundredths }, i) => {
  for (let price = 101 + 37 * i; price < 5000; price++)
    if ((hundredths * price) % 100 === 50) return cents(price);
  return cents(123_456 + i);
});

/** The same book with some cells changed. */
const changed = (book: Book, change: (cell: Cell, sheet: SheetModel, row: number) => Cell): Book => ({
  ...book,
  sheets: book.sheets.map((sheet) => ({
    ...sheet,
    rows: [...sheet.rows].map((row, i) => row.map((cell) => change(cell, sheet, i))),
  })),
});

const priced = changed(bidBook, (cell, _sheet, row) =>
  cell !== null && typeof cell === "object" && cell.kind === "unit price" ? typed[row]! / 100 : cell,
);

/** A value that no formula of the books has. */
const WRONG = -999;
const planted = changed(planningBook, (cell) =>
  cell !== null && typeof cell === "object" && cell.kind === "formula" ? { ...cell, result: WRONG } : cell,
);

const required = process.env["WYEPLAN_REQUIRE_RECALCULATION"] === "1";
if (soffice === null && !required)
  console.warn("Recalculation is not tested: soffice (LibreOffice) is not installed on this machine.");

it.runIf(required)("has the spreadsheet program that WYEPLAN_REQUIRE_RECALCULATION=1 asks for", () => {
  expect(soffice).not.toBeNull();
});

describe.skipIf(soffice === null)("another spreadsheet program", () => {
  let done: Readonly<
    Record<
      | "bid"
      | "planning"
      | "metricBid"
      | "metricPlanning"
      | "priced"
      | "planted"
      | "streamedBid"
      | "streamedPlanning"
      | "bidInParts"
      | "planningInParts",
      Recalculated
    >
  >;
  beforeAll(async () => {
    done = await recalculate({
      bid: bidBook,
      planning: planningBook,
      metricBid: buildBidBook(readBidView(metric)),
      metricPlanning: buildPlanningBook(metric),
      priced,
      planted,
      streamedBid: await bytesOf(priced, writeStreaming),
      streamedPlanning: await bytesOf(planningBook, writeStreaming),
      bidInParts: buildBidBook(readBidView(inManyParts("us"))),
      planningInParts: buildPlanningBook(inManyParts("us")),
    });
  }, 300_000);

  it("works out every formula of the bid books to the engine's own value", () => {
    // A quantity and an extension a line, a sum a line and district: more formulas than lines.
    expect(formulaCells(done.bid).length).toBeGreaterThan(view.lines.length * view.districts.length);
    expect(disagreements(done.bid)).toEqual([]);
    expect(formulaCells(done.metricBid).length).toBeGreaterThan(50);
    expect(disagreements(done.metricBid)).toEqual([]);
  });

  it("works out every formula of the planning books to the engine's own value", () => {
    expect(formulaCells(done.planning).length).toBeGreaterThan(50);
    expect(disagreements(done.planning)).toEqual([]);
    expect(formulaCells(done.metricPlanning).length).toBeGreaterThan(50);
    expect(disagreements(done.metricPlanning)).toEqual([]);
  });

  it("works out a streamed book to the same values", () => {
    expect(formulaCells(done.streamedPlanning)).toEqual(formulaCells(done.planning));
    expect(formulaCells(done.streamedBid)).toEqual(formulaCells(done.priced));
  });

  it("works out sums over lists that take several sheets to the engine's own value", () => {
    for (const book of [done.bidInParts, done.planningInParts]) {
      expect(
        formulaCells(book).filter(({ formula }) => formula.includes("Lateral quantities 2")).length,
      ).toBeGreaterThan(5);
      expect(disagreements(book)).toEqual([]);
    }
  });

  it("would show a wrong value: planted ones are all seen and all put right", () => {
    const wrong = formulaCells(done.planted).filter(({ before }) => before === WRONG);
    expect(wrong.length).toBeGreaterThan(20);
    expect(wrong.filter(({ after }) => after === WRONG)).toEqual([]);
    expect(disagreements(done.planted).filter(({ before }) => before === WRONG)).toHaveLength(wrong.length);
  });

  it("extends typed unit prices as the engine does, half cents up, and adds them up", () => {
    const schedule = formulaCells(done.priced).filter(({ sheet }) => sheet === "Bid schedule");
    // The total in words is an IF as well.
    const extensions = schedule.filter(({ formula }) => /^IF\(\w+="","",ROUND\(/.test(formula));
    const expected = view.lines.map((line, i) => extend(line.hundredths, typed[i]!));
    const halves = view.lines.filter((line, i) => (line.hundredths * typed[i]!) % 100 === 50);
    expect(halves.length).toBeGreaterThan(2);
    expect(extensions.map(({ after }) => Math.round(Number(after) * 1e6) / 1e4)).toEqual(expected);
    const total = schedule.find(({ formula }) => formula.startsWith("SUM("));
    expect(Math.round(Number(total?.after) * 1e6) / 1e4).toBe(expected.reduce((sum, each) => sum + each, 0));
    expect(schedule.find(({ formula }) => formula.startsWith("ROWS("))?.after).toBe(0);
  });

  it("reads a city's text as the text it is", () => {
    const schedule = sheetOf(done.bid.after, "Lateral schedule");
    const read = new Map<string, string>();
    schedule.eachRow((row) => read.set(String(row.getCell(1).value), String(row.getCell(3).value)));
    for (const [i, name] of hostile.entries()) expect(read.get(`${name}${i}`)).toBe(name);
  });
});

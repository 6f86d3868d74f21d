import { describe, expect, it } from "vitest";
import { amount, type IssuedLine } from "../../../src/bidding/bid.ts";
import type { CorrectedBid } from "../../../src/bidding/corrected-bid.ts";
import { biddingRules } from "../../../src/program/bidding-settings.ts";
import type { Settings } from "../../../src/program/settings-schema.ts";
import { cents, fraction } from "../../../src/quantity/si.ts";
import { ALLOWANCE_UNIT } from "../../../src/workbook/allowances.ts";
import { writeDocument } from "../../../src/workbook/document-xlsx.ts";
import { scaleFor } from "../../../src/workbook/page-breaks.ts";
import { writeStreaming } from "../../../src/workbook/stream-xlsx.ts";
import type { Tabulation } from "../../../src/workbook/tabulation/tabulation.ts";
import { buildTabulation } from "../../../src/workbook/tabulation/tabulation-book.ts";
import { usBasis } from "../../plan/examples.ts";
import { bytesOf, zipMembers } from "../written-book.ts";

const line = (part: IssuedLine["part"]): IssuedLine => ({
  item: "14.00",
  description: "Grouting of running infiltration before lining",
  unit: "EA",
  hundredths: 100,
  part,
  role: "work",
  lumpSum: false,
  fixed: null,
});
const priced = { price: cents(100_00), extension: cents(100_00) };
const bid = {
  bid: {
    name: "Bidder",
    file: "bid.xlsx",
    lines: [1, 2].map(() => ({
      price: amount(priced.price),
      formula: null,
      words: null,
      extension: amount(priced.extension),
    })),
    totals: new Map(),
  },
  lines: [priced, priced],
  findings: [],
  asRead: new Map(),
  withoutAmount: new Map(),
  corrected: new Map(),
} as unknown as CorrectedBid;
const tabulation = {
  head: { currency: "USD" },
  issue: "Issue 1, content 0123456789ab.",
  lines: [line("base"), line(1)],
  bids: [bid],
  estimate: [cents(650_00), cents(650_00)],
  estimateSource: "invented",
  lumpSumsShared: [],
  scenarios: [],
  responsiveness: [[]],
  questions: [],
  band: { low: 0.6, high: 1.5, quantity: fraction(0.25), source: "invented" },
  rules: biddingRules({} as Settings),
  refused: [],
} as unknown as Tabulation;
const sheet = (name: string) => buildTabulation(tabulation).sheets.find((each) => each.name === name)!;

describe("the tabulation of bids", () => {
  it("tells a price of an alternate from that of the base bid where both are to be checked", () => {
    expect([...sheet("Prices to check").rows].map((row) => row[2])).toEqual([
      "Grouting of running infiltration before lining",
      "alternate 1: Grouting of running infiltration before lining",
    ]);
  });

  it("marks prices that are formulas, and says beside the ranks how much of a bid is to be settled", () => {
    const found = (formula: "same" | undefined) => ({
      ...{ line: 0, part: "base" as const, what: "", done: "", corrected: false, change: cents(0) },
      ...(formula === undefined ? {} : { formula }),
    });
    const standing = {
      asRead: null,
      corrected: null,
      rankAsRead: null,
      withoutAmount: 0,
      rankCorrected: null,
    };
    const book = (findings: CorrectedBid["findings"], answers: readonly ("yes" | "no" | "to be read")[]) =>
      buildTabulation({
        ...tabulation,
        bids: [{ ...bid, findings }],
        scenarios: [
          { scenario: { name: "base bid", parts: ["base"] }, estimate: null, standings: [standing] },
        ],
        responsiveness: [answers.map((answer) => ({ asks: "", answer, found: "" }))],
      }).sheets;
    const marks = (findings: CorrectedBid["findings"]) =>
      [...book(findings, [])[1]!.rows].map((row) => row.at(-1));
    expect(marks([found("same")])).toEqual(["formula", null]);
    expect(marks([found("same"), found(undefined)])).toEqual(["yes", null]);
    const told = (...answers: readonly ("yes" | "no" | "to be read")[]) =>
      [...book([], answers)[0]!.rows].map((row) => row.at(-1));
    expect(told("to be read", "yes", "no", "to be read")).toEqual(["1 no, 2 to be read"]);
    expect(told("yes")).toEqual(["nothing"]);
  });

  it.each(["letter", "A4"] as const)(
    "prints whole groups of columns on every page of %s, however many bidders there are",
    (paper) => {
      // Landscape, margins of half an inch. A character is 7 pixels of 96 an inch by the file format, and as LibreOffice prints it 5.56 points.
      const printable = { letter: 11 * 72 - 72, A4: (297 / 25.4) * 72 - 72 }[paper];
      for (let bidders = 1; bidders <= 9; bidders++) {
        const { columns, pageWidth, frozenColumns } = buildTabulation({
          ...tabulation,
          bids: Array.from({ length: bidders }, () => bid),
          responsiveness: Array.from({ length: bidders }, () => []),
        }).sheets.find(({ name }) => name === "Tabulation")!;
        const scale = scaleFor(pageWidth!, {}, { paper, dates: "ISO" }) / 100;
        // Small, and still to be read: some 7 points.
        expect(scale).toBeGreaterThanOrEqual(0.7);
        for (const character of [7 * 0.75, 5.56]) {
          const widths = columns.map(({ width }) => width * character * scale);
          const repeated = widths.slice(0, frozenColumns).reduce((sum, width) => sum + width, 0);
          const firstOfPages: number[] = [];
          let used = repeated;
          for (const [i, width] of widths.entries()) {
            if (i < frozenColumns) continue;
            if (used + width > printable) {
              firstOfPages.push(i);
              used = repeated;
            }
            used += width;
          }
          // Four columns of the line and its estimate, then five a bidder.
          for (const i of firstOfPages) expect((i - frozenColumns - 4) % 5, `${bidders} bidders`).toBe(0);
          expect(firstOfPages).toHaveLength(Math.ceil((bidders + 1) / 2) - 1);
        }
      }
    },
  );

  it.each([
    ["whole", writeDocument],
    ["as a stream", writeStreaming],
  ] as const)("is written with that scale, and not fitted to pages: %s", async (_, write) => {
    const book = buildTabulation({ ...tabulation, head: usBasis.program });
    const at = book.sheets.findIndex(({ name }) => name === "Tabulation");
    const xml = zipMembers(await bytesOf(book, write)).get(`xl/worksheets/sheet${at + 1}.xml`)!;
    expect(xml).toMatch(/<pageSetup [^>]*scale="70"/);
    expect(xml).not.toContain("fitToPage");
  });

  it("keeps an extension that no rule corrected as it was read, and works out only what is the product", () => {
    const typed = { price: cents(100_00), extension: cents(120_00) };
    const [, shown] = buildTabulation({ ...tabulation, bids: [{ ...bid, lines: [priced, typed] }] }).sheets;
    const extensions = [...shown!.rows].map((row) => row[9]);
    expect(extensions[0]).toMatchObject({ kind: "formula", result: 100 });
    expect(extensions[1]).toMatchObject({ kind: "number", value: 120 });
  });

  it("has room for the unit of an allowance", () => {
    const unit = sheet("Tabulation").columns.find(({ heading }) => heading === "Unit")!;
    expect(unit.width).toBeGreaterThan(ALLOWANCE_UNIT.length);
  });
});

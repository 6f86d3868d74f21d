import ExcelJS from "exceljs";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { amount } from "../../src/bidding/bid.ts";
import { correctBid } from "../../src/bidding/corrected-bid.ts";
import { workOut } from "../../src/bidding/plain-arithmetic.ts";
import { checkResponsiveness } from "../../src/bidding/responsiveness.ts";
import { cents } from "../../src/quantity/si.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { fillPrices } from "../../src/workbook/fill-prices.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { noRules } from "../bidding/examples.ts";
import { recalculate, soffice } from "./recalculate.ts";
import { changedText, compared, issuedOf, plainOf } from "./returned-book.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf } from "./written-book.ts";

const view = readBidView(smallContents("us"));
const SCHEDULE = "xl/worksheets/sheet3.xml";
/** Title, program line, two notes and headings come before the lines. */
const FIRST = 6;
let empty: Buffer;
let priced: Buffer;
beforeAll(async () => {
  empty = await bytesOf(buildBidBook(view));
  // 100.00 on every line.
  const done = fillPrices(
    "a.xlsx",
    plainOf(empty),
    issuedOf(empty),
    view.lines.map(() => cents(10_000)),
  );
  if (!done.ok) throw new Error(JSON.stringify(done.problems));
  priced = done.value;
});

/** The priced book with a formula in the price of a line, and what its file shows for it. */
const withFormula = (line: number, formula: string, shown: string | null, of = priced) =>
  changedText(
    of,
    SCHEDULE,
    new RegExp(`(<c r="E${FIRST + line}"[^>]*>)<v>[^<]*</v>`),
    `$1<f>${formula}</f>${shown === null ? "" : `<v>${shown}</v>`}`,
  );
const corrected = (of: Buffer) =>
  correctBid(readBid("a.xlsx", plainOf(of), issuedOf(empty), []), issuedOf(empty).lines, noRules);
const saidOf = (of: Buffer, line: number) =>
  corrected(of)
    .findings.filter((found) => found.line === line)
    .map(({ what, done }) => `${what}. ${done}`);

describe("a unit price that is a formula", () => {
  it("is said with its text and the value used, also where it gives what the file shows", () => {
    const book = withFormula(2, "80*1.25", "100");
    expect(compared(empty, book)).toEqual({ problems: [], additions: [] });
    expect(saidOf(book, 2)).toEqual([
      "The unit price is the formula =80*1.25, which gives the 100.00 that the file shows. 100.00 is used, as the file shows it.",
    ]);
    expect(corrected(book).lines[2]?.price).toBe(10_000);
  });

  it("that gives another amount than the file shows is told with both, and the owner settles it", () => {
    const more = ((20 * view.lines[2]!.hundredths) / 100).toFixed(2);
    expect(saidOf(withFormula(2, "80*1.5", "100"), 2)).toEqual([
      `The unit price is the formula =80*1.5, which gives 120.00; the file shows 100.00. 100.00 is used, as the file shows it: which of the two is bid is for the owner to settle. By the formula the total would be ${more} more.`,
    ]);
  });

  it("may count with other cells of the book: quantities as issued, extensions as its formulas give them", () => {
    // Mobilization, the first line, at 5 % of the second and third: 100.00 each on 1 and so many.
    const quantity = view.lines[2]!.hundredths / 100;
    const part = 0.05 * (100 + 100 * quantity);
    const book = withFormula(0, `5%*SUM(F${FIRST + 1}:F${FIRST + 2})`, String(part));
    expect(saidOf(book, 0).join()).toContain(`which gives the ${part.toFixed(2)} that the file shows`);
    const each = withFormula(2, `ROUND(5000/D${FIRST + 2},2)`, (5000 / quantity).toFixed(2));
    expect(saidOf(each, 2).join()).toContain(`gives the ${(5000 / quantity).toFixed(2)} that the file shows`);
  });

  it("is followed through formulas of other cells, whatever the file shows for those", () => {
    const chained = withFormula(4, `E${FIRST + 3}+1`, "101", withFormula(3, "2*60", "100"));
    expect(saidOf(chained, 4).join()).toContain("which gives 121.00; the file shows 101.00");
    const circle = withFormula(4, `E${FIRST + 3}+1`, "101", withFormula(3, `E${FIRST + 4}-1`, "100"));
    expect(saidOf(circle, 4).join()).toContain("leads back to itself");
    expect(saidOf(withFormula(4, "SUM(A1:XFD1048576)", "100"), 4).join()).toContain("cannot be followed");
    expect(saidOf(withFormula(4, "Costs!B2", "100"), 4).join()).toContain("the file has no sheet Costs");
  });

  it("that is more than arithmetic is used as shown, and said not to be checked", () => {
    expect(saidOf(withFormula(2, "VLOOKUP(4,A1:B9,2)", "100"), 2)).toEqual([
      "The unit price is the formula =VLOOKUP(4,A1:B9,2), which shows 100.00 and cannot be worked out here: it has VLOOKUP() in it. 100.00 is used, as the file shows it: ask for it as a number, as it may show another when the file is opened.",
    ]);
  });

  it("without a value in the file is no price, and what it would be is only told", () => {
    const book = withFormula(2, "80*1.25", null);
    expect(corrected(book).lines[2]).toEqual({ price: null, extension: null });
    expect(saidOf(book, 2)[0]).toBe(
      "The unit price is the formula =80*1.25, and the file holds no value of it; worked out here it would be 100.00. Taken as missing: ask for the price as a number.",
    );
  });

  it("with a third decimal or an error is told as what stands there", () => {
    expect(saidOf(withFormula(2, "100/3", "33.3333333333333"), 2)[0]).toContain(
      'The unit price is the formula =100/3 and reads "33.3333333333333", which is no amount: it has more than two decimals',
    );
  });

  it("is a question of the responsiveness, with how many are open", () => {
    const asked = (of: Buffer) =>
      checkResponsiveness(corrected(of), 0, noRules, issuedOf(empty).lines).find(
        ({ asks }) => asks === "Unit prices typed as numbers",
      );
    expect(asked(priced)).toBeUndefined();
    const two = withFormula(3, "80*1.5", "100", withFormula(2, "80*1.25", "100"));
    expect(asked(two)).toMatchObject({
      answer: "to be read",
      found: `2 of ${view.lines.length} are formulas, 1 worked out again to what the file shows, 1 with another amount than the file shows`,
    });
    expect(corrected(two).bid.lines[2]?.price).toEqual(amount(cents(10_000)));
  });
});

/** Formulas of the kind bidders write, over two cells. */
const terms = fc.letrec<{ whole: string; term: string }>((tie) => ({
  whole: fc
    .tuple(tie("term"), fc.constantFrom("+", "-", "*", "/", "^"), tie("term"))
    .map(([a, sign, b]) => (sign === "^" ? `${a}^2` : `${a}${sign}${b}`)),
  term: fc.oneof(
    { depthSize: "small" },
    fc.integer({ min: 1, max: 9_999 }).map((n) => String(n / 100)),
    fc.constantFrom("$A$1", "B1", "-A1", "SUM(A1:B1)", "15%", "+B1"),
    tie("whole").map((inner) => `(${inner})`),
    tie("whole").map((inner) => `-(${inner})`),
    tie("whole").map((inner) => `ROUND(${inner},2)`),
  ),
}));

describe.skipIf(soffice === null)("arithmetic beside a spreadsheet program's", () => {
  it("gives the same, formula by formula", async () => {
    const formulas = [
      ...fc.sample(terms.whole, { numRuns: 300, seed: 20260301 }),
      "-2^2",
      "2^3^2",
      "ROUND(1.005,2)",
    ];
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet("Sums");
    sheet.addRow([12.5, 3]);
    for (const [i, formula] of formulas.entries())
      sheet.getCell(`C${i + 1}`).value = { formula, date1904: false };
    const { sums } = await recalculate({ sums: Buffer.from(await book.xlsx.writeBuffer()) });
    const worked = sums.after.getWorksheet("Sums")!;
    const operands: Readonly<Record<string, readonly number[]>> = {
      A1: [12.5],
      $A$1: [12.5],
      B1: [3],
      "A1:B1": [12.5, 3],
    };
    let compared = 0;
    for (const [i, formula] of formulas.entries()) {
      const theirs = worked.getCell(`C${i + 1}`).result;
      const ours = workOut(formula, (reference) => operands[reference] ?? null);
      if (!ours.ok) {
        // Beyond the largest number, or over zero: an error there too.
        expect(typeof theirs, formula).not.toBe("number");
        continue;
      }
      compared++;
      // Both count in doubles, theirs with a correction of the last digits where a difference is nearly zero.
      expect(Math.abs(Number(theirs) - ours.value), `${formula}: ${theirs}`).toBeLessThanOrEqual(
        1e-9 * Math.max(1, Math.abs(ours.value)),
      );
    }
    expect(compared).toBeGreaterThan(250);
  }, 200_000);
});

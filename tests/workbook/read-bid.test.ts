import { beforeAll, describe, expect, it } from "vitest";
import { amount, centsOf } from "../../src/bidding/bid.ts";
import { cents } from "../../src/quantity/si.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { fillPrices } from "../../src/workbook/fill-prices.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { shiftFormula } from "../../src/workbook/shared-formula.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { recalculate, soffice } from "./recalculate.ts";
import { changedText, compared, issuedOf, plainOf } from "./returned-book.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf, zipMembers } from "./written-book.ts";

const view = readBidView(smallContents("us"));
const book = buildBidBook(view);
/** Odd cents, so that extensions have halves to round. */
const prices = view.lines.map((_, i) => cents(10_101 + 37 * i));
let empty: Buffer;
let priced: Buffer;

const filled = (of: Buffer, with_: readonly (ReturnType<typeof cents> | null)[] = prices): Buffer => {
  const done = fillPrices("a.xlsx", plainOf(of), issuedOf(of), with_);
  if (!done.ok) throw new Error(JSON.stringify(done.problems));
  return done.value;
};
beforeAll(async () => {
  empty = await bytesOf(book);
  priced = filled(empty);
});

const SCHEDULE = "xl/worksheets/sheet3.xml";
const FORM = "xl/worksheets/sheet2.xml";
/** The first line of the schedule: title, program line, two notes and headings come before it. */
const FIRST = 6;

describe("an issued book", () => {
  it("is read back line by line as it was made, by either writer", async () => {
    for (const of of [empty, await bytesOf(book, writeStreaming)]) {
      const issued = issuedOf(of);
      expect(
        issued.lines.map(({ item, description, unit, hundredths }) => [item, description, unit, hundredths]),
      ).toEqual(
        view.lines.map(({ number, description, unit, hundredths }) => [
          number.toFixed(2),
          description,
          unit,
          hundredths,
        ]),
      );
      expect(issued).toMatchObject({ number: 1, addenda: 0 });
      expect(compared(empty, of)).toEqual({ problems: [], additions: [] });
    }
  });

  it("has another mark when anything in it is another", () => {
    const other = buildBidBook({ ...view, lines: view.lines.map((line) => ({ ...line, unit: "X" })) });
    const markOf = (of: typeof book) => [...of.sheets[1]!.rows][1]?.[1];
    expect(markOf(other)).not.toBe(markOf(book));
    expect(markOf(buildBidBook(view))).toBe(markOf(book));
  });
});

describe("prices filled into the city's book", () => {
  it("change the cells of prices, extensions, totals and count, and not one other byte of any member", () => {
    const [before, after] = [zipMembers(empty), zipMembers(priced)];
    expect([...after.keys()]).toEqual([...before.keys()]);
    const differing = [...before].filter(([name, text]) => after.get(name) !== text).map(([name]) => name);
    expect(differing).toEqual([FORM, SCHEDULE]);
    const cellsOf = (text: string) =>
      new Map(
        [...text.matchAll(/<c r="([A-Z]+\d+)"[^>]*?(?:\/>|>.*?<\/c>)/gs)].map(([whole, address]) => [
          address!,
          whole,
        ]),
      );
    const changedIn = (member: string) => {
      const [a, b] = [cellsOf(before.get(member)!), cellsOf(after.get(member)!)];
      return [...a].filter(([address, text]) => b.get(address) !== text).map(([address]) => address);
    };
    const changed = changedIn(SCHEDULE);
    const last = FIRST + view.lines.length - 1;
    const rows = view.lines.map((_, i) => FIRST + i);
    expect(new Set(changed)).toEqual(
      new Set([
        ...rows.map((row) => `E${row}`),
        ...rows.map((row) => `F${row}`),
        `F${last + 1}`,
        `F${last + 2}`,
        // The total in words.
        `B${last + 3}`,
      ]),
    );
    // Six fields after three lines of the issue: then the total of the base bid, in figures and in words.
    expect(changedIn(FORM)).toEqual(["B14", "C14"]);
    // What is around the cells too, and each formula and style.
    const bare = (text: string) =>
      text
        .replace(/<v>[^<]*<\/v>/g, "")
        .replace(/ t="str"/g, "")
        .replace(/"><\/c>/g, '"/>');
    for (const member of differing) expect(bare(after.get(member)!)).toBe(bare(before.get(member)!));
  });

  it("are read back as they were, with nothing found to differ", () => {
    expect(compared(empty, priced)).toEqual({ problems: [], additions: [] });
    const bid = readBid("a.xlsx", plainOf(priced), issuedOf(empty), []);
    expect(bid.lines.map(({ price }) => price)).toEqual(prices.map(amount));
    expect(bid.form.signature).toBeNull();
  });

  it("may leave lines empty", () => {
    const some = prices.map((price, i) => (i === 1 ? null : price));
    const bid = readBid("a.xlsx", plainOf(filled(empty, some)), issuedOf(empty), []);
    expect(bid.lines.map(({ price }) => price.kind === "missing")).toEqual(
      some.map((price) => price === null),
    );
  });
});

describe("a returned book", () => {
  const problemsOf = (of: Buffer) => compared(empty, of).problems;

  it("with another wording, unit or quantity is refused with the cell, what it says and what was issued", () => {
    const shared = zipMembers(empty).get("xl/sharedStrings.xml")!;
    expect(shared).toContain("<t>EA</t>");
    const found = problemsOf(changedText(priced, "xl/sharedStrings.xml", "<t>EA</t>", "<t>LF</t>"));
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]).toMatchObject({ found: "LF", expected: "EA" });
    // The quantity of item 1, a lump sum, is a plain 1.
    const quantity = new RegExp(`(<c r="D${FIRST}"[^>]*><v>)1(</v>)`);
    expect(problemsOf(changedText(priced, SCHEDULE, quantity, "$12$2"))).toMatchObject([
      { file: `a.xlsx, Bid schedule, cell D${FIRST}`, found: "2", expected: "1" },
    ]);
  });

  it("with a quantity typed over its formula is refused", () => {
    const row = FIRST + 2;
    const typed = changedText(priced, SCHEDULE, new RegExp(`(<c r="D${row}"[^>]*>)<f>[^<]*</f>`), "$1");
    expect(problemsOf(typed)).toMatchObject([{ file: `a.xlsx, Bid schedule, cell D${row}` }]);
  });

  it("with an extension typed over its formula is read as typed", () => {
    const row = FIRST + 1;
    const typed = changedText(
      priced,
      SCHEDULE,
      new RegExp(`(<c r="F${row}"[^>]*>)<f>[^<]*</f><v>[^<]*</v>`),
      "$1<v>2.1</v>",
    );
    expect(problemsOf(typed)).toEqual([]);
    const bid = readBid("a.xlsx", plainOf(typed), issuedOf(empty), []);
    expect(bid.lines[1]?.extension).toEqual(amount(cents(210)));
    expect(bid.lines[1]?.price).toEqual(amount(prices[1]!));
  });

  it("that shows another figure than its formula gives is read by the formula, and says so", () => {
    const row = FIRST + 1;
    const stale = changedText(priced, SCHEDULE, new RegExp(`(<c r="F${row}"[^>]*>.*?<v>)[^<]*`), "$12.1");
    const bid = readBid("a.xlsx", plainOf(stale), issuedOf(empty), []);
    expect(bid.lines[1]?.extension).toEqual(amount(prices[1]!));
    expect(bid.additions).toEqual([`F${row} shows 2.1, which its formula does not give`]);
  });

  it("tells what was added to it: a bid may hang on it", () => {
    const added = changedText(
      priced,
      FORM,
      "</sheetData>",
      '<row r="40"><c r="A40" t="inlineStr"><is><t>Valid only if awarded by June</t></is></c></row></sheetData>',
    );
    expect(compared(empty, added)).toEqual({
      problems: [],
      additions: ["Bid form, cell A40: Valid only if awarded by June"],
    });
  });

  it("with a price of thousands in text has the amount that its extension was worked out with, and no other", () => {
    const row = FIRST + 1;
    const { hundredths } = issuedOf(empty).lines[1]!;
    const withText = (shown: number) => {
      const typed = changedText(
        priced,
        SCHEDULE,
        new RegExp(`<c r="E${row}"( s="\\d+")?><v>[^<]*</v>`),
        `<c r="E${row}"$1 t="str"><v>4,100</v>`,
      );
      const of = changedText(typed, SCHEDULE, new RegExp(`(<c r="F${row}"[^>]*>.*?<v>)[^<]*`), `$1${shown}`);
      return readBid("a.xlsx", plainOf(of), issuedOf(empty), []).lines[1]!;
    };
    const meant = withText((4100 * hundredths) / 100);
    expect(meant.price).toEqual(amount(cents(410_000)));
    expect(meant.extension).toEqual(amount(cents(4100 * hundredths)));
    // Where the comma is that of decimals, the same text is 4.10.
    expect(withText((4.1 * hundredths) / 100).price).toEqual({ kind: "unreadable", text: "4,100" });
  });

  it("with prices that are no amounts has them as they stand", () => {
    const price = (value: string) => {
      const of = changedText(
        priced,
        SCHEDULE,
        new RegExp(`(<c r="E${FIRST}"[^>]*>)<v>[^<]*</v>`),
        `$1${value}`,
      );
      return readBid("a.xlsx", plainOf(of), issuedOf(empty), []).lines[0]?.price;
    };
    expect(price("<v>12.345</v>")).toEqual({ kind: "unreadable", text: "12.345" });
    expect(price("<v>-1</v>")).toEqual({ kind: "unreadable", text: "-1" });
    expect(price("<v>1E+300</v>")).toEqual({ kind: "unreadable", text: "1e+300" });
    // As some programs write 4200.10.
    expect(price("<v>4200.1000000000004</v>")).toEqual(amount(cents(420_010)));
    expect(price("")).toEqual({ kind: "missing" });
  });
});

describe("a formula of the bidder's own", () => {
  const lastRow = () => FIRST + issuedOf(empty).lines.length - 1;
  /** Another formula in the cell, and what the file says it came to; unless said, what the issued one did. */
  const withFormula = (of: Buffer, at: string, formula: string, shows?: string) =>
    changedText(
      of,
      SCHEDULE,
      new RegExp(`(<c r="${at}"[^>]*>)<f>[^<]*</f>(?:<v>([^<]*)</v>)?`),
      `$1<f>${formula}</f><v>${shows ?? "$2"}</v>`,
    );
  const readOf = (of: Buffer) =>
    readBid("a.xlsx", plainOf(of), issuedOf(empty), compared(empty, of).additions);

  it("in an extension refuses the book where it shows another amount than quantity × price", () => {
    const row = FIRST + 2;
    const half = withFormula(priced, `F${row}`, `D${row}*E${row}*0.5`, "9");
    expect(compared(empty, half).problems).toMatchObject([
      {
        file: `a.xlsx, Bid schedule, cell F${row}`,
        found: `=D${row}*E${row}*0.5 that shows 9`,
        expected: expect.stringContaining(`ROUND(D${row}*E${row},2)`),
      },
    ]);
    // Less than half a cent off is off, and so is nothing at all.
    const own = (prices[2]! * issuedOf(empty).lines[2]!.hundredths) / 10_000;
    const exact = Math.round(own * 100) / 100;
    const showing = (shows: string) =>
      compared(empty, withFormula(priced, `F${row}`, `D${row}*E${row}`, shows)).problems.length;
    expect(showing(String(exact))).toBe(0);
    expect(showing(String(exact + 0.004))).toBe(1);
    expect(showing("")).toBe(1);
    expect(compared(empty, withFormula(priced, `F${row}`, `D${row}*E${row}`)).problems).toEqual([]);
  });

  it("in a total refuses the book where it shows another amount than the extensions as read come to", () => {
    const at = `F${lastRow() + 1}`;
    const less = withFormula(priced, at, `SUM(F${FIRST}:F${lastRow()})-99`, "1");
    expect(compared(empty, less).problems).toMatchObject([
      {
        file: `a.xlsx, Bid schedule, cell ${at}`,
        found: `=SUM(F${FIRST}:F${lastRow()})-99 that shows 1`,
      },
    ]);
    // The issued sum is over the extension that was typed: what the file showed before is no longer it.
    const row = FIRST + 1;
    const typed = changedText(
      withFormula(priced, at, `SUM(F${FIRST}:F${lastRow()})+0`),
      SCHEDULE,
      new RegExp(`(<c r="F${row}"[^>]*>)<f>[^<]*</f><v>[^<]*</v>`),
      "$1<v>2.1</v>",
    );
    expect(compared(empty, typed).problems).toMatchObject([{ file: `a.xlsx, Bid schedule, cell ${at}` }]);
  });

  it("that shows what the issued one gives is read by the issued one, and said", () => {
    const [row, at] = [FIRST + 2, `F${lastRow() + 1}`];
    const both = withFormula(
      withFormula(priced, `F${row}`, `D${row}*E${row}*IF(TODAY()&gt;0,1,0.5)`),
      at,
      `SUM(F${FIRST}:F${lastRow()})-0`,
    );
    expect(compared(empty, both)).toEqual({
      problems: [],
      additions: [
        `Bid schedule, cell F${row}: =D${row}*E${row}*IF(TODAY()>0,1,0.5), in place of its formula`,
        `Bid schedule, cell ${at}: =SUM(F${FIRST}:F${lastRow()})-0, in place of its formula`,
      ],
    });
    const issuedReads = readBid("a.xlsx", plainOf(priced), issuedOf(empty), []);
    expect(readOf(both)).toEqual({ ...issuedReads, additions: compared(empty, both).additions });
  });

  it("beside an empty price may show nothing, and then only", () => {
    const row = FIRST + 2;
    const unpriced = filled(
      empty,
      prices.map((price, i) => (i === 2 ? null : price)),
    );
    const formula = `IF(E${row}=0,"",E${row}*D${row})`;
    const own = withFormula(unpriced, `F${row}`, formula);
    expect(compared(empty, own)).toEqual({
      problems: [],
      additions: [`Bid schedule, cell F${row}: =${formula}, in place of its formula`],
    });
    expect(readOf(own).lines[2]?.extension.kind).toBe("missing");
    const showing = changedText(
      own,
      SCHEDULE,
      new RegExp(`<c r="F${row}".*?</c>`),
      `<c r="F${row}"><f>E${row}+5</f><v>5</v></c>`,
    );
    expect(compared(empty, showing).problems).toMatchObject([{ found: `=E${row}+5 that shows 5` }]);
  });

  it("is never taken at the amount it shows, even where nobody compared the books before", () => {
    const [row, at] = [FIRST + 2, `F${lastRow() + 1}`];
    const wrong = withFormula(withFormula(priced, `F${row}`, `E${row}*2`, "9"), at, "1+1", "2");
    const [bid, issuedReads] = [wrong, priced].map((of) =>
      readBid("a.xlsx", plainOf(of), issuedOf(empty), []),
    );
    expect(bid!.lines).toEqual(issuedReads!.lines);
    expect(bid!.totals).toEqual(issuedReads!.totals);
  });

  it("does not tell what a price in text means", () => {
    const row = FIRST + 1;
    const { hundredths } = issuedOf(empty).lines[1]!;
    const text = changedText(
      priced,
      SCHEDULE,
      new RegExp(`<c r="E${row}"( s="\\d+")?><v>[^<]*</v>`),
      `<c r="E${row}"$1 t="str"><v>4,100</v>`,
    );
    const own = withFormula(text, `F${row}`, `4100*D${row}`, String(41 * hundredths));
    expect(compared(empty, own).problems).toMatchObject([{ file: `a.xlsx, Bid schedule, cell F${row}` }]);
    expect(readBid("a.xlsx", plainOf(own), issuedOf(empty), []).lines[1]?.price.kind).toBe("unreadable");
  });

  it("is said before any number of notes, which are cut to ten", () => {
    const rows = [FIRST, FIRST + 2, lastRow()];
    const own = rows.reduce((of, row) => withFormula(of, `F${row}`, `D${row}*E${row}+0`), priced);
    const note = (i: number) =>
      `<c r="${String.fromCharCode(72 + i)}1" t="inlineStr"><is><t>note</t></is></c>`;
    const notes = Array.from({ length: 12 }, (_, i) => note(i)).join("");
    const flooded = changedText(own, SCHEDULE, /(<row r="1"[^>]*>.*?)<\/row>/s, `$1${notes}</row>`);
    const { problems, additions } = compared(empty, flooded);
    expect(problems).toEqual([]);
    expect(additions.slice(0, 3)).toEqual(
      rows.map((row) => `Bid schedule, cell F${row}: =D${row}*E${row}+0, in place of its formula`),
    );
    expect(additions.slice(3)).toEqual([
      ...Array.from({ length: 10 }, (_, i) => `Bid schedule, cell ${String.fromCharCode(72 + i)}1: note`),
      "2 more",
    ]);
  });
});

describe("a price that is none", () => {
  const row = FIRST + 2;
  const hundredths = () => issuedOf(empty).lines[2]!.hundredths;
  /** The book as a spreadsheet saves it: the price, what its extension shows, what the total shows. */
  const withPrice = (price: string, extension: string, total: string) => {
    const shows = (of: Buffer, at: string, value: string) =>
      changedText(of, SCHEDULE, new RegExp(`(<c r="${at}"[^>]*>.*?<v>)[^<]*`), `$1${value}`);
    const last = FIRST + issuedOf(empty).lines.length;
    const typed = changedText(
      priced,
      SCHEDULE,
      new RegExp(`<c r="E${row}"( s="\\d+")?><v>[^<]*</v>`),
      `<c r="E${row}"$1${price}`,
    );
    return readBid(
      "a.xlsx",
      plainOf(shows(shows(typed, `F${row}`, extension), `F${last}`, total)),
      issuedOf(empty),
      [],
    );
  };
  const others = () =>
    readBid("a.xlsx", plainOf(priced), issuedOf(empty), []).lines.reduce(
      (sum, { extension }, i) => (i === 2 ? sum : sum + (centsOf(extension) ?? Number.NaN)),
      0,
    );

  it("below nothing gives its extension, and the total is the one that the book works out with it", () => {
    const gives = -3 * hundredths();
    const total = others() + gives;
    const bid = withPrice("><v>-3</v>", String(gives / 100), String(total / 100));
    expect(bid.additions).toEqual([]);
    expect(bid.lines[2]?.price).toEqual({ kind: "unreadable", text: "-3" });
    expect(bid.lines[2]?.extension).toEqual({ kind: "unreadable", text: (gives / 100).toFixed(2), gives });
    expect(bid.totals.get("base")).toEqual(amount(cents(total)));
  });

  it("but text leaves no total that can be read", () => {
    const bid = withPrice(' t="inlineStr"><is><t>see letter</t></is>', "0", "0");
    expect(bid.lines[2]?.extension).toEqual({ kind: "unreadable", text: "#VALUE!" });
    expect(bid.totals.get("base")).toEqual({ kind: "unreadable", text: "#VALUE!" });
    expect(bid.additions).toEqual([
      `F${row} shows 0, which its formula does not give`,
      expect.stringMatching(/^F\d+ shows 0, which its formula does not give$/),
    ]);
  });
});

describe("a formula that cells share", () => {
  it("moves its addresses along, but not those with a $, nor text, nor names of sheets and functions", () => {
    expect(shiftFormula(`IF(E6="","",ROUND(D6*E6,2))`, "F6", "F9")).toBe(`IF(E9="","",ROUND(D9*E9,2))`);
    expect(shiftFormula(`SUM($A$1:B$2,'Sheet A1'!$C3)&"A1"`, "B2", "C4")).toBe(
      `SUM($A$1:C$2,'Sheet A1'!$C5)&"A1"`,
    );
    expect(shiftFormula("LOG10(A1)", "B1", "B2")).toBe("LOG10(A2)");
  });
});

describe.skipIf(soffice === null)("a book saved by another spreadsheet program", () => {
  it("is the issued one still, with every price and formula", async () => {
    const { saved, again } = await recalculate({ saved: priced, again: empty });
    expect(compared(empty, saved.bytes)).toEqual({ problems: [], additions: [] });
    expect(compared(empty, again.bytes)).toEqual({ problems: [], additions: [] });
    const bid = readBid("a.xlsx", plainOf(saved.bytes), issuedOf(empty), []);
    expect(bid).toEqual(readBid("a.xlsx", plainOf(priced), issuedOf(empty), []));
  }, 200_000);
});

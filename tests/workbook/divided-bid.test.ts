import { beforeAll, describe, expect, it } from "vitest";
import { amountInWords } from "../../src/bidding/amount-words.ts";
import { amount, type IssuedLine } from "../../src/bidding/bid.ts";
import { compareBids } from "../../src/bidding/compared-bids.ts";
import { correctBid } from "../../src/bidding/corrected-bid.ts";
import { NOTHING_ISSUED } from "../../src/bidding/issued-numbers.ts";
import { shareLumpSums } from "../../src/bidding/lump-sums.ts";
import { extend } from "../../src/quantity/money.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import type { Alternate } from "../../src/reference/bid-layout.ts";
import type { MobilizationCap } from "../../src/reference/bidding-rules.ts";
import { bidPartsOf } from "../../src/season/bid-parts.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { fillPrices } from "../../src/workbook/fill-prices.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { allRules } from "../bidding/examples.ts";
import { disagreements, formulaCells, recalculate, soffice } from "./recalculate.ts";
import { changedText, compared, issuedOf, plainOf } from "./returned-book.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf, modelOf, readBack, sheetOf, zipMembers } from "./written-book.ts";

const contents = smallContents("us");
const { program } = contents;
const alternates: readonly Alternate[] = [
  { name: "North Basin", takes: { kind: "districts", names: ["North Basin"] } },
  { name: "Connections", takes: { kind: "treatments", names: ["connection liner"] } },
];
const allowances = [
  { wording: "Repairs found during the work", amount: cents(2_500_050), payment: "As ordered in writing." },
  { wording: "Police details", amount: cents(400_000), payment: "At cost." },
];
const parted = bidPartsOf(program, program, alternates);
if (!parted.ok) throw new Error(JSON.stringify(parted.problems));
const divided = { alternates, allowances, parts: parted.parts, issued: NOTHING_ISSUED };
const view = readBidView(contents, divided);
const cap: MobilizationCap = {
  share: fraction(0.1),
  of: "other items",
  remedy: "reduce",
  clause: "At most 10 %.",
};
const rules = { ...allRules, mobilizationCap: cap };
const book = buildBidBook(view, undefined, [], { rules });
const SCHEDULE = "xl/worksheets/sheet3.xml";
const FORM = "xl/worksheets/sheet2.xml";

let empty: Buffer;
let lines: readonly IssuedLine[];
/** Odd cents; mobilization far above its cap. */
const priceAt = (line: IssuedLine, i: number) =>
  cents(line.role === "mobilization" ? 9_876_543_21 : 10_101 + 37 * i);
let priced: Buffer;
const filled = (of: Buffer): Buffer => {
  const done = fillPrices("a.xlsx", plainOf(of), issuedOf(of), lines.map(priceAt));
  if (!done.ok) throw new Error(JSON.stringify(done.problems));
  return done.value;
};
beforeAll(async () => {
  empty = await bytesOf(book);
  ({ lines } = issuedOf(empty));
  priced = filled(empty);
});
const bidIn = (of: Buffer) => readBid("a.xlsx", plainOf(of), issuedOf(empty), []);

describe("a bid with alternates and allowances", () => {
  it("has every lateral in one part, and the quantities of the parts add up to the plan's", () => {
    expect(modelOf(book, "Alternate 1").title).toBe("Alternate 1: North Basin");
    for (const [key, hundredths] of program.totals.program.bidLines) {
      const own = view.lines.filter((line) => line.key === key);
      expect(own.reduce((sum, line) => sum + line.hundredths, 0)).toBe(hundredths);
    }
    for (const { part, district, treatment } of view.laterals)
      expect(part).toBe(district === "North Basin" ? 1 : treatment === "connection liner" ? 2 : "base");
    // Mobilization is asked for once; traffic control for each part.
    const lumps = view.lines.filter(({ item }) => item.unit === "lump sum");
    expect(lumps.map(({ part, key }) => [part, key])).toEqual([
      ["base", "mobilization"],
      ["base", "traffic control"],
      [1, "traffic control"],
      [2, "traffic control"],
    ]);
  });

  it("is read back part by part, allowances at the owner's amount", () => {
    expect(lines.map(({ item, part, hundredths }) => [item, part, hundredths])).toEqual([
      ...view.lines
        .filter(({ part }) => part === "base")
        .map((line) => [line.number.toFixed(2), line.part, line.hundredths]),
      ["90.01", "base", 100],
      ["90.02", "base", 100],
      ...view.lines
        .filter(({ part }) => part !== "base")
        .map((line) => [line.number.toFixed(2), line.part, line.hundredths]),
    ]);
    expect(lines.filter(({ role }) => role === "allowance").map(({ fixed }) => fixed)).toEqual([
      2_500_050, 400_000,
    ]);
  });

  it("comes back priced with nothing to differ, each part with its own total", () => {
    expect(compared(empty, priced)).toEqual({ problems: [], additions: [] });
    const bid = bidIn(priced);
    for (const part of ["base", 1, 2] as const) {
      const sum = lines.reduce(
        (all, line, i) =>
          line.part === part ? all + extend(line.hundredths, line.fixed ?? priceAt(line, i)) : all,
        0,
      );
      expect(bid.totals.get(part)).toEqual(amount(cents(sum)));
    }
  });

  it("has each combination of alternates in the stated order, and in it no allowance under the cap", () => {
    const corrected = correctBid(bidIn(priced), lines, rules);
    const compared = compareBids([corrected], lines, rules, lines.map(priceAt));
    expect(compared.map(({ scenario }) => scenario.name)).toEqual([
      "base bid",
      "base bid + alternate 1",
      "base bid + alternate 1 + alternate 2",
    ]);
    // A tenth of the other items, allowances left out, rounded down to the cent.
    const others = lines.reduce(
      (sum, line, i) =>
        line.part === "base" && line.role === "work" ? sum + extend(line.hundredths, priceAt(line, i)) : sum,
      0,
    );
    const at = lines.findIndex(({ role }) => role === "mobilization");
    expect(corrected.lines[at]?.extension).toBe(Math.floor(others / 10));
  });

  it("with an allowance changed is refused: the amount is the owner's", () => {
    const row = 6 + lines.findIndex(({ role }) => role === "allowance");
    const cut = changedText(
      priced,
      SCHEDULE,
      new RegExp(`(<c r="E${row}"[^>]*>)<v>25000.5</v>`),
      "$1<v>1</v>",
    );
    expect(compared(empty, cut).problems).toMatchObject([
      { file: `a.xlsx, Bid schedule, cell E${row}`, found: "1", expected: "25000.5" },
    ]);
  });
});

describe("prices in words", () => {
  const wordsIn = (row: number, words: string) =>
    changedText(priced, SCHEDULE, new RegExp(`(<c r="F${row}"[^>]*><is><t>)[^<]*`), `$1${words}`);

  it("are asked for where the instructions say which governs, and filled in with the figures", () => {
    const bid = bidIn(priced);
    expect(bid.lines.map(({ words }) => words)).toEqual(
      lines.map((line, i) => (line.fixed === null ? amount(priceAt(line, i)) : null)),
    );
    const plain = buildBidBook(view, undefined, [], { rules: { ...rules, words: null } });
    expect(modelOf(plain, "Bid schedule").columns.map(({ heading }) => heading)).not.toContain(
      "Unit price in words",
    );
  });

  it("that say another amount than the figures are shown and govern by the rule", () => {
    const bid = bidIn(wordsIn(8, "Two hundred ten dollars and no cents"));
    const corrected = correctBid(bid, lines, rules);
    expect(corrected.lines[2]?.price).toBe(21_000);
    expect(corrected.findings.find(({ line }) => line === 2)).toMatchObject({
      what: "The unit price is 210.00 in words, 101.75 in figures",
      done: "Words govern over figures.",
      corrected: true,
    });
  });

  it("that no program should take for an amount are left to people, and the figures stand until then", () => {
    const corrected = correctBid(bidIn(wordsIn(8, "two hundred less ten")), lines, rules);
    expect(corrected.lines[2]?.price).toBe(priceAt(lines[2]!, 2));
    expect(corrected.findings.find(({ line }) => line === 2)).toMatchObject({
      done: "The figures are taken: read the words, and settle by hand which amount they say.",
      corrected: false,
    });
  });

  it("that are missing are flagged where the rule asks for them", () => {
    const corrected = correctBid(bidIn(wordsIn(8, "")), lines, rules);
    expect(corrected.findings.find(({ line }) => line === 2)?.what).toBe(
      "The unit price is not written in words",
    );
  });
});

describe("totals that bidders write in words themselves", () => {
  const asked = buildBidBook(view, undefined, [], {
    rules: { ...rules, totalInWords: { rule: "words", clause: "Words and figures." } },
  });
  /** After three lines of the issue and six fields. */
  const cells = ["B14", "B15", "B16"];
  let issued: Buffer;
  let returned: Buffer;
  beforeAll(async () => {
    issued = await bytesOf(asked);
    returned = filled(issued);
  });

  it("have a cell for each part on the bid form, open to write in, where the instructions ask for them", async () => {
    const form = sheetOf(await readBack(issued), "Bid form");
    expect(cells.map((at) => [form.getCell(at).protection?.locked, form.getCell(at).value])).toEqual(
      cells.map(() => [false, null]),
    );
    expect(form.getCell("A15").value).toBe("Total in words, alternate 1");
    // No such cell where nobody asks: B14 is a total of the book.
    expect(sheetOf(await readBack(empty), "Bid form").getCell("B14").protection?.locked).not.toBe(false);
    expect(issuedOf(empty).totalsWritten).toBeNull();
  });

  it("come back as written, priced by program or by hand, and differ from nothing that was issued", () => {
    expect(compared(issued, returned)).toEqual({ problems: [], additions: [] });
    const bid = readBid("a.xlsx", plainOf(returned), issuedOf(issued), []);
    expect(bid.totalWords).toEqual(bid.totals);
    const typed = changedText(returned, FORM, /(<c r="B14"[^>]*><is><t>)[^<]*/, "$1Nine dollars and 05/100");
    expect(compared(issued, typed)).toEqual({ problems: [], additions: [] });
    const other = readBid("a.xlsx", plainOf(typed), issuedOf(issued), []);
    expect(other.totalWords.get("base")).toEqual(amount(cents(905)));
    const corrected = correctBid(other, issuedOf(issued).lines, {
      ...rules,
      columnSum: null,
      totalInWords: { rule: null, clause: "" },
    });
    expect(corrected.findings.filter(({ line }) => line === null)).toMatchObject([
      { what: expect.stringContaining("is 9.05 in words"), corrected: false },
    ]);
  });
});

describe("the estimate of the planning book", () => {
  const estimate = modelOf(buildPlanningBook(contents, divided), "Estimate");
  const rows = [...estimate.rows];
  const foot = new Map(
    (estimate.foot ?? []).map((row) => [row[1], (row[5] as { readonly result: number }).result]),
  );

  it("has every line of every part, and the allowances at the owner's amounts", () => {
    expect(rows.map((row) => [row[0], row[6]])).toEqual(
      issuedOf(empty).lines.map(({ item, part }) => [
        Number(item),
        part === "base" ? "base bid" : `alternate ${part}`,
      ]),
    );
    expect(rows.filter((row) => row[2] === "allowance").map((row) => row[4])).toEqual([25_000.5, 4_000]);
    expect(foot.get("of it allowances set by the owner")).toBe(29_000.5);
  });

  it("comes to what returned bids are compared with, part by part", () => {
    const prices = lines.map((line, i) => {
      const own = [
        ...view.lines.filter(({ part }) => part === "base"),
        null,
        null,
        ...view.lines.filter(({ part }) => part !== "base"),
      ][i];
      return own === null || own === undefined
        ? line.fixed
        : (program.basis.prices[own.key] ?? program.basis.prices[own.item.key] ?? cents(0));
    });
    const compared = compareBids([], lines, rules, shareLumpSums(lines, prices)).map(
      ({ estimate: sum }) => sum! / 100,
    );
    const parts = ["base bid", "alternate 1, North Basin", "alternate 2, Connections"].map(
      (name) => foot.get(`Total of the ${name}`)!,
    );
    const sums = parts.map((_, i) =>
      parts.slice(0, i + 1).reduce((sum, part) => sum + Math.round(part * 100), 0),
    );
    expect(sums.map((sum) => sum / 100)).toEqual(compared);
    expect(foot.get("Total of all parts")).toBe(compared.at(-1));
  });

  it("counts a lump sum once over all parts: dividing a bid does not make its estimate dearer", () => {
    const controlled = smallContents("us", [], 40, (basis) => ({
      ...basis,
      prices: { ...basis.prices, "traffic control": cents(1_850_001) },
    }));
    const [whole, inParts] = [undefined, divided].map((layout) =>
      [...modelOf(buildPlanningBook(controlled, layout), "Estimate").rows]
        .filter((row) => row[1] === "Traffic control")
        .map((row) => Number(row[4])),
    );
    expect(whole).toEqual([18_500.01]);
    expect(inParts).toHaveLength(3);
    for (const price of inParts!) expect(price).toBeGreaterThan(0);
    expect(Math.round(inParts!.reduce((sum, price) => sum + price * 100, 0))).toBe(1_850_001);
  });

  it("differs from the costs of the laterals by its lump sums, allowances and roundings, and by nothing else", () => {
    const lumps = rows.reduce((all, row) => {
      const extension = (row[5] as { readonly result: number | "" }).result;
      return row[2] === "LS" || row[2] === "allowance" ? all + Number(extension) : all;
    }, 0);
    // Half a cent for each line of each lateral and of the schedule.
    const roundings = (0.5 * (program.lines.rows + lines.length)) / 100;
    const unpricedParts = rows.filter((row) => row[4] === null && row[2] !== "LS").length;
    expect(unpricedParts).toBe(0);
    const [total, ofLaterals] = [
      foot.get("Total of all parts")!,
      foot.get("Costs of the laterals, added up")!,
    ];
    expect(lumps).toBeGreaterThan(0);
    expect(Math.abs(total - ofLaterals - lumps)).toBeLessThanOrEqual(roundings);
    // Lump sums and allowances are taken off before the difference is shown.
    expect(foot.get("Difference")!).toBeCloseTo(total - ofLaterals - lumps, 2);
  });
});

describe.skipIf(soffice === null)("another spreadsheet program", () => {
  const of = (remedy: MobilizationCap["remedy"], limit: MobilizationCap["of"]) =>
    buildBidBook(view, undefined, [], {
      rules: { ...rules, mobilizationCap: { ...cap, remedy, of: limit } },
    });
  it("works out totals in words, the cap in both its forms and every award to the engine's values, priced or empty", async () => {
    const total = await bytesOf(of("payment limit", "total"));
    const planning = buildPlanningBook(contents, divided);
    const done = await recalculate({ empty, priced, total, totalPriced: filled(total), planning });
    for (const each of Object.values(done)) {
      expect(formulaCells(each).length).toBeGreaterThan(100);
      expect(disagreements(each)).toEqual([]);
    }
    const words = formulaCells(done.priced).flatMap(({ after }) =>
      typeof after === "string" && after.startsWith("Total in words: ") ? [after] : [],
    );
    const bid = bidIn(priced);
    expect(words).toEqual(
      (["base", 1, 2] as const).map((part) => {
        const sum = bid.totals.get(part);
        return `Total in words: ${amountInWords(sum?.kind === "amount" ? sum.cents : cents(0), "USD")}`;
      }),
    );
    // The form of the cap: 1/10 of the other items, or 1/9 of them for a tenth of the total.
    const schedule = (bytes: Buffer) => zipMembers(bytes).get(SCHEDULE)!;
    expect(schedule(empty)).toContain("*1/10)/100");
    expect(schedule(total)).toContain("*1/9)/100");
    expect(compared(empty, done.priced.bytes)).toEqual({ problems: [], additions: [] });
    expect(readBid("a.xlsx", plainOf(done.priced.bytes), issuedOf(empty), [])).toEqual(bid);
  }, 300_000);
});

describe("alternates that cannot be bid", () => {
  const problemsOf = (...wanted: readonly Alternate[]) => {
    const found = bidPartsOf(program, program, wanted);
    return found.ok ? [] : found.problems.map((each) => each.found);
  };

  it("are refused by name: no such district, lateral or filter", () => {
    expect(problemsOf({ name: "A", takes: { kind: "districts", names: ["Nort Basin"] } })).toEqual([
      "Nort Basin",
    ]);
    expect(problemsOf({ name: "A", takes: { kind: "laterals", names: ["99999"] } })).toEqual(["99999"]);
    expect(problemsOf({ name: "A", takes: { kind: "filter", names: ["worst"] } })).toEqual(["worst"]);
  });

  it("are refused where they, or the base bid, hold no paid work", () => {
    const all = {
      kind: "districts",
      names: program.totals.districts.map(({ district }) => district),
    } as const;
    expect(problemsOf({ name: "All", takes: all }, { name: "Rest", takes: all })).toEqual([
      "the base bid without a lateral that has paid work",
      'alternate "Rest" without a lateral that has paid work',
    ]);
  });
});

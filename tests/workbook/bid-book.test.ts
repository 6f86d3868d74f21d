import { beforeAll, describe, expect, it } from "vitest";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import {
  awardNames,
  formFields,
  issueNames,
  scheduleNames,
  TOTAL_IN_WORDS,
} from "../../src/workbook/bid-names.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import type { Cell } from "../../src/workbook/sheet-model.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { smallPng } from "./small-png.ts";
import { SECRETS, smallContents } from "./small-program.ts";
import { bytesOf, modelOf, readBack, sheetOf, zipMembers } from "./written-book.ts";

const contents = smallContents("us");
const { program } = contents;
const view = readBidView(contents);
const book = buildBidBook(view);
let members: ReadonlyMap<string, string>;
let planningMembers: ReadonlyMap<string, string>;
beforeAll(async () => {
  members = zipMembers(await bytesOf(book));
  planningMembers = zipMembers(await bytesOf(buildPlanningBook(contents)));
});

/** All that a bidder may see, heading by heading. Whoever changes the bid book changes this list on purpose. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  "How to read this": ["Topic", "In words"],
  "Bid form": ["Field", "Entry", "What to write"],
  "Bid schedule": ["Item", "Description", "Unit", "Quantity", "Unit price (USD)", "Extension (USD)"],
  "Working conditions": ["What", "From", "Through", "What applies", "As the owner states it"],
  "Measurement and payment": ["Item", "Wording", "Unit", "How it is measured and paid"],
  "Lateral schedule": [
    "Lateral",
    "District",
    "Location",
    "Host dia. (in)",
    "Length (ft)",
    "Material",
    "Cover at main (ft)",
    "Cover at house (ft)",
    "Surface",
    "Treatment",
    "Bid items",
    "Wall spec. (mm)",
    "Wall (mm)",
    "Wall in main (mm)",
    "Cross-bore",
    "Cleanout",
  ],
  "Lateral quantities": ["Lateral", "District", "District no.", "Item", "Bid line", "Unit", "Quantity"],
  "District quantities": [
    "Item",
    "Bid line",
    "Unit",
    "1: (no district)",
    "2: LS-14",
    "3: Mill Creek",
    "4: North Basin",
    "Program",
    "Bid schedule",
    "Difference",
  ],
  "Data gaps": ["What is not known", "Laterals", "What it means"],
  Basis: ["Group", "Value of", "Value", "Unit", "Assumed", "Source no.", "Source"],
  Sources: ["No.", "Source"],
  Cautions: ["Caution", "Source"],
  "Number words": ["Tens", "0", "1", "2", "3", "4", "5", "6", "7", "8", "9"],
};

/** Numbers of all cells of a book's sheets, as the file has them. */
function numbersIn(file: ReadonlyMap<string, string>): ReadonlySet<number> {
  const numbers = new Set<number>();
  for (const [name, text] of file) {
    if (!name.startsWith("xl/worksheets/sheet")) continue;
    for (const [, attributes, value] of text.matchAll(/<c ([^>]*)>(?:<f[^>]*>[^<]*<\/f>)?<v>([^<]*)<\/v>/g)) {
      if (!/t="/.test(attributes ?? "")) numbers.add(Number(value));
    }
  }
  return numbers;
}

describe("what a bidder may see", () => {
  it("is the sheets and headings of the list, no more and no fewer", () => {
    const found = book.sheets.map(({ name, columns }) => [name, columns.map(({ heading }) => heading)]);
    expect(Object.fromEntries(found)).toEqual(allowed);
  });

  it("holds no word of the estimate, the decisions, the problems or the city's other columns, in any member", () => {
    for (const secret of Object.values(SECRETS)) {
      for (const [name, text] of members) expect(text.includes(secret), `${secret} in ${name}`).toBe(false);
    }
  });

  it("is the same in a book too big for a document: no member beside, and nothing of the city's own in any", async () => {
    const pictures = [
      { title: "Map", picture: { png: smallPng(4, 4), width: 40, height: 40 }, drawing: "", words: "A map." },
    ];
    const streamed = zipMembers(
      await bytesOf(buildBidBook(view, undefined, [], { pictures }), writeStreaming),
    );
    const sheets = book.sheets.length + 1;
    expect([...streamed.keys()].sort()).toEqual(
      [
        "[Content_Types].xml",
        "_rels/.rels",
        "docProps/app.xml",
        "docProps/core.xml",
        "xl/_rels/workbook.xml.rels",
        "xl/drawings/_rels/drawing1.xml.rels",
        "xl/drawings/drawing1.xml",
        "xl/media/image1.png",
        "xl/styles.xml",
        "xl/workbook.xml",
        `xl/worksheets/_rels/sheet${1 + book.sheets.findIndex(({ name }) => name === "Data gaps")}.xml.rels`,
        ...Array.from({ length: sheets }, (_, i) => `xl/worksheets/sheet${i + 1}.xml`),
      ].sort(),
    );
    for (const secret of Object.values(SECRETS))
      for (const [name, text] of streamed) expect(text.includes(secret), `${secret} in ${name}`).toBe(false);
    expect(streamed.get("xl/workbook.xml")).not.toMatch(/state="(very)?hidden"|hidden="/i);
  });

  it("has that test looking: the planning book holds all of them but the city's other columns", () => {
    const all = [...planningMembers.values()].join("\n");
    expect(all).toContain(SECRETS.priceSource);
    expect(all).toContain(SECRETS.decisionReason);
    expect(all).toContain(SECRETS.problem);
    expect(all).not.toContain(SECRETS.otherColumn);
  });

  it("holds no unit price, no lateral's cost, no total and no risk", () => {
    const money = new Set<number>();
    for (const price of Object.values(program.basis.prices)) money.add(price / 100);
    for (let row = 0; row < program.laterals.rows; row++)
      money.add(numberAt(program.laterals, "cost", row) / 100);
    for (const totals of [...program.totals.districts, program.totals.program]) money.add(totals.cost / 100);
    // A lateral that is left has the cost 0, and zeros are everywhere.
    money.delete(0);
    const [inBids, inPlanning] = [numbersIn(members), numbersIn(planningMembers)];
    expect(money.size).toBeGreaterThan(30);
    expect([...money].filter((amount) => inBids.has(amount))).toEqual([]);
    expect([...money].filter((amount) => !inPlanning.has(amount) && !isUnused(amount))).toEqual([]);
    const words = [...members.values()].join("\n");
    for (const word of [
      "Likelihood",
      "Consequence",
      "Crew time",
      "Crew-days",
      "Mixed resin",
      "Estimate",
      "Rank",
    ])
      expect(words).not.toContain(word);
  });

  it("is in no hidden sheet, name or property", () => {
    const workbook = members.get("xl/workbook.xml") ?? "";
    expect(workbook).not.toMatch(/state="(very)?hidden"/i);
    const names = [...workbook.matchAll(/<definedName [^>]*?name="([^"]+)"/g)].map(([, name]) => name);
    // Each points to cells in view, by which a returned book is read.
    expect(new Set(names)).toEqual(
      new Set([
        "_xlnm.Print_Titles",
        ...scheduleNames,
        ...Object.values(issueNames),
        ...Object.values(formFields).map(({ name }) => name),
        TOTAL_IN_WORDS,
        ...Object.values(awardNames),
      ]),
    );
    expect(
      [...members.keys()].filter((name) => !/^(_rels|docProps|xl|\[Content_Types\])/.test(name)),
    ).toEqual([]);
    expect([...members.keys()].filter((name) => /custom|comment|external|connection/i.test(name))).toEqual(
      [],
    );
    const properties = `${members.get("docProps/core.xml")}${members.get("docProps/app.xml")}`;
    expect(properties).toContain("wyeplan");
  });

  it("does not follow the order of risk", () => {
    const ids = [...view.laterals].map(
      ({ district, id }) => `${district === "(no district)" ? "" : district}\u0000${id}`,
    );
    expect(ids).toEqual(ids.toSorted());
    const byRisk = [...program.order].map((row) => textAt(program.laterals, "lateral", row));
    expect([...view.laterals].map(({ id }) => id)).not.toEqual(
      byRisk.filter((id) => ids.some((key) => key.endsWith(`\u0000${id}`))),
    );
  });
});

/** Prices of the basis that no line of this program uses. */
const isUnused = (amount: number): boolean =>
  Object.entries(program.basis.prices).some(
    ([key, price]) => price / 100 === amount && !view.lines.some((line) => line.key.startsWith(key)),
  );

describe("the bid schedule", () => {
  it("has the lump sums and every line the plan uses, by item and size", () => {
    const lines = view.lines.map(({ number, key, unit }) => [number, key, unit]);
    expect(lines.slice(0, 4)).toEqual([
      [1, "mobilization", "LS"],
      [2, "traffic control", "LS"],
      [3, "camera inspection", "EA"],
      [4.01, "root cutting | 4 in", "LF"],
    ]);
    expect(lines).toContainEqual([6.01, "full-length liner | 4 in", "EA"]);
    expect(lines).toContainEqual([6.02, "full-length liner | 6 in", "EA"]);
    expect(lines).toContainEqual([11.05, "surface restoration | yard", "SF"]);
    expect(view.lines.length).toBe(2 + program.totals.program.bidLines.size);
  });

  it("uses the units of an SI program", () => {
    const metric = readBidView(smallContents("si"));
    expect(metric.lines.slice(0, 4).map(({ key, unit }) => [key, unit])).toEqual([
      ["mobilization", "lump sum"],
      ["traffic control", "lump sum"],
      ["camera inspection", "each"],
      ["root cutting | 100 mm", "m"],
    ]);
    expect(metric.lines.find(({ item }) => item.key === "surface restoration")?.unit).toBe("m²");
    expect(metric.lines.find(({ item }) => item.key === "full-length liner")?.description).toContain(
      "included length 9 m",
    );
  });

  it("takes each quantity by formula from the lateral quantities and holds no price", () => {
    const { rows, columns } = modelOf(book, "Bid schedule");
    const isFormula = (cell: Cell | undefined) =>
      cell !== null && typeof cell === "object" && cell.kind === "formula" ? cell.text : null;
    const quantity = columns.findIndex(({ heading }) => heading === "Quantity");
    for (const [i, row] of [...rows].entries()) {
      expect(row[quantity + 1]).toEqual({ kind: "unit price" });
      if (view.lines[i]?.item.unit !== "lump sum")
        expect(isFormula(row[quantity])).toContain("SUMIFS('Lateral quantities'!");
      expect(isFormula(row[quantity + 2])).toMatch(/^IF\(E\d+="","",ROUND\(D\d+\*E\d+,2\)\)$/);
    }
  });

  it("lets only unit prices and the bid form be filled in, prices only as zero or more with two decimals", async () => {
    const workbook = await readBack(await bytesOf(book));
    const open: string[] = [];
    for (const worksheet of workbook.worksheets) {
      worksheet.eachRow({ includeEmpty: false }, (row) =>
        row.eachCell({ includeEmpty: true }, (cell) => {
          if (cell.protection?.locked === false) open.push(`${worksheet.name}!${cell.address}`);
        }),
      );
    }
    // Title, program line, notes and the headings come before the lines; on the form three lines of the issue too.
    expect(open).toEqual([
      ...Object.keys(formFields).map((_, i) => `Bid form!B${8 + i}`),
      ...view.lines.map((_, i) => `Bid schedule!E${6 + i}`),
    ]);
    expect(sheetOf(workbook, "Bid schedule").getCell("E6").dataValidation).toMatchObject({
      type: "custom",
      formulae: ["AND(ISNUMBER(E6),E6>=0,ROUND(E6,2)=E6)"],
      errorStyle: "stop",
      showErrorMessage: true,
    });
    const sheets = [...members].filter(([name]) => name.startsWith("xl/worksheets/sheet"));
    expect(sheets.length).toBe(book.sheets.length);
    for (const [, text] of sheets) {
      expect(text).toContain('<sheetProtection sheet="1"');
      expect(text).not.toMatch(/hashValue|password/);
    }
  });
});

describe("quantities", () => {
  it("of the long list add up to the schedule and to the districts, in hundredths", () => {
    for (const line of view.lines.filter(({ item }) => item.unit !== "lump sum")) {
      const own = [...view.quantities].filter((quantity) => quantity.line === line);
      expect(own.reduce((sum, { hundredths }) => sum + hundredths, 0)).toBe(line.hundredths);
      const ofDistricts = view.districts.map(({ bidLines }) => bidLines.get(line.key) ?? 0);
      expect(ofDistricts.reduce((sum, each) => sum + each, 0)).toBe(line.hundredths);
    }
  });

  it("name the lines of a lateral in the lateral schedule", () => {
    for (const lateral of view.laterals) {
      const own = [...view.quantities].filter((quantity) => quantity.lateral === lateral.id);
      expect(own.map(({ line }) => line)).toEqual(lateral.lines);
      expect(own.length).toBeGreaterThan(0);
    }
  });

  it("of a lateral of unknown cross-bore and cleanout say so", () => {
    const { rows } = modelOf(book, "Lateral schedule");
    const unknown = [...rows].filter((row) => row[9] === "inspect first" && row[3] === null);
    expect(unknown.length).toBeGreaterThan(0);
    for (const row of unknown) expect(row.slice(-2)).toEqual(["not known", "not known"]);
  });
});

import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { issueBid } from "../../src/commands/issue.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { reportOf } from "../../src/commands/report.ts";
import { tableOf } from "../../src/commands/table.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { recorded, sampleCopy } from "../commands/sample-copy.ts";
import { readBack, sheetOf, zipMembers } from "./written-book.ts";

const print = { paper: "A4", dates: "month day year" } as const;
const styled = sampleCopy("quennock-falls", (settings) => {
  settings.print = print;
});
const plain = sampleCopy("quennock-falls");
const bytesIn = (folder: string, file: string) => readFileSync(join(folder, "outputs", file));

afterAll(() => {
  for (const folder of [styled, plain]) rmSync(folder, { recursive: true, force: true });
});
beforeAll(async () => {
  const { io } = recorded();
  await workbookOf(styled, {}, io);
  await reportOf(styled, {}, io);
}, 60_000);

describe("a program that names its paper and how it writes dates", () => {
  it.each(["bid-book.xlsx", "planning-book.xlsx"])("has both on every sheet of the %s", (file) => {
    const sheets = [...zipMembers(bytesIn(styled, file))].filter(([name]) => /sheet\d+\.xml$/.test(name));
    expect(sheets.length).toBeGreaterThan(10);
    for (const [name, xml] of sheets) {
      expect(xml, name).toMatch(/<pageSetup [^>]*paperSize="9"/);
      expect(xml, name).toMatch(/<oddFooter>[^<]*, as of March 1, 2026&amp;R/);
      // Nothing is left in the other style, but what a city's file was found to hold and how to write a date there.
      if (!xml.includes("Problems in the city")) expect(xml, name).not.toMatch(/\b20\d\d-\d\d-\d\d\b/);
    }
  });

  it("has real dates in cells, with months as words on every machine", async () => {
    const book = await readBack(bytesIn(styled, "planning-book.xlsx"));
    const calendar = sheetOf(book, "Calendar");
    const done: unknown[] = [];
    calendar.eachRow((row) => {
      const cell = row.getCell(6);
      if (cell.numFmt === "[$-409]mmm d, yyyy" && cell.value !== null) done.push(cell.value);
    });
    expect(done.length).toBeGreaterThan(3);
    for (const value of done) expect(value).toBeInstanceOf(Date);
    expect(texts(book, "Reasons")).toMatch(/survey of [A-Z][a-z]+ \d{1,2}, 20\d\d/);
    expect(texts(book, "Reasons")).not.toMatch(/survey of 20\d\d-/);
    let asOf: unknown = null;
    sheetOf(book, "Basis").eachRow((row) => {
      if (row.getCell(2).value === "As-of date") asOf = row.getCell(3).value;
    });
    expect(asOf).toEqual(new Date("2026-03-01T00:00:00Z"));
  });

  it("has both in the report, which then prints on that paper", () => {
    const page = bytesIn(styled, "report.html").toString("utf8");
    expect(page).toContain("@page { size: A4;");
    expect(page).toContain("as of March 1, 2026</p>");
    expect(page).not.toMatch(/as of 2026-/i);
  });

  it("plans and exports the same bytes as one that says nothing", async () => {
    for (const sheet of ["Reasons", "Calendar"]) {
      const [one, other] = [recorded(), recorded()];
      await tableOf(styled, sheet, {}, one.io);
      await tableOf(plain, sheet, {}, other.io);
      expect(one.said.out.length).toBeGreaterThan(200);
      expect(one.said.out).toBe(other.said.out);
    }
    const [one, other] = [recorded(), recorded()];
    await planFolder(styled, { json: true }, one.io);
    await planFolder(plain, { json: true }, other.io);
    expect(one.said.out).toBe(other.said.out);
  }, 60_000);

  it("is no other issue for it: what was issued stands", async () => {
    const { io, said } = recorded();
    await issueBid(plain, {}, io);
    const file = join(plain, "program.json");
    const settings = JSON.parse(readFileSync(file, "utf8"));
    writeFileSync(file, JSON.stringify({ ...settings, print }));
    said.out = "";
    await issueBid(plain, {}, io);
    expect(said.out).toContain("Nothing differs from issue 1");
  }, 60_000);
});

const texts = (book: Awaited<ReturnType<typeof readBack>>, sheet: string): string => {
  const all: string[] = [];
  sheetOf(book, sheet).eachRow((row) => row.eachCell((cell) => all.push(String(cell.value))));
  return all.join("\n");
};

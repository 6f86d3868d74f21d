import { describe, expect, it } from "vitest";
import { changesBetween, type IssuedContent } from "../../src/bidding/issue-changes.ts";
import { instructionsSheet } from "../../src/workbook/instructions-sheet.ts";
import { HUNDREDTHS, shownIn } from "../../src/workbook/number-format.ts";
import { noRules } from "./examples.ts";

const line = (key: string, item: string, hundredths: number, wording = key) => ({
  key,
  item,
  wording,
  unit: "EA",
  hundredths,
  sheet: "Bid schedule",
  amount: null,
});
const sheet = (headings: readonly string[], ...rows: readonly (readonly string[])[]) => ({
  name: "Lateral schedule",
  notes: ["Lateral schedule"],
  headings,
  keys: [0],
  rows,
});
const before: IssuedContent = {
  lines: [line("liner | 4 in", "6.01", 1_400), line("liner | 6 in", "6.02", 900)],
  sheets: [sheet(["Lateral", "Length"], ["00101", "37.5"], ["00102", "12"])],
};

describe("changes between two issues", () => {
  it("are none where nothing differs", () => {
    expect(changesBetween(before, structuredClone(before))).toEqual([]);
  });

  it("say of a line that went that it is deleted, with the number that no other line gets", () => {
    const found = changesBetween(before, { ...before, lines: before.lines.slice(0, 1) });
    expect(found).toMatchObject([
      {
        about: "6.02 liner | 6 in",
        what: "line deleted",
        from: "9.00 EA: liner | 6 in",
        to: "deleted: not to be priced here, and its number given to no other line",
      },
    ]);
  });

  it("of lines are told by the plan's name: a number that moved on in records of before is no other line", () => {
    const after = {
      ...before,
      lines: [
        line("liner | 4 in", "6.01", 1_300),
        line("liner | 5 in", "6.02", 100),
        line("liner | 6 in", "6.03", 900),
      ],
    };
    const found = changesBetween(before, after).map(({ line: key, what, from, to }) => [key, what, from, to]);
    expect(found).toEqual([
      ["liner | 4 in", "quantity", "14.00", "13.00"],
      ["liner | 5 in", "line added", "", "1.00 EA: liner | 5 in"],
      ["liner | 6 in", "item number", "6.02", "6.03"],
    ]);
  });

  it("of rows are told by what a row is about, and of cells by their heading", () => {
    const moved = sheet(["Lateral", "Surface", "Length"], ["00103", "yard", "9"], ["00101", "", "100"]);
    const found = changesBetween(before, { ...before, sheets: [moved] });
    expect(found.map(({ about, what, from, to }) => [about, what, from, to])).toEqual([
      ["columns", "column added", "", "Surface"],
      ["00103", "row added", "", "Surface: yard | Length: 9"],
      ["00101", "Length", "37.5", "100"],
      ["00102", "row removed", "Length: 12", ""],
    ]);
  });

  it("of a column that comes or goes tell what most rows hold with it, and by themselves only the rows that differ", () => {
    const rows = (part: boolean) =>
      sheet(
        ["Lateral", "Length", ...(part ? ["Part of the bid"] : [])],
        ...Array.from({ length: 9 }, (_, i) => [
          `0010${i}`,
          i === 8 && part ? "41" : "37.5",
          ...(part ? [i < 6 ? "base bid" : i < 8 ? "alternate 1" : ""] : []),
        ]),
      );
    const [whole, divided] = [false, true].map((part) => ({ ...before, sheets: [rows(part)] }));
    const said = (from: IssuedContent, to: IssuedContent) =>
      changesBetween(from, to).map((each) => [each.about, each.what, each.from, each.to]);
    const told = "Part of the bid: base bid, but where a row says otherwise";
    expect(said(whole!, divided!)).toEqual([
      ["columns", "column added", "", told],
      ["00106", "Part of the bid", "", "alternate 1"],
      ["00107", "Part of the bid", "", "alternate 1"],
      ["00108", "Length", "37.5", "41"],
    ]);
    expect(said(divided!, whole!)).toEqual([
      ["columns", "column removed", told, ""],
      ["00106", "Part of the bid", "alternate 1", ""],
      ["00107", "Part of the bid", "alternate 1", ""],
      ["00108", "Length", "41", "37.5"],
    ]);
  });

  it("of the part of a lateral are told once, not with each of its quantities", () => {
    const quantities = (part: string) => ({
      ...sheet(["Lateral", "Bid line", "Part"], ["00101", "liner", part], ["00101", "cleanout", part]),
      name: "Lateral quantities",
    });
    const of = (part: string) => ({
      ...before,
      sheets: [
        sheet(["Lateral", "Part of the bid"], ["00101", part === "0" ? "base bid" : "alternate 1"]),
        quantities(part),
      ],
    });
    expect(changesBetween(of("0"), of("1")).map((each) => [each.sheet, each.from, each.to])).toEqual([
      ["Lateral schedule", "base bid", "alternate 1"],
    ]);
  });

  it("have numbers as their sheet shows them, with the heading that names the unit", () => {
    const lengths = (...rows: readonly (readonly string[])[]) => ({
      ...before,
      sheets: [sheet(["Lateral", "Length (ft)"], ...rows)],
    });
    const show = (_sheet: string, heading: string, text: string) =>
      shownIn(heading === "Length (ft)" ? HUNDREDTHS : "", text);
    const was = lengths(["00101", "37.6666666667"], ["00102", "12.001"], ["00103", "1234.5"]);
    const is = lengths(["00101", "38"], ["00102", "12.002"], ["00104", "37.6666666667"]);
    expect(changesBetween(was, is, show).map(({ about, from, to }) => [about, from, to])).toEqual([
      ["00101", "37.67", "38.00"],
      // Rounded both are 12.00, and a change that shows none would say nothing.
      ["00102", "12.001", "12.002"],
      ["00104", "", "Length (ft): 37.67"],
      ["00103", "Length (ft): 1,234.50", ""],
    ]);
  });

  it("tell rows about the same thing apart, and sheets that come and go", () => {
    const twice = {
      ...before,
      sheets: [sheet(["Lateral", "Length"], ["00101", "37.5"], ["00101", "5"], ["00102", "12"])],
    };
    expect(changesBetween(before, twice).map(({ about, what }) => [about, what])).toEqual([
      ["00101, (2)", "row added"],
    ]);
    expect(changesBetween(before, { ...before, sheets: [] }).map(({ what }) => what)).toEqual([
      "sheet removed",
    ]);
  });
});

describe("the instructions to bidders", () => {
  it("say of every rule that is not stated that it is not", () => {
    const rows = [...instructionsSheet(noRules).rows];
    // Of alternates it says that there are none: then no rule about them is missing.
    expect(rows.filter(([, what]) => String(what).startsWith("Not stated.")).length).toBe(
      Object.keys(noRules).length - 1,
    );
    expect(rows.find(([what]) => what === "Alternates")?.[1]).toBe(
      "None: this book asks for a base bid only.",
    );
    const divided = { alternates: [{ number: 1, name: "North" }], allowances: [] };
    const [stated] = [...instructionsSheet(noRules, divided).rows].filter(
      ([what]) => what === "Alternates: 1 North",
    );
    expect(stated?.[1]).toMatch(/^Not stated\./);
  });

  it("give a stated rule in words, with its clause", () => {
    const clause = "The unit price shall govern.";
    const rows = [...instructionsSheet({ ...noRules, governs: { rule: "unit price", clause } }).rows];
    expect(rows[0]).toEqual([
      "Unit price and extension differ",
      "The unit price governs; the extension is worked out again from it.",
      clause,
    ]);
  });
});

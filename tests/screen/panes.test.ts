import { describe, expect, it } from "vitest";
import { line } from "../../src/plan/explained-line.ts";
import { bidLines } from "../../src/screen/bid-pane.ts";
import { districtLines } from "../../src/screen/districts-pane.ts";
import { helpLines } from "../../src/screen/help-pane.ts";
import { actionOf, bindings, keyLabel } from "../../src/screen/keymap.ts";
import { textOfLine, widthOfLine } from "../../src/screen/line.ts";
import { problemLines } from "../../src/screen/problems-pane.ts";
import { tableLines } from "../../src/screen/text-table.ts";
import { whyLines } from "../../src/screen/why-pane.ts";
import { usBasis } from "../plan/examples.ts";
import { inventedProgram } from "./invented-program.ts";

const texts = (lines: ReturnType<typeof whyLines>) => lines.map((one) => textOfLine(one).trimEnd());
const style = usBasis.program;

describe("whyLines", () => {
  const stages = [
    {
      stage: "Wall",
      lines: [
        line("host diameter", "4.0 in", "city"),
        line("cover over the crown at the main", "8.0 ft", "assumed", "Assumption: cover 8 ft."),
      ],
    },
    { stage: "Cautions", lines: [line("before cutting", "Call the gas utility first.\x1b[2J")] },
  ];

  it("shows each stage, value, origin and note, wrapped with hanging indents", () => {
    // 50 cells: labels take 21 (42 %), values begin at 2 + 21 + 1.
    expect(texts(whyLines(stages, 50))).toEqual([
      "Wall",
      "  host diameter         4.0 in [city]",
      "  cover over the crown  8.0 ft [assumed]",
      "  at the main",
      "    Assumption: cover 8 ft.",
      "",
      "Cautions",
      "  before cutting        Call the gas utility",
      "                        first.␛[2J",
    ]);
  });

  it("stays within any width", () => {
    for (let width = 20; width < 130; width++)
      for (const one of whyLines(stages, width)) expect(widthOfLine(one)).toBeLessThanOrEqual(width);
  });

  it("shows stages and notes by looks that are not needed to read them", () => {
    const lines = whyLines(stages, 60);
    expect(lines[0]![0]!.look).toBe("bold");
    expect(lines.flat().find(({ text }) => text.includes("Assumption:"))?.look).toBe("dim");
  });
});

describe("tableLines", () => {
  const columns = [
    { heading: "District", align: "left" as const },
    { heading: "Laterals", align: "right" as const },
    { heading: "Cost", align: "right" as const },
  ];
  const rows = [{ cells: ["Mill Creek", "12", "1,234,567.00"], look: "plain" as const }];

  it("stands in one block where there is room", () => {
    expect(texts(tableLines(columns, rows, 40))).toEqual([
      "District    Laterals          Cost",
      "Mill Creek        12  1,234,567.00",
    ]);
  });

  it("goes on below, never cutting a number, where there is not", () => {
    expect(texts(tableLines(columns, rows, 30))).toEqual([
      "District    Laterals",
      "Mill Creek        12",
      "",
      "District            Cost",
      "Mill Creek  1,234,567.00",
    ]);
  });
});

describe("districtLines", () => {
  const program = inventedProgram(60);
  const lines = (width: number) =>
    texts(
      districtLines(program.totals, style, { priceSource: "our own estimate", shiftMinutes: 480 }, width),
    );

  it("has a line for each district and one for all, that adds up to them", () => {
    const rows = lines(200)
      .slice(0, 6)
      .map((row) => row.split(/\s{2,}/));
    expect(rows.map(([name]) => name)).toEqual([
      "District",
      "Harbour",
      "Mill Creek",
      "Upper Town",
      "川端",
      "All districts",
    ]);
    const numbers = rows.slice(1).map((row) => row.slice(1).map((cell) => Number(cell.replaceAll(",", ""))));
    const sums = numbers[0]!.map((_, i) => numbers.slice(0, 4).reduce((sum, row) => sum + row[i]!, 0));
    // Resin is kept in millilitres and shown rounded, so its shown parts may differ from the shown sum.
    const resin = rows[0]!.slice(1).findIndex((heading) => heading.startsWith("Resin"));
    for (const [i, sum] of sums.entries())
      expect(Math.abs(numbers[4]![i]! - sum)).toBeLessThan(i === resin ? 0.03 : 0.005);
    expect(numbers[4]![0]).toBe(60);
  });

  it("says whose prices they are", () => {
    expect(lines(80).join("\n")).toContain("Cost at unit prices from: our own estimate.");
  });
});

describe("problemLines", () => {
  const { problems, tallies } = inventedProgram(60);

  it("accounts for every row, then words each problem with its severity", () => {
    expect(texts(problemLines(problems, tallies, () => null, 78).lines)).toEqual([
      "laterals.csv: 63 rows read = 60 kept + 2 duplicates + 1 rejected",
      "",
      '  rejected laterals.csv, row 418, column "DIAM": found "100", expected 2 to 12',
      '           in. If this is millimetres, write "100 mm".',
      '  noted    laterals.csv, row 12, column "STREET": found "Weir\\u001b[2J',
      '           Street", expected text without control characters. The characters',
      "           are shown as signs.",
    ]);
  });

  it("words a problem of many rows once, with a link to the first of them", () => {
    const [one] = problems;
    const many = [2, 5, 7, 9].map((row) => ({ ...one!, row }));
    const { lines, links } = problemLines(many, [], ({ row }) => row! - 2, 200);
    expect(texts(lines).filter((line) => line.includes("DIAM"))).toEqual([
      expect.stringContaining('laterals.csv, rows 2, 5, 7 and 1 more, column "DIAM": found "100"'),
    ]);
    expect(links).toMatchObject([{ to: { kind: "lateral", row: 0 } }]);
  });

  it("says so when there are none", () => {
    expect(texts(problemLines([], tallies, () => null, 78).lines)).toContain(
      "No problems found in the program's files.",
    );
  });
});

describe("the table of keys", () => {
  it("gives no key two meanings", () => {
    const keys = bindings.flatMap((binding) => binding.keys);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("is what the help is printed from: every key and its words are there", () => {
    // Wide enough that no words are wrapped.
    const help = texts(helpLines(160)).join("\n");
    for (const { keys, words } of bindings) {
      for (const key of keys) expect(help).toContain(keyLabel(key));
      expect(help).toContain(words);
    }
  });

  it("takes a capital letter for its small one, and nothing for an unknown key", () => {
    expect(actionOf({ key: "W", text: "W" }, false)).toEqual({ kind: "show pane", pane: "why" });
    expect(actionOf({ key: "unknown", text: null }, false)).toBeNull();
    expect(actionOf({ key: "paste", text: "q" }, false)).toEqual({ kind: "paste", text: "q" });
  });

  it("takes letters for text while something is typed, and a digit for the beginning of a value otherwise", () => {
    expect(actionOf({ key: "w", text: "w" }, true)).toEqual({ kind: "type", text: "w" });
    expect(actionOf({ key: "paste", text: "a b" }, true)).toEqual({ kind: "type", text: "a b" });
    expect(actionOf({ key: "escape", text: null }, true)).toEqual({ kind: "give up" });
    expect(actionOf({ key: "ctrl+c", text: null }, true)).toEqual({ kind: "leave" });
    expect(actionOf({ key: "7", text: "7" }, false)).toEqual({ kind: "begin value", text: "7" });
  });

  it("writes keys as keyboards do", () => {
    expect(["ctrl+home", "page down", "escape", "w", "f1", "?"].map(keyLabel)).toEqual([
      "Ctrl+Home",
      "Page Down",
      "Esc",
      "w",
      "F1",
      "?",
    ]);
  });
});

it("the bid schedule names the size of a line first, which a narrow window does not cut", () => {
  const line = (number: string, size: string) => ({
    number,
    label: `full-length and connection liner, ${size}`,
    description: "",
    unit: "m",
    quantity: "120.00",
    price: "310.00",
    extension: "37,200.00",
  });
  const seen = {
    lines: [line("3.1", "150 mm"), line("3.2", "200 mm")],
    total: "",
    unpriced: 0,
    priceSource: "",
  };
  for (const width of [50, 78])
    expect(texts(bidLines(seen, width)).join("\n")).toMatch(/3\.1 150 mm, .*\n3\.2 200 mm, /);
});

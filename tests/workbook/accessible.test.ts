import { describe, expect, it } from "vitest";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { writeStreaming } from "../../src/workbook/stream-xlsx.ts";
import { smallPng } from "./small-png.ts";
import { smallContents } from "./small-program.ts";
import { bytesOf, modelOf, zipMembers } from "./written-book.ts";

const contents = smallContents("us");
const pictures = [
  {
    title: "Map",
    picture: { png: smallPng(8, 4), width: 80, height: 40 },
    drawing: "<svg/>",
    words: "Map: four laterals.",
  },
];
const bid = buildBidBook(readBidView(contents), undefined, [], { pictures });

/** Relative luminance of a colour `FF1F4E5F`: WCAG 2.1, definition of "relative luminance". */
function luminance(argb: string): number {
  const [r = 0, g = 0, b = 0] = [2, 4, 6].map((at) => {
    const part = Number.parseInt(argb.slice(at, at + 2), 16) / 255;
    return part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
const contrast = (a: string, b: string): number => {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
};

describe("a book for everybody's eyes", () => {
  it.each([
    ["bid book", bid],
    ["planning book", buildPlanningBook(contents)],
  ] as const)("has text of enough contrast in every style of the %s", async (_, book) => {
    expect(contrast("FF000000", "FFFFFFFF")).toBeCloseTo(21, 9);
    const styles = zipMembers(await bytesOf(book, writeStreaming)).get("xl/styles.xml")!;
    const list = (element: string, each: RegExp) =>
      [...(new RegExp(`<${element} .*?</${element}>`, "s").exec(styles)?.[0] ?? "").matchAll(each)].map(
        ([xml]) => xml,
      );
    const [fonts, fills] = [list("fonts", /<font>.*?<\/font>/g), list("fills", /<fill>.*?<\/fill>/g)];
    const looks = list("cellXfs", /<xf [^>]*>/g);
    expect(looks.length).toBeGreaterThan(8);
    const colour = (xml: string | undefined, otherwise: string) =>
      /rgb="([0-9A-F]{8})"/.exec(xml ?? "")?.[1] ?? otherwise;
    for (const look of looks) {
      const number = (name: string) => Number(new RegExp(`${name}="(\\d+)"`).exec(look)?.[1]);
      const ratio = contrast(
        colour(fonts[number("fontId")], "FF000000"),
        colour(fills[number("fillId")], "FFFFFFFF"),
      );
      // WCAG 2.1, 1.4.3, level AA.
      expect(ratio, look).toBeGreaterThanOrEqual(4.5);
    }
  });

  it("leads from its first sheet to every other, by name", () => {
    const links = [...modelOf(bid, "How to read this").rows].flatMap(([cell]) =>
      cell !== null && typeof cell === "object" && cell.kind === "formula" ? [cell] : [],
    );
    expect(links.map(({ result }) => result)).toEqual(bid.sheets.slice(1).map(({ name }) => name));
    for (const { text, result } of links) expect(text).toBe(`HYPERLINK("#'${result}'!A1","${result}")`);
    // And says of each what it is for.
    for (const [name, what] of [...modelOf(bid, "How to read this").rows].slice(-links.length))
      expect([name, String(what).length > 10]).toEqual([name, true]);
  });

  it("says in words what each picture shows, on the sheet and to those who have the picture read out", async () => {
    const members = zipMembers(await bytesOf(bid));
    expect(members.get("xl/drawings/drawing1.xml")).toContain('descr="Map: four laterals."');
    expect([...modelOf(bid, "Pictures").rows].map((row) => row[1])).toEqual(["Map: four laterals."]);
  });
});

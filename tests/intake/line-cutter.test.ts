import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CUT_LINES } from "../../src/intake/cut-lines-binary.ts";
import { cutterByByte, type LineCutter, lineCutter } from "../../src/intake/line-cutter.ts";

const COMMA = ",".charCodeAt(0);

/** The cells by the bounds, as the reading asks for them. */
function cellsOf(cut: LineCutter, text: string, delimiter = COMMA): string[][] {
  const bytes = Buffer.from(text);
  const { rows, bounds, firsts, lasts } = cut(bytes, delimiter);
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: lasts[row]! - firsts[row]! }, (_, i) =>
      bytes.toString("utf8", bounds[firsts[row]! + i]! + 1, bounds[firsts[row]! + i + 1]),
    ),
  );
}

/** The same by words of the language alone. */
const splitOf = (text: string): string[][] =>
  text
    .replace(/\r\n?/g, "\n")
    .split("\n")
    .slice(0, -1)
    .map((line) => line.split(","));

/** Pieces of lines, marks thick among them: what is between two may be nothing, or more than the sixty-four bytes looked at together. */
const pieces = fc.oneof(
  fc.constantFrom(",", "\n", "\r", "\r\n", ",,", "\r\r\n\n"),
  fc.string({ maxLength: 3, unit: "binary" }).map((text) => text.replaceAll(/[,\r\n]/g, "_")),
  fc.integer({ min: 1, max: 200 }).map((length) => "x".repeat(length)),
);
const lines = fc.tuple(fc.array(pieces, { maxLength: 60 }), fc.constantFrom("\n", "\r", "\r\n"));

describe.each([
  ["by sixteen bytes", lineCutter],
  ["byte by byte", cutterByByte],
])("lines cut %s", (_, cutter) => {
  it("are the cells between their marks, whatever the line ends are and wherever the marks fall", () => {
    const cut = cutter();
    fc.assert(
      fc.property(lines, ([before, end]) => {
        // LF after the last piece's CR would be one end of a line, not two.
        const text = before.join("") + end;
        expect(cellsOf(cut, text)).toEqual(splitOf(text));
      }),
      { numRuns: 400 },
    );
  });

  it("may be longer than any before, or shorter: nothing is left of those before", () => {
    const cut = cutter();
    for (const count of [1, 30_000, 3, 100_000, 0]) {
      const text = "12,x\r\n".repeat(count);
      expect(cellsOf(cut, text)).toEqual(Array.from({ length: count }, () => ["12", "x"]));
    }
  });

  it("may be nothing but marks", () => {
    expect(cellsOf(cutter(), ",".repeat(200_000).concat("\n"))).toEqual([new Array(200_001).fill("")]);
    expect(cellsOf(cutter(), "\n".repeat(200_000))).toEqual(Array.from({ length: 200_000 }, () => [""]));
  });

  it("know the file's delimiter from others", () => {
    expect(cellsOf(cutter(), "a;b,c\td|e\n", ";".charCodeAt(0))).toEqual([["a", "b,c\td|e"]]);
    expect(cellsOf(cutter(), "a;b,c\td|e\n", "\t".charCodeAt(0))).toEqual([["a;b,c", "d|e"]]);
  });
});

it("are cut by sixteen bytes where the machine can, and not by the same code twice", () => {
  // Two bounds end a line that is cut byte by byte, one where bytes are looked at together.
  const secondRow = (cut: LineCutter) => cut(Buffer.from("a\nb\n"), COMMA).firsts[1];
  expect(secondRow(lineCutter())).toBe(WebAssembly.validate(Buffer.from(CUT_LINES, "base64")) ? 1 : 2);
  expect(secondRow(cutterByByte())).toBe(2);
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
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

/** An engine in which only the first so many memories find room. */
const engineWithRoom = (memories: number) => {
  let left = memories;
  return {
    Module: WebAssembly.Module,
    Instance: WebAssembly.Instance,
    Memory: class extends WebAssembly.Memory {
      constructor(size: { readonly initial: number }) {
        if (left-- <= 0) throw new RangeError("WebAssembly.Memory(): could not allocate memory");
        super(size);
      }
    },
  };
};

describe.each([
  ["by sixteen bytes", () => lineCutter()],
  ["byte by byte", cutterByByte],
  ["by an engine without WebAssembly", () => lineCutter(null)],
  ["where no memory finds room", () => lineCutter(engineWithRoom(0))],
  ["where only the first memory finds room", () => lineCutter(engineWithRoom(1))],
])("lines cut %s", (_, cutter) => {
  it("are the cells between their marks, whatever the line ends are and wherever the marks fall", () => {
    const cut = cutter();
    fc.assert(
      fc.property(lines, ([before, end]) => {
        const text = before.join("") + end;
        expect(cellsOf(cut, text)).toEqual(splitOf(text));
      }),
      { numRuns: 400 },
    );
  });

  it("may be longer than any before, or shorter: nothing is left of those before", () => {
    const cut = cutter();
    for (const count of [1, 30_000, 3, 100_000, 0, 40_000]) {
      const text = "12,x\r\n".repeat(count);
      expect(cellsOf(cut, text)).toEqual(Array.from({ length: count }, () => ["12", "x"]));
    }
  });

  it("may be nothing but marks, in a room that is just filled or just too small, the first and the next", () => {
    const cut = cutter();
    // The first room is for 131,072 bytes; the next for twice what did not go in.
    for (const length of [131_071, 131_072, 131_073, 262_146, 262_147, 200_000])
      for (const mark of ["\n", "\r", ",", "\r\n"]) {
        const marks = mark.repeat(length / mark.length);
        const { rows, bounds, firsts, lasts } = cut(
          Buffer.from(mark === "," ? `${marks.slice(1)}\n` : marks),
          COMMA,
        );
        expect(rows).toBe(mark === "," ? 1 : marks.length / mark.length);
        expect(lasts[rows - 1]! - firsts[rows - 1]!).toBe(mark === "," ? length : 1);
        expect(bounds[lasts[rows - 1]!]).toBe(marks.length - mark.length);
        expect([firsts[0], bounds[0], bounds[1]]).toEqual([0, -1, 0]);
        expect(bounds[firsts[rows - 1]!]).toBe(mark === "," ? -1 : marks.length - mark.length - 1);
      }
  });

  it("know the file's delimiter from others", () => {
    expect(cellsOf(cutter(), "a;b,c\td|e\n", ";".charCodeAt(0))).toEqual([["a", "b,c\td|e"]]);
    expect(cellsOf(cutter(), "a;b,c\td|e\n", "\t".charCodeAt(0))).toEqual([["a;b,c", "d|e"]]);
  });
});

it("are cut by sixteen bytes on this machine, and not byte by byte all the same", () => {
  // Two bounds end a line that is cut byte by byte, one where bytes are looked at together.
  const secondRow = (cut: LineCutter) => cut(Buffer.from("a\nb\n"), COMMA).firsts[1];
  expect(secondRow(lineCutter())).toBe(1);
  for (const none of [null, engineWithRoom(0)]) expect(secondRow(lineCutter(none))).toBe(2);
  expect(secondRow(cutterByByte())).toBe(2);
});

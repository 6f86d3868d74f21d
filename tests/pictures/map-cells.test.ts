import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CLASS_LETTERS, cellAt, frameOf, type MapPoint, mapCells } from "../../src/pictures/map-cells.ts";

const draw = (points: readonly MapPoint[], columns: number, lines: number): readonly string[] => {
  const frame = frameOf(points.length, (i) => points[i]!, columns, lines);
  if (frame === null) throw new Error("no frame");
  const cells = mapCells(frame, points.length, (i) => points[i]!);
  return Array.from({ length: lines }, (_, line) =>
    [...cells.slice(line * columns, (line + 1) * columns)]
      .map((own) => (own < 0 ? "." : CLASS_LETTERS[own]))
      .join(""),
  );
};

describe("mapCells", () => {
  it("puts north up, east to the right and the worst class on top", () => {
    // 8 wide and 8 high in cells twice as high as wide: 9 columns of 1 hold it, and 5 lines of 2.
    expect(
      draw(
        [
          { x: 0, y: 8, class: 1 },
          { x: 8, y: 8, class: 2 },
          { x: 0, y: 0, class: 3 },
          { x: 8, y: 0, class: 4 },
          { x: 8, y: 0, class: 5 },
          { x: 8, y: 0, class: 0 },
        ],
        9,
        5,
      ),
    ).toEqual(["1.......2", ".........", ".........", ".........", "3.......5"]);
  });

  it("keeps one scale both ways: a row of laterals stays a row in a high window", () => {
    const drawn = draw(
      [0, 1, 2, 3].map((x) => ({ x, y: 7, class: 1 })),
      8,
      9,
    );
    expect(drawn.filter((line) => line.includes("1"))).toHaveLength(1);
  });

  it("has no frame without coordinates, and a place for one lateral alone", () => {
    expect(frameOf(1, () => ({ x: Number.NaN, y: 3, class: 1 }), 10, 5)).toBeNull();
    expect(
      draw([{ x: 5, y: 5, class: 4 }], 10, 5)
        .join("")
        .replaceAll(".", ""),
    ).toBe("4");
  });

  it("refuses a class that has no letter", () => {
    expect(() => draw([{ x: 1, y: 1, class: 6 }], 5, 5)).toThrow("got 6");
  });

  it("has every lateral with coordinates in a cell, in a window of any size", () => {
    const point = fc.record({
      x: fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      y: fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      class: fc.integer({ min: 0, max: 5 }),
    });
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 1 }),
        fc.integer({ min: 2, max: 200 }),
        fc.integer({ min: 2, max: 60 }),
        (points, columns, lines) => {
          const frame = frameOf(points.length, (i) => points[i]!, columns, lines)!;
          for (const { x, y } of points) expect(cellAt(frame, x, y)).not.toBeNull();
        },
      ),
    );
  });
});

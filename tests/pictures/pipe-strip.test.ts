import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawStrip } from "../../src/pictures/pipe-strip.ts";
import type { SeenAlong } from "../../src/plan/defects-along.ts";
import type { PipeStrip } from "../../src/plan/explain-along.ts";
import { metres } from "../../src/quantity/si.ts";

const seen = (
  kind: string,
  mode: SeenAlong["mode"],
  grade: number | null,
  from: number,
  to = from,
): SeenAlong => ({ kind, mode, grade, from: metres(from), to: metres(to) });

/** 24 m, so that each of the 48 letters of the narrowest strip is half a metre. */
const strip = (differs: Partial<PipeStrip> = {}): PipeStrip => ({
  length: metres(24),
  measuredFrom: "main",
  seen: [
    seen("bend", "inventory", null, 4),
    seen("crack", "structural", 2, 8.2, 9.6),
    seen("hole", "structural", 4, 9),
    seen("root fine", "operation", 3, 12),
    seen("cleanout", "inventory", null, 21),
  ],
  sections: [{ start: metres(8), length: metres(1.8) }],
  cleanout: true,
  connectionGrade: 3,
  style: { units: "si", currency: "EUR" },
  ...differs,
});

describe("a pipe drawn along its length", () => {
  it("shows each thing at its place: a letter is half a metre here", () => {
    // The bend at 4 m is letter 8 after the names, counted from 0; the crack from 8.2 to 9.6 m is letters 16 to 19, with the
    // worse hole at 9 m on 18; the roots at 12 m are 24, the cleanout at 21 m is 42; the section from 8 to 9.8 m is 16 to 19.
    expect(drawStrip(strip(), 60)).toEqual([
      "            main, connection grade 3         house, cleanout",
      "pipe        |-------B-+---------+---------+---------+-O----|",
      "structural                  2242",
      "other                               3",
      "sections                    [a=]",
      "m           0         5         10        15        20  24.0",
      "  section a 1.80 m from 8.00 m to 9.80 m: crack 2 at 8.20 m",
      "            to 9.60 m; hole 4 at 9.00 m",
      "digits: grades, the worst where several share a place",
      "B bend · O cleanout",
    ]);
  });

  it("is never wider than asked, and as wide at every width", () => {
    const place = fc.double({ min: 0, max: 24, noNaN: true });
    const thing = fc
      .tuple(place, place, fc.integer({ min: 1, max: 5 }), fc.constantFrom("hole", "bend", "root fine"))
      .map(([a, b, grade, kind]) =>
        kind === "bend"
          ? seen(kind, "inventory", null, a)
          : seen(kind, kind === "hole" ? "structural" : "operation", grade, Math.min(a, b), Math.max(a, b)),
      );
    fc.assert(
      fc.property(fc.array(thing, { maxLength: 8 }), fc.integer({ min: 60, max: 200 }), (things, width) => {
        const rows = drawStrip(strip({ seen: things }), width);
        for (const row of rows) expect(row.length).toBeLessThanOrEqual(width);
        expect(rows[1]).toHaveLength(width);
      }),
    );
  });

  it("draws two sections that share a letter on two rows, and says which end an unknown survey started from", () => {
    const sections = [
      { start: metres(8), length: metres(1.8) },
      { start: metres(9.7), length: metres(1.8) },
    ];
    const rows = drawStrip(strip({ sections, measuredFrom: "start of the survey" }), 60);
    expect(rows[0]?.trim().startsWith("where the survey started")).toBe(true);
    expect(rows.filter((row) => row.includes("[a") || row.includes("[b"))).toHaveLength(2);
  });

  it("says ? of a defect without a grade, and * of two marks at one place", () => {
    const rows = drawStrip(
      strip({
        seen: [
          seen("hole", "structural", null, 3),
          seen("bend", "inventory", null, 4),
          seen("connection", "inventory", null, 4.1),
        ],
        sections: [],
      }),
      60,
    );
    expect(rows.join("\n")).toContain("? not graded");
    expect(rows[1]?.[12 + 8]).toBe("*");
    expect(rows.join("\n")).toContain("* several of them");
  });

  it("refuses a width that cannot be read", () => {
    expect(() => drawStrip(strip(), 59)).toThrow("60 whole letters or more, got 59");
  });
});

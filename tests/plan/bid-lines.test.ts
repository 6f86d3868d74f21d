import { describe, expect, it } from "vitest";
import { type BidLine, bidLineKey, measureBidLines } from "../../src/plan/bid-lines.ts";
import type { FullLiner, Liner, OnePiece, SectionLiner } from "../../src/plan/liner.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import type { WorkKind } from "../../src/reference/works.ts";
import { city, feet, inches, lateral, siBasis, usBasis } from "./examples.ts";

const shown = (lines: readonly BidLine[]) => lines.map((line) => [bidLineKey(line), line.hundredths]);
const measured = (work: WorkKind, of = lateral(), liner: Liner = null, basis = usBasis) =>
  shown(measureBidLines(work, of, liner, basis));

const full: FullLiner = {
  kind: "full length",
  nominalDiameter: millimetres(100),
  wall: millimetres(3),
  installedLength: metres(12),
  cutLength: metres(13),
  endSeals: 2,
};

describe("a work is paid", () => {
  it("by the length of the lateral and the size of the pipe, in the units of the program", () => {
    // 40 ft is 12.192 m; 4 in passes for the stocked 100 mm.
    for (const work of ["clean and cut roots", "joint grouting"] as const) {
      const item = work === "joint grouting" ? "joint grouting" : "root cutting";
      expect(measured(work)).toEqual([[`${item} | 4 in`, 4_000]]);
      expect(measured(work, lateral(), null, siBasis)).toEqual([[`${item} | 100 mm`, 1_219]]);
    }
  });

  it("by the pipe's own size where it passes for no stocked one: 10 in is never paid as 8 in", () => {
    const of = (inch: number) => measured("clean and cut roots", lateral({ hostDiameter: inches(inch) }))[0];
    expect(of(10)).toEqual(["root cutting | 10 in", 4_000]);
    expect(of(8)).toEqual(["root cutting | 8 in", 4_000]);
    expect(measured("clean and cut roots", lateral({ hostDiameter: null }))[0]?.[0]).toBe(
      "root cutting | size not known",
    );
  });

  it("once each for a camera, and for running infiltration", () => {
    expect(measured("inspect first")).toEqual([["camera inspection", 100]]);
    expect(measured("grouting of running infiltration")).toEqual([["grouting of running infiltration", 100]]);
  });

  it("with the surface over the trench, or over the pits: those under one surface are one line", () => {
    const { treatments } = usBasis;
    const basis = {
      ...usBasis,
      treatments: {
        ...treatments,
        openCut: { ...treatments.openCut, trenchWidth: 0.6 },
        bursting: {
          ...treatments.bursting,
          pits: [
            { name: "main", surface: "street" as const, area: 1.5 },
            { name: "house", surface: "yard" as const, area: 2 },
            { name: "bend", surface: "street" as const, area: 1.5 },
          ],
        },
      },
    };
    // 12.192 × 0.6 = 7.3152 m², over 0.09290304 m²/ft² 78.74 ft²; 3 m² are 32.29 ft², 2 m² 21.53 ft².
    const driveway = lateral({ surface: city("driveway") });
    expect(measured("open-cut replacement", driveway, null, basis)).toEqual([
      ["open-cut replacement | 4 in", 4_000],
      ["surface restoration | driveway", 7_874],
    ]);
    expect(measured("pipe bursting", driveway, null, basis)).toEqual([
      ["pipe bursting | 4 in", 4_000],
      ["surface restoration | street", 3_229],
      ["surface restoration | yard", 2_153],
    ]);
  });
});

describe("a full-length liner is paid", () => {
  it("each, its length beyond the included 30 ft or 9 m beside it, and each branch it closes", () => {
    expect(measured("full-length liner", lateral({ branches: city(3) }), full)).toEqual([
      ["full-length liner | 4 in", 100],
      ["additional liner length | 4 in", 1_000],
      ["reinstatement", 300],
    ]);
    // 12.192 m less 9 m, to the hundredth: 12.19 − 9.
    expect(measured("full-length liner", lateral({ branches: city(0) }), full, siBasis)).toEqual([
      ["full-length liner | 100 mm", 100],
      ["additional liner length | 100 mm", 319],
    ]);
  });

  it("without more where the lateral is no longer than what is included", () => {
    for (const hostLength of [feet(30), feet(12)])
      expect(measured("full-length liner", lateral({ hostLength, branches: city(0) }), full)).toEqual([
        ["full-length liner | 4 in", 100],
      ]);
  });
});

it("a one-piece liner is paid each by both sizes, and closes branches as a full-length one does", () => {
  const { nominalDiameter, wall, installedLength, cutLength, endSeals } = full;
  const piece: Omit<OnePiece, "takeoff"> = {
    kind: "one piece",
    nominalDiameter,
    wall,
    mainDiameter: millimetres(203.2),
    mainWall: millimetres(3),
    installedLength,
    cutLength,
    endSeals,
  };
  // What it takes is no question here.
  const liner = piece as OnePiece;
  expect(measured("one-piece liner", lateral({ branches: city(2) }), liner)).toEqual([
    ["one-piece liner | 4 in, main 8 in", 100],
    ["additional one-piece length | 4 in", 1_000],
    ["reinstatement", 200],
  ]);
});

it("sections are paid each by size and stocked length, the short ones first, equal ones together", () => {
  const pieces = [6, 3, 3].map((length) => ({ start: null, length: feet(length)!.value }));
  const { nominalDiameter, wall } = full;
  const liner: SectionLiner = {
    kind: "section",
    nominalDiameter,
    wall,
    pieces,
    installedLength: metres(4),
    cutLength: metres(4),
    endSeals: 6,
  };
  expect(measured("sectional liner", lateral(), liner)).toEqual([
    ["sectional liner | 4 in x 3 ft", 200],
    ["sectional liner | 4 in x 6 ft", 100],
  ]);
  // A section of 0.9 m is one of 3 ft, which are 0.9144 m.
  const one = { ...liner, pieces: [{ start: null, length: metres(0.9) }] };
  expect(measured("sectional liner", lateral(), one)).toEqual([["sectional liner | 4 in x 3 ft", 100]]);
  expect(measured("sectional liner", lateral(), one, siBasis)).toEqual([
    ["sectional liner | 100 mm x 0.9 m", 100],
  ]);
});

import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { loadProgram } from "../../../src/commands/load-program.ts";
import { bookContents } from "../../../src/commands/write-workbook.ts";
import type { Basis } from "../../../src/reference/basis.ts";
import type { BookContents } from "../../../src/workbook/book-contents.ts";
import { type DesignRing, ringParts } from "../../../src/workbook/design/design-ring.ts";
import { designLines, designSheets, valueLines } from "../../../src/workbook/design/design-sheet.ts";
import { buildPlanningBook } from "../../../src/workbook/planning-book.ts";
import type { Book } from "../../../src/workbook/sheet-model.ts";
import { chosenLiner } from "../../plan/examples.ts";
import { type FormulaCell, formulaCells, type Recalculated, recalculate, soffice } from "../recalculate.ts";
import { smallContents } from "../small-program.ts";
import { bytesOf, modelOf, readBack, sheetOf } from "../written-book.ts";
import { FANNED, fannedOut, ringsIn } from "./fanned-out.ts";

/** The same program under other criteria, or with other liners: every branch of the formulas. */
const withCriteria = (differs: Partial<Basis["criteria"]>, units: "us" | "si" = "us"): BookContents =>
  smallContents(units, [], 40, (basis) => ({ ...basis, criteria: { ...basis.criteria, ...differs } }));

const otherResins = smallContents("us", [], 40, (basis) => {
  const { "full-length": fullLength, section } = basis.liners;
  const { source } = basis.criteria;
  const glass = { kind: "glass", fibreMassFraction: 0.5, fibreDensity: 2.55 } as const;
  return {
    ...basis,
    liners: {
      ...basis.liners,
      "full-length": {
        ...fullLength,
        system: { ...fullLength.system, calibrationTube: { thickness: 1.5, voidRatio: 0.87, source } },
      },
      section: { ...section, system: { ...section.system, tube: glass } },
    },
  };
});

/** A shop's own chart for every liner of the program: 0.9 kg/m, invented. */
const shopChart = smallContents("si", [], 40, (basis) => ({
  ...basis,
  shopChart: {
    source: basis.criteria.source,
    rows: [basis.liners["full-length"], basis.liners.section].flatMap(({ system }) =>
      system.stockedDiameters.flatMap((diameter) =>
        system.stockedWalls.map((wall) => ({ diameter, wall, kilogramsPerMetre: 0.9 })),
      ),
    ),
  },
}));

/** A crew that brings one-piece liners, in a city that lines every connection with its lateral. */
const onePiece = smallContents("us", [], 24, (basis) => ({
  ...basis,
  liners: {
    ...basis.liners,
    "one-piece": chosenLiner("one-piece, felt, polyester", "launched from the main"),
  },
  treatments: { ...basis.treatments, thresholds: { ...basis.treatments.thresholds, connectionFrom: 1 } },
}));

const programs = {
  us: smallContents("us"),
  si: smallContents("si"),
  spread: withCriteria({ liveLoadMethod: "spread" }),
  depthTable: withCriteria({ liveLoadMethod: "depth table" }, "si"),
  stated: withCriteria({ liveLoadMethod: "stated", statedLiveLoad: 17.3, statedLiveLoadBy: "an engineer" }),
  noTraffic: withCriteria({ liveLoadMethod: "none" }),
  older: withCriteria({ edition: "before 2007b", strengthBasis: "short term", liveLoadReduction: 0.8 }),
  partially: withCriteria({ deterioration: "partially", deteriorationBy: "an engineer" }),
  otherResins,
  shopChart,
  onePiece,
  // An engineer's figure under some surfaces, the method's wheel over others.
  railway: smallContents("us", [], 40, (basis) => ({
    ...basis,
    criteria: { ...basis.criteria, statedLiveLoad: 40, statedLiveLoadBy: "an engineer" },
    surfaceWheels: {
      ...basis.surfaceWheels,
      values: { ...basis.surfaceWheels.values, street: "rail" },
    },
  })),
} as const;

/** The engine's own values, apart from what the lines say of themselves. */
const engines: Readonly<Record<string, (ring: DesignRing) => number | string | null>> = {
  H: ({ wall }) => wall.worst.cover,
  P: ({ wall }) => wall.worst.design.waterPressure,
  C: ({ wall }) => wall.worst.design.ovalityReduction,
  R_w: ({ wall }) => wall.worst.design.externalLoad?.waterBuoyancy ?? "",
  B: ({ wall }) => wall.worst.design.externalLoad?.soilSupport ?? "",
  W_s: ({ wall }) => wall.worst.design.externalLoad?.live ?? "",
  q_t: ({ wall }) => wall.worst.design.externalLoad?.total ?? "",
  buckling: ({ wall }) => wall.worst.design.walls.buckling,
  bending: ({ wall }) => wall.worst.design.walls.bending,
  "soil-buckling": ({ wall }) => wall.worst.design.walls["soil-buckling"] ?? "",
  stiffness: ({ wall }) => wall.worst.design.walls.stiffness ?? "",
  "largest-ratio": ({ wall }) => wall.worst.design.walls["largest-ratio"] ?? "",
  t: ({ wall }) => wall.worst.design.wall,
  DR: ({ wall }) => wall.worst.design.dimensionRatio,
  t_order: ({ wall }) => wall.specified.stocked,
  DR_o: ({ wall }) => wall.dimensionRatio,
  t_G: ({ wall }) => wall.crossCheck?.glockWall ?? "",
  K_G: ({ wall }) => wall.crossCheck?.impliedEnhancement ?? "",
  V_resin: ({ resin }) => resin?.wetOut.mixed.volume ?? "",
  m_resin: ({ resin }) => resin?.wetOut.mixed.mass ?? "",
};

/** Conversions to the program's units and back, and another order of the same few operations, cost the last digits. */
const RELATIVE = 1e-9;
const same = ({ before, after }: Pick<FormulaCell, "before" | "after">): boolean =>
  typeof before === "number" && typeof after === "number"
    ? Math.abs(before - after) <= RELATIVE * Math.max(Math.abs(before), Math.abs(after))
    : before === after;

/** The planning book with another ring picked. */
function picking(book: Book, pick: string): Book {
  return {
    ...book,
    sheets: book.sheets
      .filter(({ name }) => name.startsWith("Design"))
      .map((sheet) => ({
        ...sheet,
        rows: [...sheet.rows].map((row) =>
          row.map((cell) =>
            cell !== null && typeof cell === "object" && cell.kind === "pick"
              ? { ...cell, value: pick }
              : cell,
          ),
        ),
      })),
  };
}

/** The same book with 0.33 of the water buoyancy factor as 0.34. */
const misspelt = (book: Book): Book => ({
  ...book,
  sheets: book.sheets.map((sheet) => ({
    ...sheet,
    rows: [...sheet.rows].map((row) =>
      row.map((cell) =>
        cell !== null && typeof cell === "object" && cell.kind === "formula"
          ? { ...cell, text: cell.text.replace("0.33*", "0.34*") }
          : cell,
      ),
    ),
  })),
});

describe("the design sheet", () => {
  const contents = programs.us;
  const book = buildPlanningBook(contents);
  const design = modelOf(book, "Design");
  const rings = ringsIn(contents);

  it("lets one cell be changed: the pick, from the list of what is lined", async () => {
    const workbook = await readBack(await bytesOf(book));
    const open: string[] = [];
    for (const name of ["Design", "Design inputs", "Design tables"]) {
      expect(sheetOf(workbook, name).getCell("A1").protection?.locked ?? true).toBe(true);
      sheetOf(workbook, name).eachRow((row) =>
        row.eachCell((cell) => {
          if (cell.protection?.locked === false) open.push(`${name}!${cell.address}`);
        }),
      );
    }
    expect(open).toEqual(["Design!D6"]);
    const pick = sheetOf(workbook, "Design").getCell("D6");
    expect(pick.numFmt).toBe("@");
    expect(pick.value).toBe(rings[0]?.pick);
    expect(pick.dataValidation).toMatchObject({
      type: "list",
      formulae: [`'Design inputs'!$A$6:$A$${5 + rings.length}`],
      errorStyle: "stop",
    });
  });

  it("lists each liner of the plan once, by an id as it stands in the city's file", () => {
    const picks = [...modelOf(book, "Design inputs").rows].map(([pick]) => pick);
    expect(picks).toEqual(rings.map(({ pick }) => pick));
    expect(new Set(picks).size).toBe(picks.length);
    const lined = [...contents.program.order].filter((row) => contents.recordAt(row).chosen.wall !== null);
    expect(rings.filter(({ resin }) => resin !== null).map(({ pick }) => pick)).toEqual(
      lined.map((row) => contents.recordAt(row).lateral.id),
    );
    expect(rings.some(({ part }) => part === "connection liner, in the main")).toBe(true);
  });

  it("pastes no value: but for the criteria and what is picked, every value is a formula", () => {
    const lines = designLines(contents.program.basis);
    const rows = [...design.rows].slice(2);
    for (const [i, line] of lines.entries()) {
      if (line.kind === "section" || (line.kind === "given" && line.per === "program")) continue;
      expect(rows[i]?.[3], line.key).toMatchObject({ kind: "formula" });
    }
  });

  it("has no literal of a lateral in its formulas: those of two laterals are the same", () => {
    const texts = (of: BookContents) =>
      [...(designSheets(of)[0]?.rows ?? [])]
        .flat()
        .map((cell) =>
          cell !== null && typeof cell === "object" && cell.kind === "formula" ? cell.text : null,
        );
    const { order } = contents.program;
    const reversed = { ...contents, program: { ...contents.program, order: order.toReversed() } };
    expect(ringsIn(reversed)[0]?.pick).not.toBe(rings[0]?.pick);
    expect(texts(reversed)).toEqual(texts(contents));
  });

  it("says that it is for information, and that the search is not repeated", () => {
    const notes = design.notes.join(" ");
    expect(notes).toContain("For information only: the specification and a sealed design govern.");
    expect(notes).toContain("only the search for the worst cover is not repeated");
  });

  it("takes the engine's own values for what it compares with", () => {
    for (const of of Object.values(programs)) {
      const lines = new Map(valueLines(designLines(of.program.basis)).map((line) => [line.key, line]));
      for (const ring of ringsIn(of))
        for (const [key, engine] of Object.entries(engines))
          expect(lines.get(key)?.value(ring), `${key} of ${ring.pick}`).toBe(engine(ring));
    }
  });

  it("is left out where nothing is lined", () => {
    expect(designSheets(smallContents("us", [], 0))).toEqual([]);
  });
});

describe.skipIf(soffice === null)("another spreadsheet program", () => {
  let sample: BookContents;
  let fanned: Readonly<Record<string, Recalculated>>;
  let picked: Readonly<Record<string, Recalculated>>;
  /** Two laterals of the sample with different walls calculated, and a part in a main. */
  let picks: readonly DesignRing[];
  beforeAll(async () => {
    const folder = fileURLToPath(new URL("../../../sample-programs/quennock-falls", import.meta.url));
    const loaded = await loadProgram(folder);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    sample = bookContents(loaded.program);
    const rings = ringsIn(sample);
    const other = rings.find(
      ({ wall, part }) =>
        part === rings[0]!.part && wall.specified.calculated !== rings[0]!.wall.specified.calculated,
    );
    const inMain = rings.find(({ part }) => part === "connection liner, in the main");
    picks = [rings[0]!, other!, inMain!];
    const book = buildPlanningBook(sample);
    const books = Object.fromEntries([
      ["sample", fannedOut(sample)],
      ...Object.entries(programs).map(([name, contents]) => [name, fannedOut(contents)] as const),
      ["wrong", misspelt(fannedOut(programs.us))],
      ["pickNone", picking(book, `${picks[0]!.pick}*`)],
      ...picks.map(({ pick }, i) => [`pick${i}`, picking(book, pick)] as const),
    ]);
    const done = await recalculate(books);
    fanned = Object.fromEntries(Object.entries(done).filter(([name]) => !name.startsWith("pick")));
    picked = Object.fromEntries(Object.entries(done).filter(([name]) => name.startsWith("pick")));
  }, 300_000);

  const fannedCells = (name: string) => formulaCells(fanned[name]!).filter(({ sheet }) => sheet === FANNED);

  it("works out every line of every liner of the sample program to the engine's own value", () => {
    const rings = ringsIn(sample);
    const formulas = fannedCells("sample");
    expect(rings.length).toBeGreaterThan(30);
    expect(formulas.length).toBeGreaterThan(rings.length * 60);
    expect(formulas.filter((cell) => !same(cell))).toEqual([]);
  });

  it.each(Object.keys(programs))("does so for the program %s", (name) => {
    const formulas = fannedCells(name);
    expect(formulas.length).toBeGreaterThan(300);
    expect(formulas.filter((cell) => !same(cell))).toEqual([]);
  });

  it("has every kind of case among them", () => {
    const rings = Object.values(programs).flatMap(ringsIn);
    const all = [...rings, ...ringsIn(sample)];
    const kinds = (of: (ring: DesignRing) => string) => [...new Set(all.map(of))].sort();
    expect(kinds(({ wall }) => wall.liveLoad.kind)).toEqual([
      "boussinesq",
      "depth table",
      "none",
      "spread",
      "stated",
    ]);
    expect(kinds(({ part }) => part)).toEqual([...ringParts].sort());
    expect(kinds(({ resin }) => (resin === null ? "none" : resin.wetOut.by))).toEqual(
      expect.arrayContaining(["felt voids", "glass fibre", "none", "shop chart"]),
    );
    expect(kinds(({ wall }) => String(wall.crossCheck === null))).toEqual(["false", "true"]);
    expect(kinds(({ wall }) => wall.specified.governedBy)).toEqual(["calculation", "specified-minimum"]);
    expect(kinds(({ wall }) => wall.worst.design.governing).length).toBeGreaterThan(2);
  });

  it("shows the lateral that is picked, whichever was shown when the book was written", () => {
    for (const [i, ring] of picks.entries()) {
      const sheet = sheetOf(picked[`pick${i}`]!.after, "Design");
      const lines = designLines(sample.program.basis);
      const at = (key: string) => 8 + lines.findIndex((line) => line.kind !== "section" && line.key === key);
      for (const [key, engine] of Object.entries(engines)) {
        const line = lines[lines.findIndex((each) => each.kind !== "section" && each.key === key)];
        expect(line).toBeDefined();
        const letter = line?.kind !== "section" && line?.measure === "factor" ? "D" : "F";
        const after = sheet.getCell(`${letter}${at(key)}`).result ?? "";
        expect(
          same({ before: engine(ring) ?? "", after: after as number | string }),
          `${key} of ${ring.pick}: ${after}`,
        ).toBe(true);
      }
    }
    expect(picks[0]!.wall.specified.calculated).not.toBe(picks[1]!.wall.specified.calculated);
  });

  it("shows an error for what is not in the list, never another lateral", () => {
    const cells = formulaCells(picked["pickNone"]!).filter(({ sheet }) => sheet === "Design");
    expect(cells.length).toBeGreaterThan(60);
    const lookups = cells.filter(({ formula }) => formula.startsWith("INDEX("));
    expect(lookups.length).toBeGreaterThan(10);
    for (const { after } of lookups) expect(String(after)).toContain("#N/A");
  });

  it("would show a wrong formula: one constant changed, and every lateral under water disagrees", () => {
    const wrong = fannedCells("wrong").filter((cell) => !same(cell));
    const wet = ringsIn(programs.us).filter(({ wall }) => {
      const factor = wall.worst.design.externalLoad?.waterBuoyancy ?? 1;
      return factor < 1 && factor > 0.67;
    });
    expect(wet.length).toBeGreaterThan(2);
    expect(wrong.filter(({ formula }) => formula.includes("0.34*")).length).toBe(wet.length);
  });
});

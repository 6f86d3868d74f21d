import { isQuantity } from "../../quantity/measure.ts";
import { unitLabel } from "../../quantity/show-quantity.ts";
import type { Basis } from "../../reference/basis.ts";
import type { BookContents } from "../book-contents.ts";
import type { Part } from "../long-list.ts";
import { lettersOf } from "../references.ts";
import { firstRow, formula, type Row, type SheetColumn, type SheetModel } from "../sheet-model.ts";
import { checkLines } from "./check-lines.ts";
import { criteriaLines } from "./criteria-lines.ts";
import { designedRings, designInputsSheet, inputCells } from "./design-inputs.ts";
import { cellsOf, type DesignLine, type Place, siUnit, type ValueLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { designTablesSheet, tableRange } from "./design-tables.ts";
import { loadLines } from "./load-lines.ts";
import { opinionLines } from "./opinion-lines.ts";
import { pipeLines } from "./pipe-lines.ts";
import { resinLines } from "./resin-lines.ts";

const NAME = "Design";

const columns = {
  symbol: { heading: "Symbol", width: 8 },
  what: { heading: "What", width: 36, wrap: true },
  equation: { heading: "Equation", width: 44, wrap: true },
  shown: { heading: "Value", width: 21 },
  unit: { heading: "Unit", width: 8 },
  si: { heading: "SI value", width: 13 },
  siUnit: { heading: "SI unit", width: 8 },
  source: { heading: "Source", width: 58, wrap: true },
} as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columns);

const notesOf = (part: Part<DesignRing>): readonly string[] => [
  "For information only: the specification and a sealed design govern. Pick a lateral in the yellow cell. Every value follows by formula from the sheets Design inputs and Design tables; only the search for the worst cover is not repeated.",
  "Handbook: Trenchless Technology Piping: Installation and Inspection, McGraw-Hill/WEF/ASCE, 2010, chapter 2, which restates ASTM F1216-09, Appendix X1. Formulas compute in SI. An empty value does not apply.",
  ...part.notes,
];

/** Rows before the lines: what is picked, and where it is. */
const PICK_ROWS = 2;

/** All lines of a design, in the order in which they are shown. */
export const designLines = (basis: Basis): readonly DesignLine[] => [
  ...pipeLines,
  ...criteriaLines(basis),
  ...loadLines(basis),
  ...checkLines(),
  ...opinionLines,
  ...resinLines,
];

export const valueLines = (lines: readonly DesignLine[]): readonly ValueLine[] =>
  lines.filter((line) => line.kind !== "section");

/** The sheet on which a reviewer picks a liner, the inputs it reads, and its tables; none where nothing is lined. */
export function designSheets(contents: BookContents): readonly SheetModel[] {
  const { basis } = contents.program;
  const rings = designedRings(contents);
  if (rings.length === 0) return [];
  const lines = designLines(basis);
  return [
    ...rings.parts
      .filter((part) => part.length > 0)
      .flatMap((part) => [
        designSheet(part, lines, basis),
        designInputsSheet(part, valueLines(lines), contents),
      ]),
    designTablesSheet(basis),
  ];
}

function designSheet(part: Part<DesignRing>, lines: readonly DesignLine[], basis: Basis): SheetModel {
  const notes = notesOf(part);
  const first = firstRow(notes);
  const inputs = inputCells(part, valueLines(lines));
  const pick = `$${at.shown}$${first}`;
  const picked = `$${at.shown}$${first + 1}`;
  // The first of the list is shown until another is picked.
  const [ring] = part;
  if (ring === undefined) throw new RangeError("designSheet: nothing to show");

  const rowOf = new Map(
    lines.flatMap((line, i) => (line.kind === "section" ? [] : [[line.key, first + PICK_ROWS + i] as const])),
  );
  const place: Place = {
    shown: (key) => `${at.shown}${found(rowOf, key)}`,
    si: (key) => `${at.si}${found(rowOf, key)}`,
    given: (key) => `INDEX(${inputs.column(key)},${picked})`,
    range: (name) => tableRange(name, basis),
  };
  const byKey = linesByKey(lines);
  return {
    name: part.nameOf(NAME),
    title: "Design of one liner wall, for information",
    notes,
    columns: Object.values(columns),
    rows: [
      [null, "lateral", "pick from the list", { kind: "pick", value: ring.pick, list: inputs.picks }],
      [
        null,
        "its place in the list",
        "the one row of Design inputs with exactly this id",
        formula(placeOf(pick, inputs), 1, "0"),
      ],
      ...lines.map((line): Row => {
        if (line.kind === "section")
          return Object.keys(columns).map((_, i) => ({ kind: "section", text: i === 0 ? line.title : "" }));
        const { shown, si } = cellsOf(line, ring, place, byKey, basis.program.units);
        const quantity = isQuantity(line.measure);
        return [
          line.symbol,
          line.what,
          line.kind === "worked" ? line.equation : null,
          shown,
          quantity ? unitLabel(line.measure, basis.program) : null,
          si,
          quantity ? siUnit(line.measure) : null,
          line.source,
        ];
      }),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}

/** Where the picked id is in the list. Compared exactly: other ways to look it up take `a1` for `A1`, and * for anything. */
const placeOf = (pick: string, { picks, firstRow }: ReturnType<typeof inputCells>): string =>
  `IF(SUMPRODUCT(--EXACT(${picks},${pick}))=1,SUMPRODUCT(EXACT(${picks},${pick})*(ROW(${picks})-${firstRow - 1})),NA())`;

export const linesByKey = (lines: readonly DesignLine[]): ReadonlyMap<string, ValueLine> =>
  new Map(valueLines(lines).map((line) => [line.key, line]));

function found(rows: ReadonlyMap<string, number>, key: string): number {
  const row = rows.get(key);
  if (row === undefined) throw new RangeError(`designSheet: no line ${JSON.stringify(key)}`);
  return row;
}

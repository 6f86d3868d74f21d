import type { TreatmentKind } from "../../columns/plan-columns.ts";
import { isQuantity } from "../../quantity/measure.ts";
import { unitLabel } from "../../quantity/show-quantity.ts";
import { numberAt, textAt } from "../../sheet/table.ts";
import { type BookContents, capital } from "../book-contents.ts";
import { listOfLaterals } from "../lateral-list.ts";
import type { LongList, Part } from "../long-list.ts";
import { columnLetter } from "../references.ts";
import { type Cell, headingRow, rowsOf, type SheetModel } from "../sheet-model.ts";
import { designNumber, type GivenLine, toShownNumber, type ValueLine } from "./design-line.ts";
import { type DesignRing, ringsOf } from "./design-ring.ts";

const NAME = "Design inputs";
/** Columns before the values: what is picked. */
const BEFORE = 1;

const notesOf = (part: Part<DesignRing>): readonly string[] => [
  "For information: the specification and a sealed design govern. One row for each liner, and for each part in the main, in the order of the ranking.",
  "The worst cover is found by the program: it searches the whole run between the two covers, steps of the live load included. The search is not repeated by formula.",
  ...part.notes,
];

/** Treatments whose first liner, the one the sheet shows, has a part in the main. */
const twoRings: ReadonlySet<string> = new Set<TreatmentKind>(["connection liner", "one-piece liner"]);

/** Every ring that the plan lines, by the order of risk. A record is planned again for each lateral that is lined. */
export function designedRings(contents: BookContents): LongList<DesignRing> {
  const { laterals, order, basis } = contents.program;
  return listOfLaterals(contents, order, {
    count: (row) =>
      Number.isNaN(numberAt(laterals, "wall", row))
        ? 0
        : twoRings.has(textAt(laterals, "treatment", row))
          ? 2
          : 1,
    entries: (row) =>
      Number.isNaN(numberAt(laterals, "wall", row)) ? [] : ringsOf(contents.recordAt(row), basis),
  });
}

/** The values of each lateral that the design starts from. */
export function designInputsSheet(
  part: Part<DesignRing>,
  lines: readonly ValueLine[],
  contents: BookContents,
): SheetModel {
  const { program } = contents.program.basis;
  const given = lines.filter(isOfLateral);
  return {
    name: part.nameOf(NAME),
    title: part.nameOf(NAME),
    notes: notesOf(part),
    columns: [
      { heading: "Lateral", width: 18 },
      ...given.map(({ what, symbol, measure }) => {
        const name = symbol === "" ? what : `${what} ${symbol}`;
        const unit = isQuantity(measure) ? ` (${unitLabel(measure, program)})` : "";
        return {
          heading: capital(`${name}${unit}`),
          width: measure === "text" ? 24 : 12,
          ...(measure === "text" ? { wrap: true as const } : {}),
        };
      }),
    ],
    rows: rowsOf(part, (ring) => [
      ring.pick,
      ...given.map((line): Cell => {
        const shown = toShownNumber(line.value(ring), line.measure, program.units);
        return typeof shown === "number" ? designNumber(shown, line.measure, program.units) : shown;
      }),
    ]),
    frozenColumns: BEFORE,
    pagesWide: 3,
    locked: true,
    filtered: true,
  };
}

/** Where the inputs are, as formulas refer to them. */
export interface InputCells {
  /** What can be picked. */
  readonly picks: string;
  readonly firstRow: number;
  /** The values of a line, of all rings. */
  readonly column: (key: string) => string;
  /** The value of a line of the ring on a row of the sheet. */
  readonly cell: (key: string, row: number) => string;
}

export function inputCells(part: Part<DesignRing>, lines: readonly ValueLine[]): InputCells {
  const first = headingRow(notesOf(part)) + 1;
  const last = first + part.length - 1;
  const given = lines.filter(isOfLateral).map(({ key }) => key);
  const letterOf = (key: string): string => {
    const index = given.indexOf(key);
    if (index < 0) throw new RangeError(`inputCells: ${key} is no input of a lateral`);
    return columnLetter(BEFORE + index);
  };
  const range = (letter: string): string => `'${part.nameOf(NAME)}'!$${letter}$${first}:$${letter}$${last}`;
  return {
    picks: range("A"),
    firstRow: first,
    column: (key) => range(letterOf(key)),
    cell: (key, row) => `'${part.nameOf(NAME)}'!$${letterOf(key)}$${row}`,
  };
}

const isOfLateral = (line: ValueLine): line is GivenLine => line.kind === "given" && line.per === "lateral";

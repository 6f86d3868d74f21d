import { toShown } from "../../quantity/measure.ts";
import { unitLabel } from "../../quantity/show-quantity.ts";
import type { Basis } from "../../reference/basis.ts";
import { describeSource } from "../../reference/source.ts";
import { lettersOf, rangeIn } from "../references.ts";
import { type Cell, firstRow, formula, type Row, type SheetColumn, type SheetModel } from "../sheet-model.ts";
import { designFormat, designNumber, numberText, storedPerShown } from "./design-line.ts";
import { ringParts, stockedWalls } from "./design-ring.ts";

const NAME = "Design tables";

/** A row of a table that design formulas read: a value, of a cover or of a part. */
interface TableRow {
  readonly table: string;
  readonly of: string;
  /** m */
  readonly cover: number | null;
  readonly measure: "pressure" | "wall" | "factor";
  readonly value: number;
  readonly source: string;
}

interface DesignTable {
  /** By which formulas name its columns: `<name> covers` or `<name> lists`, and the column of its values. */
  readonly name: "impact" | "depth" | "stock";
  readonly rows: readonly TableRow[];
}

const notes = [
  "Read by the formulas of the sheet Design: the impact factors, the depth table where the program uses one, the stocked walls.",
];

const columnsIn = (length: string) =>
  ({
    table: { heading: "Table", width: 34, wrap: true },
    of: { heading: "Of", width: 32 },
    coverShown: { heading: `Cover (${length})`, width: 12 },
    cover: { heading: "Cover (m)", width: 12 },
    value: { heading: "Value", width: 12 },
    unit: { heading: "Unit", width: 8 },
    si: { heading: "SI value", width: 12 },
    source: { heading: "Source", width: 60, wrap: true },
  }) as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columnsIn(""));

function tablesOf(basis: Basis): readonly DesignTable[] {
  const { liveLoads, criteria } = basis;
  const impact = liveLoads.impact[criteria.impactTable];
  const depth = liveLoads.depthTables[criteria.depthTable];
  return [
    {
      name: "impact",
      rows:
        criteria.liveLoadMethod !== "boussinesq" || impact === undefined
          ? []
          : impact.steps.map(({ from, factor }) => ({
              table: `Impact: ${impact.name}`,
              of: "impact factor from this cover",
              cover: from,
              measure: "factor",
              value: factor,
              source: describeSource(impact.source),
            })),
    },
    {
      name: "depth",
      rows:
        criteria.liveLoadMethod !== "depth table" || depth === undefined
          ? []
          : depth.rows.map(({ cover, pressure }) => ({
              table: depth.name,
              of: "live load at this cover",
              cover,
              measure: "pressure",
              value: pressure,
              source: describeSource(depth.source),
            })),
    },
    {
      name: "stock",
      rows: ringParts.flatMap((part) =>
        stockedWalls(part, basis).map((wall) => ({
          table: "Stocked walls",
          of: part,
          cover: null,
          measure: "wall" as const,
          value: wall,
          source: "the liner's stock on the sheet Basis",
        })),
      ),
    },
  ];
}

/** The tables that the design's formulas read. */
export function designTablesSheet(basis: Basis): SheetModel {
  const { program } = basis;
  const first = firstRow(notes);
  const length = unitLabel("length", program);
  return {
    name: NAME,
    title: NAME,
    notes,
    columns: Object.values(columnsIn(length)),
    rows: tablesOf(basis)
      .flatMap(({ rows }) => rows)
      .map((row, i): Row => {
        const { measure, value, cover } = row;
        const toStored = (cell: string, from: "length" | "pressure" | "wall", stored: number): Cell => {
          const factor = storedPerShown(from, program.units);
          const text = factor === null || factor === 1 ? cell : `${cell}*${numberText(factor)}`;
          return formula(text, stored, designFormat(from, "si"));
        };
        const shown = measure === "factor" ? value : toShown(value, measure, program.units);
        return [
          row.table,
          row.of,
          cover === null
            ? null
            : designNumber(toShown(cover, "length", program.units), "length", program.units),
          cover === null ? null : toStored(`${at.coverShown}${first + i}`, "length", cover),
          designNumber(shown, measure, program.units),
          measure === "factor" ? "" : unitLabel(measure, program),
          measure === "factor" ? null : toStored(`${at.value}${first + i}`, measure, value),
          row.source,
        ];
      }),
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}

/** The cells of a table's column, as formulas name it. */
export function tableRange(name: string, basis: Basis): string {
  let first = firstRow(notes);
  for (const table of tablesOf(basis)) {
    const { length } = table.rows;
    const letter = rangeLetters[name];
    if (letter === undefined) throw new RangeError(`tableRange: no range ${JSON.stringify(name)}`);
    if (name.startsWith(table.name)) return rangeIn(NAME, letter, first, length);
    first += length;
  }
  throw new RangeError(`tableRange: no table of ${JSON.stringify(name)}`);
}

const rangeLetters: Readonly<Record<string, string>> = {
  "impact covers": at.cover,
  "impact factors": at.value,
  "depth covers": at.cover,
  "depth pressures": at.si,
  "stock lists": at.of,
  "stocked walls": at.si,
};

import type { Column } from "../columns/column.ts";
import { headingWithUnit } from "../columns/dictionary.ts";
import { lateralColumns } from "../columns/lateral-columns.ts";
import { planColumns } from "../columns/plan-columns.ts";
import type { Lateral } from "../plan/lateral.ts";
import { districtName } from "../quantity/district-name.ts";
import { isNumeric, toShown } from "../quantity/measure.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { type Ranked, rankedLaterals } from "./lateral-list.ts";
import type { Part } from "./long-list.ts";
import { formatOf, numberCell } from "./number-format.ts";
import { pagesAcross } from "./page-breaks.ts";
import { columnLetter, rangeIn, sumBelow } from "./references.ts";
import { type Cell, firstRow, type Row, rowsOf, type SheetColumn, type SheetModel } from "./sheet-model.ts";
import { planningNote, priceNote } from "./summary.ts";

const NAME = "Ranking";
/** Rank and lateral. */
const FROZEN = 2;

/** The city's columns shown beside the plan's; the rest is in the city's own file. */
const given = {
  lateral: ({ id }) => id,
  district: ({ district }) => districtName(district),
  location: ({ location }) => location,
  host_diameter: ({ hostDiameter }) => hostDiameter?.value ?? null,
  host_length: ({ hostLength }) => hostLength?.value ?? null,
  host_material: ({ hostMaterial }) => hostMaterial?.value ?? null,
  install_year: ({ installYear }) => installYear?.value ?? null,
  surface: ({ surface }) => surface?.value ?? null,
  cross_bore: ({ crossBore }) => crossBore?.value ?? null,
} as const satisfies Partial<
  Record<(typeof lateralColumns)[number]["key"], (lateral: Lateral) => string | number | null>
>;

const [rankColumn] = planColumns.filter((column) => column.key === "rank");
const fixed: readonly Column[] = [
  ...(rankColumn === undefined ? [] : [rankColumn]),
  ...lateralColumns.filter((column) => column.key in given),
  ...planColumns.filter((column) => column.key !== "rank"),
];

/** The program's own columns come last. */
const columnsOf = ({ program }: BookContents): readonly Column[] => [
  ...fixed,
  ...program.basis.ownColumns.map(({ column }) => column),
];
const summed: readonly string[] = ["resin", "crew_minutes", "cost"];

/** Every lateral in the order of risk, with what the plan says of it. */
export function rankingSheets(contents: BookContents): readonly SheetModel[] {
  const style = styleOf(contents);
  const columns = columnsOf(contents);
  return rankedLaterals(contents).parts.map((part): SheetModel => {
    const notes = notesOf(contents, part);
    const sheetColumns = columns.map((column) => sheetColumn(column, style));
    return {
      name: part.nameOf(NAME),
      title: part.nameOf(NAME),
      notes,
      columns: sheetColumns,
      rows: rowsOf(part, ({ row }) => rankingRow(contents, row, style)),
      foot: [
        columns.map((column, i): Cell => {
          if (column.key === "lateral") return "All";
          if (!summed.includes(column.key)) return null;
          return sumBelow(
            columnLetter(i),
            firstRow(notes),
            part.length,
            totalIn(contents, column, part.from, part.to),
          );
        }),
      ],
      frozenColumns: FROZEN,
      pagesWide: pagesAcross(sheetColumns, FROZEN),
      locked: false,
      filtered: true,
    };
  });
}

/** The costs of all laterals, as other sheets refer to them: one range or, of several sheets, a list of them. */
export const costRanges = (contents: BookContents): string => rangesOf(contents, "cost").join(",");

/** Costs of laterals that are done or refused, and of the rest where a cross-bore is not made safe, as a formula of another sheet sums them. */
export function heldCosts(contents: BookContents): string {
  const costs = rangesOf(contents, "cost");
  const crossBores = rangesOf(contents, "cross_bore");
  return rangesOf(contents, "status")
    .map((statuses, i) => {
      const sumOf = (...criteria: readonly string[]) => `SUMIFS(${[costs[i], ...criteria].join(",")})`;
      const { heldStatuses } = contents;
      return [
        ...heldStatuses.map((status) => sumOf(`${statuses},"${status}"`)),
        sumOf(`${crossBores[i]},"found"`, ...heldStatuses.map((status) => `${statuses},"<>${status}"`)),
      ].join("+");
    })
    .join("+");
}

/** A column of the ranking, one range for each of its sheets. */
function rangesOf(contents: BookContents, key: "cost" | "status" | "cross_bore"): readonly string[] {
  const letter = columnLetter(fixed.findIndex((column) => column.key === key));
  return rankedLaterals(contents).parts.map((part) =>
    rangeIn(part.nameOf(NAME), letter, firstRow(notesOf(contents, part)), part.length),
  );
}

const notesOf = (contents: BookContents, part: Part<Ranked>): readonly string[] => [
  `${planningNote} Risk is relative: it orders laterals, and sums of it mean nothing.`,
  priceNote(contents),
  ...seasonSaid(contents),
  ...part.notes,
];

/** Which season the columns are of; one of another plan has empty columns here, and sheets of its own. */
function seasonSaid({ program: { season }, selected }: BookContents): readonly string[] {
  if (season === undefined) return [];
  return !season.isFilled && selected?.name === season.name
    ? [`${season.said} Its laterals are on the sheet Season, at the costs of this plan.`]
    : [season.said];
}

function rankingRow(contents: BookContents, row: number, style: NumberStyle): Row {
  const { program } = contents;
  const lateral = contents.lateralAt(row);
  return columnsOf(contents).map((column): Cell => {
    if (column.key in given) return givenCell(lateral, column, style);
    if (!isNumeric(column.measure)) return textAt(program.laterals, column.key, row);
    return numberCell(numberAt(program.laterals, column.key, row), column.measure, style.units);
  });
}

/** As planned with: a decision stands over the city's value. */
function givenCell(lateral: Lateral, column: Column, style: NumberStyle): Cell {
  const value = given[column.key as keyof typeof given](lateral);
  return typeof value === "number" ? numberCell(value, column.measure, style.units) : value;
}

/** What the districts from one number to another come to. */
function totalIn({ program }: BookContents, column: Column, from: number, to: number): number {
  const districts = program.totals.districts.slice(from - 1, to);
  const sum = (of: (totals: (typeof districts)[number]) => number): number =>
    districts.reduce((total, each) => total + of(each), 0);
  switch (column.key) {
    case "resin":
      return toShown(sum((each) => each.resinMillilitres) / 1000, "volume", program.basis.program.units);
    case "crew_minutes":
      return sum((each) => each.crewMinutes);
    case "cost":
      return sum((each) => each.cost) / 100;
    default:
      throw new RangeError(`totalIn: ${column.key} is not summed`);
  }
}

function sheetColumn(column: Column, style: NumberStyle): SheetColumn {
  const format = formatOf(column.measure, style);
  return {
    heading: headingWithUnit(column, style),
    width: widths[column.key] ?? (isNumeric(column.measure) ? 10 : 14),
    ...(format === undefined ? {} : { format }),
    ...(column.key === "location" ? { wrap: true as const } : {}),
  };
}

const widths: Readonly<Record<string, number>> = {
  rank: 7,
  likelihood: 11,
  consequence: 13,
  location: 24,
  condition_state: 16,
  treatment: 28,
  own_choice: 28,
  runner_up: 28,
  season_treatment: 28,
  season_reason: 28,
  wall_check: 22,
  wall_decider: 17,
  cost: 13,
  surface: 10,
  cross_bore: 11,
};

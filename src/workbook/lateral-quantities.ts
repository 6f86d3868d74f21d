import type { Part as BidPart } from "../bidding/bid.ts";
import { ITEM_FORMAT, ITEM_HEADING } from "./bid-schedule.ts";
import type { BidQuantity } from "./bid-view.ts";
import type { LongList, Part } from "./long-list.ts";
import { HUNDREDTHS } from "./number-format.ts";
import { lettersOf, rangeIn } from "./references.ts";
import { firstRow, rowsOf, type SheetColumn, type SheetModel } from "./sheet-model.ts";

const NAME = "Lateral quantities";

const columns = {
  lateral: { heading: "Lateral", width: 14 },
  district: { heading: "District", width: 18 },
  districtNumber: { heading: "District no.", width: 9, format: "0" },
  item: { heading: ITEM_HEADING, width: 8, format: ITEM_FORMAT },
  label: { heading: "Bid line", width: 38 },
  unit: { heading: "Unit", width: 10 },
  quantity: { heading: "Quantity", width: 12, format: HUNDREDTHS },
  part: { heading: "Part", width: 7, format: "0" },
} as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columns);

const notesOf = (part: Part<BidQuantity>): readonly string[] => [
  "One row for each bid line of each lateral. Quantities on the other sheets are sums over this one.",
  ...part.notes,
];

/** Parts of the bid by number, as formulas compare them. */
const PARTS = "Part 0 is the base bid, 1 the first alternate, and so on in the order stated.";
const partNumber = (part: BidPart): number => (part === "base" ? 0 : part);

/**
 * The long list that every bid quantity is summed from.
 *
 * @param divided whether there are alternates: then each row says its part
 */
export function lateralQuantitiesSheets(
  quantities: LongList<BidQuantity>,
  divided = false,
): readonly SheetModel[] {
  const shown = Object.values(columns).slice(0, divided ? undefined : -1);
  return quantities.parts.map((part) => ({
    name: part.nameOf(NAME),
    title: part.nameOf(NAME),
    notes: divided ? [`${notesOf(part)[0]} ${PARTS}`, ...part.notes] : notesOf(part),
    columns: shown,
    rows: rowsOf(part, ({ lateral, district, districtNumber, line, hundredths }) => [
      lateral,
      district,
      districtNumber,
      line.number,
      line.label,
      line.unit,
      { kind: "number", value: hundredths / 100, format: line.format },
      ...(divided ? [partNumber(line.part)] : []),
    ]),
    frozenColumns: 1,
    pagesWide: 1,
    portrait: true,
    locked: true,
    filtered: true,
  }));
}

/**
 * The sum of a line over the laterals, by item number: numbers are matched exactly, where text would be matched
 * without case, with wildcards, and `01` as 1. Rounded because a sum of decimals is not quite a decimal.
 */
export const sumOfLine = (itemCell: string, quantities: LongList<BidQuantity>): string =>
  rounded(quantities.parts.map((part) => sumIn(part, itemCell)));

/** The same for one part of the bid. */
export const sumOfLineInPart = (itemCell: string, of: BidPart, quantities: LongList<BidQuantity>): string =>
  rounded(
    quantities.parts.map((part) => sumIn(part, itemCell, `,${column("part", part)},${partNumber(of)}`)),
  );

/** The same for one district, which is in one part. */
export const sumOfLineInDistrict = (
  itemCell: string,
  district: number,
  quantities: LongList<BidQuantity>,
): string =>
  rounded(
    quantities.parts
      .filter(({ from, to }) => from <= district && district <= to)
      .map((part) => sumIn(part, itemCell, `,${column("districtNumber", part)},${district}`)),
  );

const rounded = (sums: readonly string[]): string => `ROUND(${sums.join("+")},2)`;

const sumIn = (part: Part<BidQuantity>, itemCell: string, more = ""): string =>
  `SUMIFS(${column("quantity", part)},${column("item", part)},${itemCell}${more})`;

const column = (key: keyof typeof columns, part: Part<BidQuantity>): string =>
  rangeIn(part.nameOf(NAME), at[key], firstRow(notesOf(part)), part.length);

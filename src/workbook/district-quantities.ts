import { ITEM_FORMAT, ITEM_HEADING, type ScheduleLine } from "./bid-schedule.ts";
import type { BidView } from "./bid-view.ts";
import { sumOfLineInDistrict } from "./lateral-quantities.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { columnLetter } from "./references.ts";
import { type Cell, firstRow, formula, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";

/** Columns before the districts: item, bid line, unit. */
const BEFORE = 3;
/** Districts that fit on a page beside them. */
const DISTRICTS_A_PAGE = 8;

const notes = [
  "Sums over the lateral quantities by district number, all parts of the bid together. Lump sums are for the whole program and not listed here. " +
    "The last column must be zero everywhere.",
];

/**
 * Bid quantities by district, with the program's sum and its difference from the bid schedule.
 *
 * @param scheduleCells the quantity cells of a line in the parts of the bid schedule, with their sheets
 */
export function districtQuantitiesSheet(
  { lines, districts, quantities }: BidView,
  scheduleCells: (key: string) => readonly string[],
): SheetModel {
  const listed = linesOfAllParts(lines).filter((line) => line.item.unit !== "lump sum");
  const first = firstRow(notes);
  const letters = districts.map((_, i) => columnLetter(BEFORE + i));
  const [programLetter, scheduleLetter, differenceLetter] = [0, 1, 2].map((i) =>
    columnLetter(BEFORE + districts.length + i),
  );

  const rows = listed.map((line, i): Row => {
    const row = first + i;
    const { format } = line;
    return [
      line.number,
      line.label,
      line.unit,
      ...districts.map(
        ({ number, bidLines }): Cell =>
          formula(
            sumOfLineInDistrict(`$A${row}`, number, quantities),
            (bidLines.get(line.key) ?? 0) / 100,
            format,
          ),
      ),
      letters.length === 0
        ? 0
        : formula(`ROUND(SUM(${letters[0]}${row}:${letters.at(-1)}${row}),2)`, line.hundredths / 100, format),
      formula(scheduleCells(line.key).join("+"), line.hundredths / 100, format),
      formula(`ROUND(${programLetter}${row}-${scheduleLetter}${row},2)`, 0, format),
    ];
  });
  const quantity = (heading: string): SheetColumn => ({ heading, width: 12, format: HUNDREDTHS });
  const columns: readonly SheetColumn[] = [
    { heading: ITEM_HEADING, width: 8, format: ITEM_FORMAT },
    { heading: "Bid line", width: 38 },
    { heading: "Unit", width: 10 },
    ...districts.map(({ number, name }) => quantity(`${number}: ${name}`)),
    quantity("Program"),
    quantity("Bid schedule"),
    quantity("Difference"),
  ];
  const differences = `${differenceLetter}${first}:${differenceLetter}${first + rows.length - 1}`;
  const disagreeing = rows.length === 0 ? 0 : formula(`SUMPRODUCT(--(${differences}<>0))`, 0, WHOLE);
  return {
    name: "District quantities",
    title: "District quantities",
    notes,
    columns,
    rows,
    foot: [
      columns.map((_, i): Cell => {
        if (i === 1) return "Lines that differ from the bid schedule";
        return i === columns.length - 1 ? disagreeing : null;
      }),
    ],
    frozenColumns: BEFORE,
    pagesWide: Math.max(1, Math.ceil((districts.length + 3) / (DISTRICTS_A_PAGE + 3))),
    locked: true,
  };
}

/** Each line once, with its quantity over all parts, in the order of the items. */
function linesOfAllParts(lines: BidView["lines"]): readonly ScheduleLine[] {
  const whole = new Map<string, ScheduleLine>();
  for (const line of lines) {
    const other = whole.get(line.key);
    whole.set(
      line.key,
      other === undefined ? line : { ...line, hundredths: other.hundredths + line.hundredths },
    );
  }
  return [...whole.values()].sort((a, b) => a.number - b.number);
}

import type { IssuedContent, IssuedRecordLine, IssuedSheet, ShownCell } from "../bidding/issue-changes.ts";
import { isoDate } from "../quantity/calendar.ts";
import { day } from "../quantity/si.ts";
import { ALLOWANCE_UNIT, allowanceKey, allowanceWording } from "./allowances.ts";
import { itemNumber, scheduleSheetName } from "./bid-schedule.ts";
import { lineKey } from "./bid-schedule-sheet.ts";
import type { BidScheduleLine, BidView } from "./bid-view.ts";
import { DAY_ZERO, isDateFormat, shownIn } from "./number-format.ts";
import type { Book, Cell, SheetModel } from "./sheet-model.ts";

/** What an issue holds, as it is kept and compared with the next: every sheet but those that are about the issue itself. */
export const issuedContent = (view: BidView, { sheets }: Book): IssuedContent => ({
  lines: [...baseLines(view), ...view.lines.filter(({ part }) => part !== "base").map(lineRecord)],
  sheets: sheets.filter(({ name }) => !isKeptApart(name)).map(sheetContent),
});

/** Cells as the sheets of a book show them: numbers in the format of their column. */
export function cellsAsShown({ sheets }: Book): ShownCell {
  const formats = new Map(
    sheets.map(({ name, columns }) => [
      name,
      new Map(columns.map(({ heading, format }) => [heading, format ?? ""])),
    ]),
  );
  return (sheet, heading, text) => shownIn(formats.get(sheet)?.get(heading) ?? "", text);
}

const baseLines = (view: BidView): readonly IssuedRecordLine[] => [
  ...view.lines.filter(({ part }) => part === "base").map(lineRecord),
  ...view.allowances.map(
    (allowance): IssuedRecordLine => ({
      key: allowanceKey(allowance),
      sheet: scheduleSheetName("base"),
      item: itemNumber(allowance.number),
      wording: allowanceWording(allowance),
      unit: ALLOWANCE_UNIT,
      hundredths: 100,
      amount: allowance.amount,
    }),
  ),
];

const lineRecord = (line: BidScheduleLine): IssuedRecordLine => ({
  key: lineKey(line),
  sheet: scheduleSheetName(line.part),
  item: itemNumber(line.number),
  wording: line.description,
  unit: line.unit,
  hundredths: line.hundredths,
  amount: null,
});

/** The schedule is kept as its lines; quantities by district are sums of the lateral quantities; the rest tells of the issue. */
const keptApart: ReadonlySet<string> = new Set([
  scheduleSheetName("base"),
  "Bid form",
  "Changes",
  "District quantities",
  "How to read this",
]);
const isKeptApart = (name: string): boolean => keptApart.has(name) || /^Alternate \d$/.test(name);

function sheetContent({ name, title, notes, columns, rows }: SheetModel): IssuedSheet {
  return {
    name,
    notes: [title, ...notes],
    headings: columns.map(({ heading }) => heading),
    keys: keysOf(name),
    rows: [...rows].map((row) => row.map(textOf)),
  };
}

/** The columns that say what a row is about; numbers of districts, items and sources change with other rows. */
function keysOf(sheet: string): readonly number[] {
  if (sheet === "Basis") return [0, 1];
  if (sheet === "Sources") return [1];
  return sheet.startsWith("Lateral quantities") ? [0, 4] : [0];
}

function textOf(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "string") return cell;
  if (typeof cell === "number") return Number.isNaN(cell) ? "" : String(cell);
  switch (cell.kind) {
    case "number":
      // Dates are compared as dates, however a program writes them.
      return isDateFormat(cell.format) ? isoDate(day(cell.value - DAY_ZERO)) : String(cell.value);
    case "pick":
      return cell.value;
    case "formula":
      return String(cell.result);
    case "section":
      return cell.text;
    case "unit price":
    case "answer":
      return "";
    default:
      return cell satisfies never;
  }
}

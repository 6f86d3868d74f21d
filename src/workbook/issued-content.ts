import type { IssuedContent, IssuedSheet } from "../bidding/issue-changes.ts";
import { itemNumber } from "./bid-schedule.ts";
import type { BidView } from "./bid-view.ts";
import type { Book, Cell, SheetModel } from "./sheet-model.ts";

/** What an issue holds, as it is kept and compared with the next: every sheet but those that are about the issue itself. */
export const issuedContent = ({ lines }: BidView, { sheets }: Book): IssuedContent => ({
  lines: lines.map(({ key, number, description, unit, hundredths }) => ({
    key,
    item: itemNumber(number),
    wording: description,
    unit,
    hundredths,
  })),
  sheets: sheets.filter(({ name }) => !keptApart.has(name)).map(sheetContent),
});

/** The schedule is kept as its lines; quantities by district are sums of the lateral quantities; the rest tells of the issue. */
const keptApart: ReadonlySet<string> = new Set([
  "Bid schedule",
  "Bid form",
  "Changes",
  "District quantities",
  "How to read this",
]);

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
    case "pick":
      return String(cell.value);
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

import type ExcelJS from "exceljs";
import type { Book } from "./sheet-model.ts";

const MILLISECONDS_PER_DAY = 86_400_000;

/** What the file says of itself: when the plan was made for, not when it was written. Same program, same file. */
export function setProperties(workbook: ExcelJS.Workbook, { head, title }: Book): void {
  const asOf = new Date(head.asOf * MILLISECONDS_PER_DAY);
  workbook.created = asOf;
  workbook.modified = asOf;
  workbook.creator = "wyeplan";
  workbook.lastModifiedBy = "wyeplan";
  workbook.title = title;
}

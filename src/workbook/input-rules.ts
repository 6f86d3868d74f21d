import type ExcelJS from "exceljs";
import type { Cell } from "./sheet-model.ts";

/** What may be typed into an input; null for other cells. */
export function ruleFor(cell: Cell, address: string): ExcelJS.DataValidation | null {
  if (cell === null || typeof cell !== "object") return null;
  if (cell.kind === "unit price") return unitPriceRule(address);
  return cell.kind === "pick" ? pickRule(cell.list) : null;
}

const pickRule = (list: string): ExcelJS.DataValidation => ({
  type: "list",
  allowBlank: false,
  formulae: [list],
  showErrorMessage: true,
  errorStyle: "stop",
  errorTitle: "Lateral",
  error: "One of the list.",
});

const unitPriceRule = (address: string): ExcelJS.DataValidation => ({
  type: "custom",
  allowBlank: true,
  formulae: [`AND(ISNUMBER(${address}),${address}>=0,ROUND(${address},2)=${address})`],
  showErrorMessage: true,
  errorStyle: "stop",
  errorTitle: "Unit price",
  error: "A number, zero or more, with no more than two decimals.",
});

import type ExcelJS from "exceljs";
import { showDate } from "../quantity/show-date.ts";
import { scaleFor } from "./page-breaks.ts";
import { columnLetter } from "./references.ts";
import { footerText } from "./safe-text.ts";
import { type Book, headingRow, type SheetModel } from "./sheet-model.ts";

/** Paper sizes by the numbers of the file format. */
const LETTER = 1;
const A4 = 9;
/** Font of headers and footers, in their own code. A space follows it, or a name that begins with a digit would be a size. */
const MARGIN_FONT = '&"Arial,Regular"&8';

/** How the page, the print and the view of a sheet are set. */
export function sheetOptions({ head, title }: Book, sheet: SheetModel): Partial<ExcelJS.AddWorksheetOptions> {
  const heading = headingRow(sheet.notes);
  const { frozenColumns } = sheet;
  return {
    pageSetup: {
      paperSize: (head.print.paper === "letter" ? LETTER : A4) as ExcelJS.PaperSize,
      orientation: sheet.portrait ? "portrait" : "landscape",
      ...(sheet.pageWidth === undefined
        ? { fitToPage: true, fitToWidth: sheet.pagesWide, fitToHeight: 0 }
        : { scale: scaleFor(sheet.pageWidth, sheet, head.print) }),
      horizontalCentered: false,
      margins: { left: 0.5, right: 0.5, top: 0.6, bottom: 0.7, header: 0.3, footer: 0.35 },
      printTitlesRow: `${heading}:${heading}`,
      ...(frozenColumns > 0 && sheet.pagesWide > 1
        ? { printTitlesColumn: `A:${columnLetter(frozenColumns - 1)}` }
        : {}),
    },
    headerFooter: {
      oddHeader: `&L${MARGIN_FONT} ${footerText(head.name)}: ${footerText(title)}&R${MARGIN_FONT} ${footerText(sheet.title)}`,
      oddFooter: `&L${MARGIN_FONT} ${footerText(head.name)}, as of ${showDate(head.asOf, head.print.dates)}&R${MARGIN_FONT} Page &P of &N`,
    },
    // The library's own is 55 points below the line of writing, which is no row of ours.
    properties: { dyDescent: 0 },
    views: [{ state: "frozen", xSplit: frozenColumns, ySplit: heading, showGridLines: false }],
  };
}

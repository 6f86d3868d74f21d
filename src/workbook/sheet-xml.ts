import type ExcelJS from "exceljs";
import { OFFICE, XML } from "./book-parts.ts";
import { heightOf, styleOf, verifyRow, type Written, written } from "./cell-content.ts";
import { ruleFor } from "./input-rules.ts";
import { breakBeforeFoot } from "./page-breaks.ts";
import { columnLetter } from "./references.ts";
import { cellText, looksLikeFormula } from "./safe-text.ts";
import { type HeadRow, headRows } from "./sheet-head.ts";
import { type Book, type Cell, headingRow, type Row, type SheetModel } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";
import type { StyleSheet } from "./style-sheet.ts";
import { xmlEscaped } from "./xml-escaped.ts";

/** Characters of XML that are gathered before they are packed. */
const PIECE = 1 << 17;

/**
 * The part of one sheet as bytes, a piece at a time and none kept: rows are worked out as they are asked for.
 * Its elements stand in the order of the file format (ECMA-376 Part 1, 18.3.1.99).
 */
export function* sheetXml(book: Book, sheet: SheetModel, styles: StyleSheet): Generator<Buffer> {
  const rules: string[] = [];
  let xml = `${beforeRows(sheet)}<sheetData>`;
  for (const row of headRows(book.head, sheet)) xml += headRowXml(row, styles);
  const rowXml = rowWriter(sheet, styles, rules);
  const heading = headingRow(sheet.notes);
  let at = heading;
  for (const row of sheet.rows) {
    xml += rowXml(row, ++at, false);
    if (xml.length < PIECE) continue;
    yield Buffer.from(xml);
    xml = "";
  }
  const last = at;
  for (const row of sheet.foot ?? []) xml += rowXml(row, ++at, true);
  yield Buffer.from(`${xml}</sheetData>${afterRows(book, sheet, heading, last, rules)}`);
}

const NAMESPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

function beforeRows(sheet: SheetModel): string {
  const heading = headingRow(sheet.notes);
  const { frozenColumns: x } = sheet;
  const pane = x > 0 ? "bottomRight" : "bottomLeft";
  const columns = sheet.columns.map(
    ({ width }, i) => `<col min="${i + 1}" max="${i + 1}" width="${width}" customWidth="1"/>`,
  );
  return [
    XML,
    `<worksheet xmlns="${NAMESPACE}" xmlns:r="${OFFICE}/relationships">${sheet.pageWidth === undefined ? '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>' : ""}`,
    '<sheetViews><sheetView workbookViewId="0" showGridLines="0">',
    `<pane${x > 0 ? ` xSplit="${x}"` : ""} ySplit="${heading}" topLeftCell="${columnLetter(x)}${heading + 1}"`,
    ` activePane="${pane}" state="frozen"/><selection pane="${pane}"/></sheetView></sheetViews>`,
    `<sheetFormatPr defaultRowHeight="15"/><cols>${columns.join("")}</cols>`,
  ].join("");
}

function headRowXml({ at, height, column, texts, style, across }: HeadRow, styles: StyleSheet): string {
  const number = styles.numberOf(style);
  const cells = Array.from({ length: Math.max(across, texts.length) }, (_, i) =>
    cellXml(`${columnLetter(column - 1 + i)}${at}`, number, texts[i] ?? null),
  );
  return `<row r="${at}"${heightXml(height)}>${cells.join("")}</row>`;
}

const heightXml = (height: number | null): string =>
  height === null ? "" : ` ht="${height}" customHeight="1"`;

/**
 * Writes rows of the sheet. What nearly every cell is, plain text or a number, takes its style from a table by column:
 * asking for the style anew took as long as all the rest.
 */
function rowWriter(sheet: SheetModel, styles: StyleSheet, rules: string[]) {
  const { columns } = sheet;
  const letters = columns.map((_, i) => columnLetter(i));
  const wraps = columns.some(({ wrap }) => wrap);
  const plain = columns.map((column) => ({
    text: styles.numberOf(styleOf("text", column, false)),
    number: styles.numberOf(styleOf(0, column, false)),
  }));
  const onlyLine = heightXml(heightOf([], columns));
  const number = (cell: Cell, i: number, foot: boolean): number => {
    if (!foot) {
      if (cell === null || typeof cell === "number") return plain[i]!.number;
      if (typeof cell === "string" && !looksLikeFormula(cell)) return plain[i]!.text;
    }
    return styles.numberOf(styleOf(cell, columns[i]!, foot));
  };
  return (cells: Row, at: number, foot: boolean): string => {
    verifyRow(at, sheet.name);
    let xml = `<row r="${at}"${wraps ? heightXml(heightOf(cells, columns)) : onlyLine}>`;
    for (let i = 0; i < columns.length; i++) {
      const cell = cells[i] ?? null;
      const address = letters[i]! + at;
      xml += cellXml(address, number(cell, i, foot), written(cell, sheet.name, at));
      if (cell !== null && typeof cell === "object") {
        const rule = ruleFor(cell, address);
        if (rule !== null) rules.push(ruleXml(rule, address));
      }
    }
    return `${xml}</row>`;
  };
}

function cellXml(address: string, style: number, value: Written): string {
  if (value === null) return `<c r="${address}" s="${style}"/>`;
  if (typeof value === "number") return `<c r="${address}" s="${style}"><v>${value}</v></c>`;
  if (typeof value === "string")
    return `<c r="${address}" s="${style}" t="inlineStr"><is>${textXml("t", value)}</is></c>`;
  const { formula, result } = value;
  return typeof result === "number"
    ? `<c r="${address}" s="${style}"><f>${xmlEscaped(formula)}</f><v>${result}</v></c>`
    : `<c r="${address}" s="${style}" t="str"><f>${xmlEscaped(formula)}</f>${textXml("v", result)}</c>`;
}

/** What is neither escaped, cut nor replaced, and has no blanks that a reader may drop: most texts. */
const AS_IT_IS = /^[!#-%(-;=?-^`-~](?:[ !#-%(-;=?-^`-~]*[!#-%(-;=?-^`-~])?$/;
const LONGEST_LOOKED_AT = 1000;

function textXml(element: "t" | "v", text: string): string {
  if (text.length < LONGEST_LOOKED_AT && AS_IT_IS.test(text)) return `<${element}>${text}</${element}>`;
  // Line ends and blanks at the ends would otherwise be read as none.
  const kept = /^\s|\s$|\n/.test(text) && element === "t" ? ' xml:space="preserve"' : "";
  return `<${element}${kept}>${xmlEscaped(cellText(text))}</${element}>`;
}

function ruleXml(rule: ExcelJS.DataValidation, address: string): string {
  const attributes = [
    `type="${rule.type}"`,
    ...(rule.allowBlank ? ['allowBlank="1"'] : []),
    ...(rule.showErrorMessage ? ['showErrorMessage="1"'] : []),
    `errorStyle="${rule.errorStyle}"`,
    `errorTitle="${xmlEscaped(rule.errorTitle ?? "")}"`,
    `error="${xmlEscaped(rule.error ?? "")}"`,
    `sqref="${address}"`,
  ];
  return `<dataValidation ${attributes.join(" ")}><formula1>${xmlEscaped(String(rule.formulae[0]))}</formula1></dataValidation>`;
}

type PageSetup = NonNullable<ReturnType<typeof sheetOptions>["pageSetup"]>;
const scaleXml = ({ scale }: PageSetup): string => (scale === undefined ? "" : ` scale="${scale}"`);
const fitXml = ({ fitToPage, fitToWidth, fitToHeight }: PageSetup): string =>
  fitToPage === true ? ` fitToWidth="${fitToWidth}" fitToHeight="${fitToHeight}"` : "";

function afterRows(
  book: Book,
  sheet: SheetModel,
  heading: number,
  last: number,
  rules: readonly string[],
): string {
  const { pageSetup, headerFooter } = sheetOptions(book, sheet);
  const breakBefore = breakBeforeFoot(sheet, book.head.print);
  const merged = headRows(book.head, sheet)
    .filter(({ across }) => across > 1)
    .map(
      ({ at, column, across }) =>
        `<mergeCell ref="${columnLetter(column - 1)}${at}:${columnLetter(column + across - 2)}${at}"/>`,
    );
  const { left, right, top, bottom, header, footer } = pageSetup!.margins!;
  return [
    // Without a password: it is there against slips, not against people. Each 0 is something that stays allowed.
    sheet.locked
      ? '<sheetProtection sheet="1" formatColumns="0" formatRows="0" sort="0" autoFilter="0"/>'
      : "",
    sheet.filtered && last > heading
      ? `<autoFilter ref="A${heading}:${columnLetter(sheet.columns.length - 1)}${last}"/>`
      : "",
    merged.length === 0 ? "" : `<mergeCells count="${merged.length}">${merged.join("")}</mergeCells>`,
    rules.length === 0 ? "" : `<dataValidations count="${rules.length}">${rules.join("")}</dataValidations>`,
    `<pageMargins left="${left}" right="${right}" top="${top}" bottom="${bottom}" header="${header}" footer="${footer}"/>`,
    `<pageSetup paperSize="${pageSetup!.paperSize}"${scaleXml(pageSetup!)} orientation="${pageSetup!.orientation}"${fitXml(pageSetup!)}/>`,
    `<headerFooter><oddHeader>${xmlEscaped(headerFooter!.oddHeader!)}</oddHeader><oddFooter>${xmlEscaped(headerFooter!.oddFooter!)}</oddFooter></headerFooter>`,
    breakBefore === null
      ? ""
      : `<rowBreaks count="1" manualBreakCount="1"><brk id="${heading + breakBefore}" max="16383" man="1"/></rowBreaks>`,
    (sheet.pictures ?? []).length === 0 ? "" : '<drawing r:id="rId1"/>',
    "</worksheet>",
  ].join("");
}

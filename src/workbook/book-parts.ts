import type { Book } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";
import { xmlEscaped } from "./xml-escaped.ts";

/*
 * The small parts of a workbook file (ECMA-376 Part 1, 11 and 18.2; Part 2, 9 and 11): what is in it and how its parts
 * belong together.
 */

export const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
export const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";
const DRAWING_TYPE = "application/vnd.openxmlformats-officedocument.drawing+xml";
const MILLISECONDS_PER_DAY = 86_400_000;

export const sheetPart = (i: number): string => `xl/worksheets/sheet${i + 1}.xml`;
export const sheetRelations = (i: number): string => `xl/worksheets/_rels/sheet${i + 1}.xml.rels`;

/** Every small part by its name in the file, but the styles and what pictures need. */
export function smallParts(book: Book): ReadonlyMap<string, string> {
  return new Map([
    ["[Content_Types].xml", contentTypes(book)],
    [
      "_rels/.rels",
      relationships([
        [`${OFFICE}/relationships/officeDocument`, "xl/workbook.xml"],
        [`${PACKAGE}/relationships/metadata/core-properties`, "docProps/core.xml"],
        [`${OFFICE}/relationships/extended-properties`, "docProps/app.xml"],
      ]),
    ],
    ["docProps/core.xml", coreProperties(book)],
    ["docProps/app.xml", appProperties(book)],
    ["xl/workbook.xml", workbook(book)],
    [
      "xl/_rels/workbook.xml.rels",
      relationships([
        ...book.sheets.map(
          (_, i) => [`${OFFICE}/relationships/worksheet`, `worksheets/sheet${i + 1}.xml`] as const,
        ),
        [`${OFFICE}/relationships/styles`, "styles.xml"],
      ]),
    ],
  ]);
}

function contentTypes({ sheets }: Book): string {
  const part = (name: string, type: string) => `<Override PartName="/${name}" ContentType="${type}"/>`;
  const drawings = sheets.filter(({ pictures = [] }) => pictures.length > 0);
  return [
    `${XML}<Types xmlns="${PACKAGE}/content-types">`,
    drawings.length === 0 ? "" : '<Default Extension="png" ContentType="image/png"/>',
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>',
    '<Default Extension="xml" ContentType="application/xml"/>',
    part("xl/workbook.xml", `${SHEET_TYPE}.sheet.main+xml`),
    ...sheets.map((_, i) => part(sheetPart(i), `${SHEET_TYPE}.worksheet+xml`)),
    part("xl/styles.xml", `${SHEET_TYPE}.styles+xml`),
    ...drawings.map((_, i) => part(`xl/drawings/drawing${i + 1}.xml`, DRAWING_TYPE)),
    part("docProps/core.xml", "application/vnd.openxmlformats-package.core-properties+xml"),
    part("docProps/app.xml", "application/vnd.openxmlformats-officedocument.extended-properties+xml"),
    "</Types>",
  ].join("");
}

export function relationships(all: readonly (readonly [string, string])[]): string {
  const each = all.map(
    ([type, target], i) => `<Relationship Id="rId${i + 1}" Type="${type}" Target="${target}"/>`,
  );
  return `${XML}<Relationships xmlns="${PACKAGE}/relationships">${each.join("")}</Relationships>`;
}

/** When the plan was made for, not when it was written: same program, same file. */
function coreProperties({ head, title }: Book): string {
  const asOf = new Date(head.asOf * MILLISECONDS_PER_DAY).toISOString().replace(".000", "");
  const when = (name: string) => `<dcterms:${name} xsi:type="dcterms:W3CDTF">${asOf}</dcterms:${name}>`;
  return [
    `${XML}<cp:coreProperties xmlns:cp="${PACKAGE}/metadata/core-properties"`,
    ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"',
    ' xmlns:dcmitype="http://purl.org/dc/dcmitype/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">',
    `<dc:creator>wyeplan</dc:creator><dc:title>${xmlEscaped(title)}</dc:title>`,
    `<cp:lastModifiedBy>wyeplan</cp:lastModifiedBy>${when("created")}${when("modified")}</cp:coreProperties>`,
  ].join("");
}

/** The program that wrote the book, and the names of its sheets. */
export function appProperties({ sheets }: Book): string {
  const names = sheets.map(({ name }) => `<vt:lpstr>${xmlEscaped(name)}</vt:lpstr>`).join("");
  return [
    `${XML}<Properties xmlns="${OFFICE}/extended-properties" xmlns:vt="${OFFICE}/docPropsVTypes">`,
    "<Application>wyeplan</Application><DocSecurity>0</DocSecurity><ScaleCrop>false</ScaleCrop>",
    '<HeadingPairs><vt:vector size="2" baseType="variant"><vt:variant><vt:lpstr>Worksheets</vt:lpstr></vt:variant>',
    `<vt:variant><vt:i4>${sheets.length}</vt:i4></vt:variant></vt:vector></HeadingPairs>`,
    `<TitlesOfParts><vt:vector size="${sheets.length}" baseType="lpstr">${names}</vt:vector></TitlesOfParts>`,
    "<LinksUpToDate>false</LinksUpToDate><SharedDoc>false</SharedDoc><HyperlinksChanged>false</HyperlinksChanged>",
    "<AppVersion>16.0300</AppVersion></Properties>",
  ].join("");
}

function workbook(book: Book): string {
  const sheets = book.sheets.map(
    ({ name }, i) => `<sheet name="${xmlEscaped(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`,
  );
  const names = [...cellNames(book), ...printedTitles(book)].join("");
  return [
    `${XML}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}/relationships"><workbookPr/>`,
    `<bookViews><workbookView/></bookViews><sheets>${sheets.join("")}</sheets>`,
    `<definedNames>${names}</definedNames><calcPr calcId="171027"/></workbook>`,
  ].join("");
}

const quoted = (sheet: string): string => `'${sheet.replaceAll("'", "''")}'`;

const cellNames = ({ sheets }: Book): readonly string[] =>
  sheets.flatMap((sheet) =>
    Object.entries(sheet.names ?? {}).map(
      ([name, address]) =>
        `<definedName name="${name}">${xmlEscaped(`${quoted(sheet.name)}!${oneCell(address)}`)}</definedName>`,
    ),
  );

/** A range of one cell is that cell, as the library that writes small books has it. */
const oneCell = (address: string): string => address.replace(/^(\$[A-Z]+\$\d+):\1$/, "$1");

/** Headings, and where a sheet is several pages wide its first columns, on every page. */
function printedTitles(book: Book): readonly string[] {
  return book.sheets.map((sheet, i) => {
    const { printTitlesRow: row, printTitlesColumn: column } = sheetOptions(book, sheet).pageSetup!;
    const ranges = [...(column === undefined ? [] : [column]), ...(row === undefined ? [] : [row])].map(
      (range) => `${quoted(sheet.name)}!${range.replace(/(\w+):(\w+)/, "$$$1:$$$2")}`,
    );
    return `<definedName name="_xlnm.Print_Titles" localSheetId="${i}">${xmlEscaped(ranges.join(","))}</definedName>`;
  });
}

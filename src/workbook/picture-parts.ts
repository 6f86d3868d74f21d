import { OFFICE, relationships, sheetRelations, XML } from "./book-parts.ts";
import { cellText } from "./safe-text.ts";
import { type Book, headingRow, type SheetModel, type SheetPicture } from "./sheet-model.ts";
import { xmlEscaped } from "./xml-escaped.ts";

/*
 * The parts of a workbook file that hold pictures (ECMA-376 Part 1, 20.5): a drawing for each sheet that has some, which
 * says where each stands, and the pictures themselves.
 */

/** English Metric Units: 914,400 an inch, at 96 pixels an inch. */
const EMU_PER_PIXEL = 9525;
/** Pixels of an empty row at least: 12.75 points, where a program goes by the font and not by the file. */
const ROW_PIXELS = 17;

const hasPictures = ({ pictures = [] }: SheetModel): boolean => pictures.length > 0;

/** Every part that pictures need, by its name in the file, in the order in which they are numbered. */
export function pictureParts({ sheets }: Book): ReadonlyMap<string, Buffer> {
  const parts = new Map<string, Buffer>();
  let [drawing, image] = [0, 0];
  for (const [i, sheet] of sheets.entries()) {
    if (!hasPictures(sheet)) continue;
    drawing++;
    parts.set(
      sheetRelations(i),
      Buffer.from(relationships([[`${OFFICE}/relationships/drawing`, `../drawings/drawing${drawing}.xml`]])),
    );
    parts.set(drawingPart(drawing), Buffer.from(drawingXml(sheet)));
    const images: (readonly [string, string])[] = [];
    for (const { png } of sheet.pictures ?? []) {
      image++;
      images.push([`${OFFICE}/relationships/image`, `../media/image${image}.png`]);
      parts.set(`xl/media/image${image}.png`, Buffer.from(png));
    }
    parts.set(`xl/drawings/_rels/drawing${drawing}.xml.rels`, Buffer.from(relationships(images)));
  }
  return parts;
}

const drawingPart = (number: number): string => `xl/drawings/drawing${number}.xml`;

/** The drawings alone: where the pictures stand, and what they show in words. */
export const drawingParts = (book: Book): ReadonlyMap<string, Buffer> =>
  new Map([...pictureParts(book)].filter(([name]) => /^xl\/drawings\/drawing\d+\.xml$/.test(name)));

/** The row, counting from 0, at which each picture begins: below the last row, one under another. */
export function pictureRows(sheet: SheetModel): readonly number[] {
  let row = headingRow(sheet.notes) + sheet.rows.length + (sheet.foot?.length ?? 0) + 1;
  return (sheet.pictures ?? []).map(({ height }) => {
    const at = row;
    row += Math.ceil(height / ROW_PIXELS) + 1;
    return at;
  });
}

const SPREADSHEET_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing";
const DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/main";

function drawingXml(sheet: SheetModel): string {
  const rows = pictureRows(sheet);
  const anchors = (sheet.pictures ?? []).map((picture, i) => anchorXml(picture, i + 1, rows[i]!));
  return `${XML}<xdr:wsDr xmlns:xdr="${SPREADSHEET_DRAWING}" xmlns:a="${DRAWING}">${anchors.join("")}</xdr:wsDr>`;
}

/** A picture of its own size at a cell; `descr` is what is read to those who do not see it. */
function anchorXml({ width, height, alt }: SheetPicture, number: number, row: number): string {
  const size = `cx="${width * EMU_PER_PIXEL}" cy="${height * EMU_PER_PIXEL}"`;
  const words = xmlEscaped(cellText(alt));
  return [
    "<xdr:oneCellAnchor>",
    `<xdr:from><xdr:col>0</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from>`,
    `<xdr:ext ${size}/>`,
    `<xdr:pic><xdr:nvPicPr><xdr:cNvPr id="${number}" name="Picture ${number}" descr="${words}"/>`,
    '<xdr:cNvPicPr><a:picLocks noChangeAspect="1"/></xdr:cNvPicPr></xdr:nvPicPr>',
    `<xdr:blipFill><a:blip xmlns:r="${OFFICE}/relationships" r:embed="rId${number}"/>`,
    "<a:stretch><a:fillRect/></a:stretch></xdr:blipFill>",
    `<xdr:spPr><a:xfrm><a:off x="0" y="0"/><a:ext ${size}/></a:xfrm>`,
    '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr></xdr:pic><xdr:clientData/></xdr:oneCellAnchor>',
  ].join("");
}

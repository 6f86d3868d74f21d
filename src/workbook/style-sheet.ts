import type { Alignment, Border, Fill, Font, Style } from "exceljs";
import { xmlEscaped } from "./xml-escaped.ts";

/** Number formats that the file format knows by number (ECMA-376 Part 1, 18.8.30), as far as the books use them. */
const KNOWN_FORMATS: ReadonlyMap<string, number> = new Map([
  ["General", 0],
  ["0", 1],
  ["0.00", 2],
  ["#,##0", 3],
  ["#,##0.00", 4],
  ["0%", 9],
  ["0.00%", 10],
  ["@", 49],
]);
const FIRST_OWN_FORMAT = 164;
/**
 * The font by whose digits column widths are counted, seven pixels each: the one of the cells, which every machine has or
 * has a font of the same widths for. By another one columns are wider on some machines, and print smaller.
 */
export const DEFAULT_FONT = '<font><sz val="10"/><name val="Arial"/><family val="2"/></font>';

/** A list in which each text stands once. */
class Entries {
  readonly #numbers = new Map<string, number>();
  constructor(first: readonly string[] = []) {
    for (const xml of first) this.numberOf(xml);
  }
  numberOf(xml: string): number {
    const known = this.#numbers.get(xml);
    if (known !== undefined) return known;
    this.#numbers.set(xml, this.#numbers.size);
    return this.#numbers.size - 1;
  }
  get texts(): readonly string[] {
    return [...this.#numbers.keys()];
  }
  xml(element: string): string {
    return `<${element} count="${this.#numbers.size}">${this.texts.join("")}</${element}>`;
  }
}

/** The styles of a book, numbered as cells ask for them; the part `xl/styles.xml` is written when all have asked. */
export class StyleSheet {
  // What the file format wants to be there before any of ours (ECMA-376 Part 1, 18.8).
  readonly #fonts = new Entries([DEFAULT_FONT]);
  readonly #fills = new Entries([
    '<fill><patternFill patternType="none"/></fill>',
    '<fill><patternFill patternType="gray125"/></fill>',
  ]);
  readonly #borders = new Entries(["<border><left/><right/><top/><bottom/><diagonal/></border>"]);
  readonly #formats = new Entries();
  readonly #looks = new Entries(['<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>']);
  /** Styles are shared objects: most cells are answered here. */
  readonly #known = new Map<Partial<Style>, number>();

  /** The number under which cells of this style name it. */
  numberOf(style: Partial<Style>): number {
    const known = this.#known.get(style);
    if (known !== undefined) return known;
    const number = this.#looks.numberOf(this.#lookXml(style));
    this.#known.set(style, number);
    return number;
  }

  #lookXml({ numFmt, font, fill, border, alignment, protection }: Partial<Style>): string {
    const format = numFmt === undefined ? 0 : this.#formatNumber(numFmt);
    const inside = [
      alignment === undefined ? "" : alignmentXml(alignment),
      protection === undefined ? "" : `<protection locked="${protection.locked ? 1 : 0}"/>`,
    ].join("");
    const attributes = [
      `numFmtId="${format}"`,
      `fontId="${font === undefined ? 0 : this.#fonts.numberOf(fontXml(font))}"`,
      `fillId="${fill === undefined ? 0 : this.#fills.numberOf(fillXml(fill))}"`,
      `borderId="${border === undefined ? 0 : this.#borders.numberOf(borderXml(border))}"`,
      'xfId="0"',
      ...(format === 0 ? [] : ['applyNumberFormat="1"']),
      ...(font === undefined ? [] : ['applyFont="1"']),
      ...(fill === undefined ? [] : ['applyFill="1"']),
      ...(border === undefined ? [] : ['applyBorder="1"']),
      ...(alignment === undefined ? [] : ['applyAlignment="1"']),
      ...(protection === undefined ? [] : ['applyProtection="1"']),
    ].join(" ");
    return inside === "" ? `<xf ${attributes}/>` : `<xf ${attributes}>${inside}</xf>`;
  }

  #formatNumber(format: string): number {
    return KNOWN_FORMATS.get(format) ?? FIRST_OWN_FORMAT + this.#formats.numberOf(format);
  }

  /** The whole part. */
  xml(): string {
    return [
      '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n',
      '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">',
      this.#formatsXml(),
      this.#fonts.xml("fonts"),
      this.#fills.xml("fills"),
      this.#borders.xml("borders"),
      '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>',
      this.#looks.xml("cellXfs"),
      '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>',
      "</styleSheet>",
    ].join("");
  }

  #formatsXml(): string {
    const formats = this.#formats.texts;
    if (formats.length === 0) return "";
    const each = formats.map(
      (format, i) => `<numFmt numFmtId="${FIRST_OWN_FORMAT + i}" formatCode="${xmlEscaped(format)}"/>`,
    );
    return `<numFmts count="${each.length}">${each.join("")}</numFmts>`;
  }
}

const colorXml = (color: { readonly argb?: string } | undefined): string =>
  color?.argb === undefined ? "" : `<color rgb="${color.argb}"/>`;

const fontXml = ({ bold, size, color, name }: Partial<Font>): string =>
  `<font>${bold ? "<b/>" : ""}<sz val="${size}"/>${colorXml(color)}<name val="${name}"/></font>`;

function fillXml(fill: Fill): string {
  if (fill.type !== "pattern" || fill.fgColor?.argb === undefined)
    throw new RangeError(`StyleSheet: no fill but a plain one is known, not ${JSON.stringify(fill)}`);
  return `<fill><patternFill patternType="${fill.pattern}"><fgColor rgb="${fill.fgColor.argb}"/></patternFill></fill>`;
}

function borderXml(border: NonNullable<Style["border"]>): string {
  const sides = (["left", "right", "top", "bottom"] as const).map((side) => sideXml(side, border[side]));
  return `<border>${sides.join("")}<diagonal/></border>`;
}

const sideXml = (side: string, line: Partial<Border> | undefined): string =>
  line?.style === undefined
    ? `<${side}/>`
    : `<${side} style="${line.style}">${colorXml(line.color)}</${side}>`;

/** The file format says center where the styles say middle. */
const vertically = (vertical: Alignment["vertical"]): string => (vertical === "middle" ? "center" : vertical);

function alignmentXml({ horizontal, vertical, wrapText, indent }: Partial<Alignment>): string {
  const attributes = [
    ...(horizontal === undefined ? [] : [`horizontal="${horizontal}"`]),
    ...(vertical === undefined ? [] : [`vertical="${vertically(vertical)}"`]),
    ...(wrapText ? ['wrapText="1"'] : []),
    ...(indent === undefined ? [] : [`indent="${indent}"`]),
  ];
  return `<alignment ${attributes.join(" ")}/>`;
}

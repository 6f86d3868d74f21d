import type { Alignment, Borders, Fill, Font, Style } from "exceljs";

/** Dark blue-green; white on it has a contrast of about 9 to 1. */
const ACCENT = "FF1F4E5F";
const PALE_YELLOW = "FFFFF6CC";
const PALE_GREY = "FFF2F4F5";
const LINE = "FFC9D1D5";

const solid = (argb: string): Fill => ({ type: "pattern", pattern: "solid", fgColor: { argb } });
const font = (more: Partial<Font> = {}): Partial<Font> => ({ name: "Arial", size: 9, ...more });
const line = { style: "thin", color: { argb: LINE } } as const;
const boxed: Partial<Borders> = { top: line, bottom: line, left: line, right: line };

/** Styles by what a cell is for. Shared objects: the writer keeps one copy of each in the file. */
export const styles = {
  title: { font: font({ size: 14, bold: true, color: { argb: ACCENT } }), alignment: { vertical: "middle" } },
  subtitle: { font: font({ color: { argb: "FF555555" } }) },
  note: { font: font(), alignment: { wrapText: true, vertical: "top" } },
  heading: {
    font: font({ bold: true, color: { argb: "FFFFFFFF" } }),
    fill: solid(ACCENT),
    border: boxed,
    alignment: { wrapText: true, vertical: "middle", horizontal: "center" },
  },
} as const satisfies Record<string, Partial<Style>>;

export interface CellLook {
  readonly format: string | undefined;
  readonly wrap: boolean;
  readonly numeric: boolean;
  readonly foot: boolean;
  readonly input: boolean;
  readonly drawn: boolean;
}

/** By format, and then by the other looks as bits: asked for once a cell, millions of times. */
const made = new Map<string | undefined, (Partial<Style> | undefined)[]>();

/** The style of a data cell. */
export function cellStyle(look: CellLook): Partial<Style> {
  const ofFormat = made.get(look.format) ?? [];
  const bits =
    +look.wrap | (+look.numeric << 1) | (+look.foot << 2) | (+look.input << 3) | (+look.drawn << 4);
  const known = ofFormat[bits];
  if (known !== undefined) return known;
  const style = makeStyle(look);
  ofFormat[bits] = style;
  made.set(look.format, ofFormat);
  return style;
}

function makeStyle(look: CellLook): Partial<Style> {
  const alignment: Partial<Alignment> = {
    vertical: "top",
    // Text keeps off the number before it. Numbers get no indent: one program draws it in some cells only.
    ...(look.numeric ? { horizontal: "right" } : { horizontal: "left", indent: 1 }),
    ...(look.wrap ? { wrapText: true } : {}),
  };
  return {
    font: font({ ...(look.foot ? { bold: true } : {}), ...(look.drawn ? { name: "Courier New" } : {}) }),
    border: boxed,
    alignment,
    ...(look.format === undefined ? {} : { numFmt: look.format }),
    ...(look.input ? { fill: solid(PALE_YELLOW), protection: { locked: false } } : {}),
    ...(look.foot ? { fill: solid(PALE_GREY) } : {}),
  };
}

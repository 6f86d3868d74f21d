/** Points from one line of 9-point text to the next. */
const LINE_HEIGHT = 11.8;
/** Points above and below the text of a row. */
const ROW_MARGIN = 4;

/** Pixels of a unit of column width: the widest digit of the file's default font. */
const PIXELS_A_UNIT = 7;
/** Pixels at both sides of a column that text does not reach: margins and indent. */
const PIXELS_BESIDE = 14;
/** Mean pixels of a character in 9-point running text, on the wide side; a bold one is wider. */
const PIXELS_A_CHARACTER = { plain: 5.3, bold: 6.2 } as const;

/** Points that a row of this many lines takes. */
export const rowHeight = (lines: number): number => Math.round((lines * LINE_HEIGHT + ROW_MARGIN) * 4) / 4;

/**
 * Lines that a text takes in a column of this width, words kept whole where they fit. An estimate, on the safe side:
 * spreadsheet programs do not fit the height of merged rows, and some fit none when they open a file.
 */
export function linesIn(text: string, width: number, weight: keyof typeof PIXELS_A_CHARACTER): number {
  const most = Math.max(1, Math.floor((width * PIXELS_A_UNIT - PIXELS_BESIDE) / PIXELS_A_CHARACTER[weight]));
  if (text.length <= most && !text.includes("\n")) return 1;
  let lines = 0;
  for (const paragraph of text.split("\n")) {
    let used = 0;
    lines++;
    for (const word of paragraph.split(" ")) {
      if (used > 0 && used + 1 + word.length > most) {
        lines++;
        used = 0;
      }
      used += (used > 0 ? 1 : 0) + word.length;
      if (used > most) {
        lines += Math.ceil(used / most) - 1;
        used = used % most || most;
      }
    }
  }
  return lines;
}

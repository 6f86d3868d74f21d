import { visible, widthOf } from "./cell-text.ts";

/**
 * How a piece of text stands out. Attributes of the terminal's own colours only, so that light and dark screens both
 * work; nothing is told by an attribute alone.
 */
export type Look = "plain" | "bold" | "dim" | "reverse";

export interface Span {
  readonly text: string;
  readonly look: Look;
}

/** One line of the screen. */
export type Line = readonly Span[];

/** A piece of text, made visible: the only way text gets into a line. */
export const span = (text: string, look: Look = "plain"): Span => ({ text: visible(text), look });

export const lineOf = (text: string, look: Look = "plain"): Line => [span(text, look)];

export const widthOfLine = (line: Line): number => line.reduce((sum, { text }) => sum + widthOf(text), 0);

export const textOfLine = (line: Line): string => line.map(({ text }) => text).join("");

/** The line with blanks up to `width` cells. @throws RangeError when it is longer: whoever drew it miscounted. */
export function padLine(line: Line, width: number): Line {
  const missing = width - widthOfLine(line);
  if (missing < 0)
    throw new RangeError(`padLine: ${JSON.stringify(textOfLine(line))} is wider than ${width} cells`);
  return missing === 0 ? line : [...line, span(" ".repeat(missing))];
}

/** Terminal text of a line. Without attributes (`TERM=dumb`) it is the text alone. */
export function paintLine(line: Line, attributes: boolean): string {
  if (!attributes) return textOfLine(line);
  return line.map(({ text, look }) => (look === "plain" ? text : `${on[look]}${text}${off[look]}`)).join("");
}

// Select Graphic Rendition, ECMA-48 8.3.117.
const on = { bold: "\x1b[1m", dim: "\x1b[2m", reverse: "\x1b[7m" } as const;
const off = { bold: "\x1b[22m", dim: "\x1b[22m", reverse: "\x1b[27m" } as const;

import { widthOf } from "./cell-text.ts";

/**
 * Terminal text that turns the screen from one frame into the next: only lines that changed are written, each at its
 * own place, so nothing scrolls and nothing is cleared first. `before` is null when what is on the screen is not
 * known (at first, after a resize): then all of it is.
 */
export function paintFrame(
  before: readonly string[] | null,
  next: readonly string[],
  columns: number,
): string {
  let out = "";
  for (const [at, line] of next.entries()) {
    if (before?.[at] === line) continue;
    out += `\x1b[${at + 1};1H${line}`;
    // A line that ends in the last cell leaves the cursor there, and erasing would take that cell.
    if (widthOf(line.replace(SGR, "")) < columns) out += ERASE_LINE_END;
  }
  if (before === null) out = CLEAR_SCREEN + out;
  return out === "" ? "" : BEGIN_UPDATE + out + END_UPDATE;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences begin with one.
const SGR = /\x1b\[[\d;]*m/g;
const ERASE_LINE_END = "\x1b[K";
const CLEAR_SCREEN = "\x1b[2J";
// Synchronized output: the terminal shows all of the frame at once. Terminals that do not know it ignore it.
const BEGIN_UPDATE = "\x1b[?2026h";
const END_UPDATE = "\x1b[?2026l";

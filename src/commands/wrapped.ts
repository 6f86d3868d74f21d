import type { CommandIo } from "./command-io.ts";
import { shownInLine } from "./shown-text.ts";

/**
 * A message put into the lines of the terminal, cut between words; as it is where no terminal is. Lines that the message itself sets apart
 * by four spaces, a formula and the caret under it, stay lines.
 */
export function fitted(message: string, { columns }: CommandIo, indent = "  "): string {
  const [words = "", ...apart] = message.split(/\n(?= {4})/);
  const said = wrapped(words, "", indent, columns ?? Number.POSITIVE_INFINITY);
  return [said, ...apart.map(shownInLine)].join("\n");
}

/** Words put into lines of at most `width` letters, the first behind `lead`, the others behind `indent`. */
export function wrapped(text: string, lead: string, indent: string, width: number): string {
  const lines: string[] = [];
  let line = lead;
  let empty = true;
  for (const word of shownInLine(text).split(" ")) {
    if (!empty && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line].join("\n");
}

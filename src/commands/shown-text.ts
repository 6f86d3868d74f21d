/**
 * Characters that a terminal could obey, or nobody could see: controls, format characters (bidirectional marks among
 * them), lone surrogates, private and unassigned code points, separators of lines. A line feed is ours: what comes
 * from files is put on one line before.
 */
const UNSEEN = /[\p{C}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/gu;

/**
 * Text as a command may print it: what comes from files is shown, never obeyed. Each unseen character becomes its JSON
 * escape, such as `\u001b`, so that the JSON a command prints stays the same data.
 */
export function shownText(text: string): string {
  if (PLAIN.test(text)) return text;
  return text.replace(UNSEEN, (character) => (character === "\n" ? character : escapeOf(character)));
}

/** The same for text that stands within a line: a line feed of a file would begin a line that nobody wrote. */
export const shownInLine = (text: string): string => shownText(text).replaceAll("\n", "\\u000a");

/** Nearly everything that is printed: one look instead of one a character. */
const PLAIN = /^[\n\x20-\x7e]*$/;

/** One escape for each UTF-16 unit, as JSON writes them (RFC 8259, section 7). */
const escapeOf = (character: string): string =>
  character
    .split("")
    .map((unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`)
    .join("");

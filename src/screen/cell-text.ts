import { eastAsianWidth } from "get-east-asian-width";

/**
 * Text as it may be drawn. A city's file may hold anything: escape sequences, characters that turn the line around,
 * marks without end. Whatever could move the cursor, change the terminal or hide is replaced by a sign that can be
 * seen, so text from files is shown, never obeyed. Everything that is drawn passes through here once.
 *
 * What is left has one width on nearly every terminal: emoji made of several code points, over whose width terminals
 * disagree, are drawn by the first of them.
 */
export function visible(text: string): string {
  if (PLAIN.test(text)) return text;
  let shown = "";
  for (const piece of pieces(text.normalize("NFC")))
    for (const { segment } of clusters.segment(piece)) shown += visibleCluster(segment);
  // A mark may now stand on a letter with which it makes one character.
  return shown.normalize("NFC");
}

/**
 * Text in pieces that are cut quickly: the segmenter looks back over the whole text, and on 200 KB of joined emoji a
 * fuzzer found it busy for a quarter of an hour. A character that lies across a cut is drawn as two.
 */
function* pieces(text: string): Generator<string> {
  for (let start = 0; start < text.length; ) {
    let end = Math.min(text.length, start + PIECE);
    if (end < text.length && /[\ud800-\udbff]/.test(text.charAt(end - 1))) end--;
    yield text.slice(start, end);
    start = end;
  }
}
const PIECE = 512;

/**
 * Text that needs no second look: printable ASCII, the Latin letters and signs up to U+02FF but the invisible soft
 * hyphen, and the sheet's own signs. One cell each, none of them a mark. Asking for characters costs ten times more.
 */
const PLAIN = /^[\x20-\x7e\u00a1-\u00ac\u00ae-\u02ff–…─│▲▼‹›]*$/;
// The rules for cutting text into what people call characters are the same in every language; "en" is only a name.
const clusters = new Intl.Segmenter("en", { granularity: "grapheme" });

/** Controls, format characters (bidi among them), lone surrogates, private and unassigned code points, line ends. */
const UNSEEN = /[\p{C}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u;
/** Marks that take no cell of their own. */
const MARK = /[\p{Mn}\p{Me}]/u;
const PICTOGRAPH = /\p{Extended_Pictographic}/u;
/** Marks kept on one letter: no living orthography needs more, and a tower of them would cover the lines above. */
const MOST_MARKS = 3;

function visibleCluster(cluster: string): string {
  const characters = [...cluster];
  const first = characters[0]!;
  if (PICTOGRAPH.test(first) && characters.length > 1 && !/[0-9#*©®]/.test(first)) return first;
  let shown = "";
  let marks = 0;
  for (const character of characters) {
    const code = character.codePointAt(0)!;
    if (code === KEYCAP || code === EMOJI_STYLE || code === TEXT_STYLE) continue;
    if (MARK.test(character)) {
      if (++marks > MOST_MARKS) continue;
      // A mark with nothing to stand on would stand on the neighbouring cell.
      shown += shown === "" ? `${DOTTED_CIRCLE}${character}` : character;
    } else shown += visibleCharacter(character, code);
  }
  return shown;
}

const KEYCAP = 0x20e3;
const TEXT_STYLE = 0xfe0e;
const EMOJI_STYLE = 0xfe0f;
const DOTTED_CIRCLE = "\u25cc";
const REPLACEMENT = "\ufffd";
const FIRST_FLAG_LETTER = 0x1f1e6;

function visibleCharacter(character: string, code: number): string {
  // Unicode has a picture for each control character: ␛ for escape, ␊ for a line feed.
  if (code < 0x20) return String.fromCodePoint(0x2400 + code);
  if (code === 0x7f) return "\u2421";
  if (code === 0xa0) return " ";
  if (code >= FIRST_FLAG_LETTER && code < FIRST_FLAG_LETTER + 26)
    return String.fromCodePoint(0x41 + code - FIRST_FLAG_LETTER);
  return UNSEEN.test(character) ? REPLACEMENT : character;
}

/** Terminal cells that visible text takes, counted as terminals count: code point by code point. */
export function widthOf(shown: string): number {
  if (PLAIN.test(shown)) return shown.length;
  let width = 0;
  for (const character of shown) width += widthOfCharacter(character);
  return width;
}

function widthOfCharacter(character: string): number {
  const code = character.codePointAt(0)!;
  if (code < 0x300) return 1;
  // Vowels and finals of a Hangul syllable are drawn over its first letter.
  if ((code >= 0x1160 && code <= 0x11ff) || MARK.test(character)) return 0;
  return eastAsianWidth(code);
}

const CUT = "…";

export type Align = "left" | "right";

/**
 * Any text in exactly `width` cells. Text that is too long is cut and ends in `…`; right-aligned text is a number,
 * and part of a number is another number, so one that is too long is only `…`.
 */
export function fitTo(text: string, width: number, align: Align): string {
  const shown = visible(text);
  const wide = widthOf(shown);
  if (wide <= width)
    return align === "left" ? shown + " ".repeat(width - wide) : " ".repeat(width - wide) + shown;
  if (align === "right") return " ".repeat(Math.max(0, width - 1)) + CUT.slice(0, width);
  const cut = start(shown, width - 1) + CUT.slice(0, width);
  return cut + " ".repeat(Math.max(0, width - widthOf(cut)));
}

/** Text in at most `width` cells, without padding. */
export function cut(text: string, width: number): string {
  const shown = visible(text);
  return widthOf(shown) <= width ? shown : start(shown, width - 1) + CUT.slice(0, width);
}

/** Any text broken at its blanks into lines of at most `width` cells; a word longer than a line is broken itself. */
export function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of visible(text).split(" ")) {
    const joined = line === "" ? word : `${line} ${word}`;
    if (widthOf(joined) <= width) {
      line = joined;
      continue;
    }
    if (line !== "") lines.push(line);
    line = word;
    while (widthOf(line) > width) {
      // At least one character a line, or a wide one would never fit a line of one cell.
      const head = start(line, width) || [...line][0]!;
      lines.push(head);
      line = line.slice(head.length);
    }
  }
  if (line !== "" || lines.length === 0) lines.push(line);
  return lines;
}

/** Code units looked at for each cell: a letter with marks, or joined emoji, are several. */
const UNITS_A_CELL = 16;

/** As much of the beginning of a text as can show in so many cells. */
export const headOf = (text: string, cells: number): string => text.slice(0, cells * UNITS_A_CELL);

/**
 * Where the longest end of a text begins that is drawn in fewer than `cells` cells, in UTF-16 units. However long the text,
 * only its last part is looked at: a prompt is drawn with every key, and 3,000 wide characters in it took 2.7 s.
 */
export function endWithin(text: string, cells: number): number {
  let from = Math.max(0, text.length - cells * UNITS_A_CELL);
  if (/[\udc00-\udfff]/.test(text.charAt(from)) && from > 0) from++;
  const tail = text.slice(from);
  if (PLAIN.test(tail)) return Math.max(from, text.length - Math.max(0, cells - 1));
  const starts = Array.from(clusters.segment(tail), ({ index }) => from + index);
  let at = starts.length;
  for (let used = 0; at > 0; at--) {
    used += widthOf(visible(text.slice(starts[at - 1], starts[at])));
    if (used >= cells) break;
  }
  // A character that lies across two pieces is drawn as two.
  while (at < starts.length && widthOf(visible(text.slice(starts[at]))) >= cells) at++;
  return starts[at] ?? text.length;
}

/** The longest beginning of visible text that fits `width` cells. */
function start(shown: string, width: number): string {
  let used = 0;
  let end = 0;
  for (const character of shown) {
    used += widthOfCharacter(character);
    if (used > width) break;
    end += character.length;
  }
  return shown.slice(0, end);
}

/**
 * Bytes from the terminal → keys, by our own reading: what ink 6 gives on Node 20 cannot tell Backspace from Delete,
 * nor F2 from nothing at all. Sequences are those of ECMA-48, of DEC's terminals and of what has grown from them; a
 * sequence that is not known is swallowed whole, so its letters are never taken for commands.
 */
export interface KeyPress {
  /** `a`, `é`, `space`, `up`, `page down`, `f2`, `ctrl+home`, `alt+x`, `ctrl+alt+shift+left`; `paste`; `unknown`. */
  readonly key: string;
  /** What it would type into a field; null for a key that types nothing. */
  readonly text: string | null;
}

/** What was read and is not yet a key: the beginning of a sequence or character, or of a paste. */
export interface KeyBytes {
  readonly rest: Uint8Array;
  readonly pasting: boolean;
}

export const noKeyBytes: KeyBytes = { rest: new Uint8Array(0), pasting: false };

export interface Decoded {
  readonly keys: readonly KeyPress[];
  readonly bytes: KeyBytes;
}

/** The keys in what was read before and now. However the bytes are cut into chunks, the keys are the same. */
export function decodeKeys(before: KeyBytes, chunk: Uint8Array): Decoded {
  return readAll(join(before.rest, chunk), before.pasting, false);
}

/** Whether {@link decodeNoMore} would give a key: an escape waits for the rest of its sequence. */
export const isWaiting = ({ rest, pasting }: KeyBytes): boolean => !pasting && rest[0] === ESC;

/** The keys when no more bytes came in time: an escape alone was the Escape key. */
export function decodeNoMore(before: KeyBytes): Decoded {
  return before.pasting ? { keys: [], bytes: before } : readAll(before.rest, false, true);
}

/** How long an escape waits for the rest of its sequence, in ms. A slow line delivers one within it; a person does not feel it. */
export const ESCAPE_WAIT = 50;

const ESC = 0x1b;
const CTRL_C = 0x03;
/** Bytes of a sequence after which it is given up: no key is longer. */
const LONGEST_SEQUENCE = 64;
/** Bytes of a terminal's answer (a colour, a version) that are swallowed at most. */
const LONGEST_ANSWER = 4096;
/** Bytes of one paste that are kept. */
const LONGEST_PASTE = 1 << 20;

interface Found {
  readonly length: number;
  readonly press: KeyPress;
}

const PASTE_BEGINS: KeyPress = { key: "paste begins", text: null };
const UNKNOWN: KeyPress = { key: "unknown", text: null };
const named = (key: string, text: string | null = null): KeyPress => ({ key, text });

function readAll(bytes: Uint8Array, pasting: boolean, noMore: boolean): Decoded {
  const keys: KeyPress[] = [];
  let at = 0;
  while (at < bytes.length) {
    if (pasting) {
      const paste = pasteAt(bytes, at);
      if (paste === null) break;
      keys.push(...paste.keys);
      at += paste.length;
      pasting = false;
      continue;
    }
    const found = keyAt(bytes, at, noMore);
    if (found === null) break;
    at += found.length;
    if (found.press === PASTE_BEGINS) pasting = true;
    else keys.push(found.press);
  }
  const rest = bytes.slice(at);
  return { keys, bytes: { rest: pasting ? shortened(rest) : rest, pasting } };
}

/** The key that starts at `at`, null when more bytes are needed to tell. */
function keyAt(bytes: Uint8Array, at: number, noMore: boolean): Found | null {
  const byte = bytes[at]!;
  if (byte === ESC) return escapeAt(bytes, at, noMore);
  if (byte < 0x20 || byte === 0x7f) return { length: 1, press: control(byte) };
  return characterAt(bytes, at);
}

function control(byte: number): KeyPress {
  switch (byte) {
    case 0x00:
      return named("ctrl+space");
    case 0x08:
    case 0x7f:
      return named("backspace");
    case 0x09:
      return named("tab");
    case 0x0a:
    case 0x0d:
      return named("enter");
    default:
      // 0x01 is Ctrl-A, up to 0x1f which is Ctrl-_.
      return named(`ctrl+${String.fromCharCode(byte + 0x40).toLowerCase()}`);
  }
}

/** One UTF-8 character. Bytes that are none are a replacement character each, as a terminal shows them. */
function characterAt(bytes: Uint8Array, at: number): Found | null {
  const lead = bytes[at]!;
  const length = lead < 0x80 ? 1 : lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  const bad: Found = { length: 1, press: named("\ufffd", "\ufffd") };
  if (lead >= 0x80 && (lead < 0xc2 || lead > 0xf4)) return bad;
  for (let i = 1; i < length; i++) {
    const next = bytes[at + i];
    if (next === undefined) return null;
    if ((next & 0xc0) !== 0x80) return bad;
  }
  const text = utf8.decode(bytes.subarray(at, at + length));
  // Overlong forms and halves of surrogate pairs decode to several replacement characters.
  if (text.startsWith("\ufffd") && text.length > 1) return bad;
  return { length, press: named(text === " " ? "space" : text, text) };
}

const utf8 = new TextDecoder("utf-8", { ignoreBOM: true });

function escapeAt(bytes: Uint8Array, at: number, noMore: boolean): Found | null {
  const lone: Found = { length: 1, press: named("escape") };
  const next = bytes[at + 1];
  if (next === undefined) return noMore ? lone : null;
  const third = bytes[at + 2];
  switch (next) {
    case ESC: {
      // Alt before a sequence is one more escape in front of it; otherwise Escape was pressed twice.
      if (third === undefined) return noMore ? lone : null;
      if (third !== OPEN_BRACKET && third !== LETTER_O) return lone;
      const inner = escapeAt(bytes, at + 1, noMore);
      if (inner === null) return null;
      // Escape and then a paste: the paste must not be taken for typing.
      return inner.press === PASTE_BEGINS ? lone : { length: inner.length + 1, press: withAlt(inner.press) };
    }
    case OPEN_BRACKET:
      return third === undefined ? alone("alt+[", noMore) : controlSequenceAt(bytes, at, noMore);
    case LETTER_O:
      return third === undefined ? alone("alt+O", noMore) : singleShiftAt(bytes, at, noMore);
    case CLOSE_BRACKET:
      if (third === undefined) return alone("alt+]", noMore);
      if (isDigit(third)) return answerAt(bytes, at, noMore);
      break;
    case LETTER_P:
      if (third === undefined) return alone("alt+P", noMore);
      if (isDigit(third) || ">!+$|".includes(String.fromCharCode(third))) return answerAt(bytes, at, noMore);
      break;
  }
  const inner = keyAt(bytes, at + 1, noMore);
  return inner === null ? null : { length: inner.length + 1, press: withAlt(inner.press) };
}

const OPEN_BRACKET = 0x5b;
const CLOSE_BRACKET = 0x5d;
const LETTER_O = 0x4f;
const LETTER_P = 0x50;
const isDigit = (byte: number): boolean => byte >= 0x30 && byte <= 0x39;

const alone = (key: string, noMore: boolean): Found | null =>
  noMore ? { length: 2, press: named(key) } : null;

/** Alt on top of what a key already has: names keep the order ctrl, alt, shift. */
function withAlt({ key }: KeyPress): KeyPress {
  if (key === "unknown" || key.includes("alt+")) return named(key);
  return named(key.startsWith("ctrl+") && key.length > 5 ? `ctrl+alt+${key.slice(5)}` : `alt+${key}`);
}

/** A control sequence: `ESC [`, parameters, intermediates, one final byte. ECMA-48, 5.4. */
function controlSequenceAt(bytes: Uint8Array, at: number, noMore: boolean): Found | null {
  // The Linux console writes its first five function keys as ESC [ [ and a letter.
  if (bytes[at + 2] === OPEN_BRACKET) {
    const letter = bytes[at + 3];
    if (letter === undefined) return noMore ? { length: 3, press: UNKNOWN } : null;
    const number = letter - 0x40;
    return { length: 4, press: number >= 1 && number <= 5 ? named(`f${number}`) : UNKNOWN };
  }
  let end = at + 2;
  while (end < bytes.length && bytes[end]! >= 0x20 && bytes[end]! <= 0x3f) end++;
  const length = end - at;
  if (length > LONGEST_SEQUENCE) return { length: LONGEST_SEQUENCE, press: UNKNOWN };
  const final = bytes[end];
  if (final === undefined) return noMore ? { length, press: UNKNOWN } : null;
  // Something else begins inside the sequence: what there is of it is dropped.
  if (final < 0x40 || final > 0x7e) return { length, press: UNKNOWN };
  const parameters = latin(bytes.subarray(at + 2, end));
  // The oldest mouse report carries three bytes after its final letter.
  if (final === 0x4d && parameters === "") {
    if (bytes.length < end + 4) return noMore ? { length: bytes.length - at, press: UNKNOWN } : null;
    return { length: length + 4, press: UNKNOWN };
  }
  return { length: length + 1, press: sequenceKey(parameters, String.fromCharCode(final)) };
}

const latin = (bytes: Uint8Array): string => String.fromCharCode(...bytes);

function sequenceKey(parameters: string, final: string): KeyPress {
  if (!/^[\d;:]*$/.test(parameters)) return UNKNOWN;
  const [first = "", second = "", third = ""] = parameters.split(";").map((part) => part.split(":")[0]);
  const number = Number(first);
  switch (final) {
    case "~":
      if (number === 200) return PASTE_BEGINS;
      if (number === 27) return typedKey(Number(third), second);
      return modified(tildeKeys[number], second);
    case "u":
      return typedKey(number, second);
    case "Z":
      return named("shift+tab");
    case "^":
      return modified(tildeKeys[number], "5");
    case "@":
      return modified(tildeKeys[number], "6");
    case "a":
    case "b":
    case "c":
    case "d":
      return parameters === "" ? modified(letterKeys[final.toUpperCase()], "2") : UNKNOWN;
    default:
      // With other parameters R is the answer to a question about the cursor, I and O tell of the window's focus.
      return parameters === "" || number === 1 ? modified(letterKeys[final], second) : UNKNOWN;
  }
}

const letterKeys: Readonly<Record<string, string>> = {
  A: "up",
  B: "down",
  C: "right",
  D: "left",
  F: "end",
  H: "home",
  P: "f1",
  Q: "f2",
  R: "f3",
  S: "f4",
};

const tildeKeys: Readonly<Record<number, string>> = {
  1: "home",
  2: "insert",
  3: "delete",
  4: "end",
  5: "page up",
  6: "page down",
  7: "home",
  8: "end",
  11: "f1",
  12: "f2",
  13: "f3",
  14: "f4",
  15: "f5",
  17: "f6",
  18: "f7",
  19: "f8",
  20: "f9",
  21: "f10",
  23: "f11",
  24: "f12",
};

/** The modifier parameter is one more than the sum of shift 1, alt 2, ctrl 4; higher bits (a logo key, a lock) are ignored. */
function modifiers(parameter: string): {
  readonly ctrl: boolean;
  readonly alt: boolean;
  readonly shift: boolean;
} {
  const bits = parameter === "" ? 0 : Number(parameter) - 1;
  return { shift: (bits & 1) !== 0, alt: (bits & 2) !== 0, ctrl: (bits & 4) !== 0 };
}

function modified(key: string | undefined, parameter: string): KeyPress {
  if (key === undefined) return UNKNOWN;
  const { ctrl, alt, shift } = modifiers(parameter);
  return named(`${ctrl ? "ctrl+" : ""}${alt ? "alt+" : ""}${shift ? "shift+" : ""}${key}`);
}

/** A key told by its code point, as terminals do that tell every key apart. */
function typedKey(code: number, parameter: string): KeyPress {
  const { ctrl, alt, shift } = modifiers(parameter);
  const special = { 9: "tab", 13: "enter", 27: "escape", 32: "space", 127: "backspace" }[code];
  if (special !== undefined)
    return code === 32 && !ctrl && !alt ? named("space", " ") : modified(special, parameter);
  if (!(code > 32 && code <= 0x10ffff) || (code >= 0xd800 && code < 0xe000)) return UNKNOWN;
  const plain = String.fromCodePoint(code);
  if (ctrl) return named(`ctrl+${alt ? "alt+" : ""}${plain.toLowerCase()}`);
  const character = shift ? plain.toUpperCase() : plain;
  return alt ? named(`alt+${character}`) : named(character, character);
}

/** `ESC O` and a letter: arrows and keypad in application mode, F1 to F4. */
function singleShiftAt(bytes: Uint8Array, at: number, noMore: boolean): Found | null {
  // Some write a modifier digit between: ESC O 5 A.
  const digit = isDigit(bytes[at + 2]!) ? String.fromCharCode(bytes[at + 2]!) : "";
  const final = bytes[at + 2 + digit.length];
  const length = 3 + digit.length;
  if (final === undefined) return noMore ? { length: length - 1, press: UNKNOWN } : null;
  if (final < 0x20 || final > 0x7e) return { length: length - 1, press: UNKNOWN };
  const letter = String.fromCharCode(final);
  const keypad = keypadKeys[letter];
  if (keypad !== undefined) return { length, press: keypad };
  if ("abcd".includes(letter)) return { length, press: modified(letterKeys[letter.toUpperCase()], "5") };
  return { length, press: modified(letterKeys[letter], digit) };
}

const keypadKeys: Readonly<Record<string, KeyPress>> = {
  M: named("enter"),
  I: named("tab"),
  " ": named("space", " "),
  ...Object.fromEntries(
    [..."*+,-./0123456789="].map((typed, i) => ["jklmnopqrstuvwxyX"[i], named(typed, typed)]),
  ),
};

/** A terminal's answer to somebody's earlier question: up to BEL or ESC \. Swallowed. */
function answerAt(bytes: Uint8Array, at: number, noMore: boolean): Found | null {
  for (let end = at + 2; end < bytes.length; end++) {
    if (bytes[end] === 0x07) return { length: end + 1 - at, press: UNKNOWN };
    if (bytes[end] === ESC && bytes[end + 1] === 0x5c) return { length: end + 2 - at, press: UNKNOWN };
    if (bytes[end] === CTRL_C || end - at >= LONGEST_ANSWER) return { length: end - at, press: UNKNOWN };
  }
  return noMore ? { length: bytes.length - at, press: UNKNOWN } : null;
}

const PASTE_END = Buffer.from("\x1b[201~");

/** A whole paste, or what there was of it before Ctrl-C, which leaves even when the end mark is lost. */
function pasteAt(
  bytes: Uint8Array,
  at: number,
): { readonly length: number; readonly keys: readonly KeyPress[] } | null {
  const pasted = Buffer.from(bytes.buffer, bytes.byteOffset + at, bytes.length - at);
  const end = pasted.indexOf(PASTE_END);
  const broken = pasted.subarray(0, end < 0 ? pasted.length : end).indexOf(CTRL_C);
  if (broken >= 0) return { length: broken, keys: [] };
  if (end < 0) return null;
  return {
    length: end + PASTE_END.length,
    keys: [named("paste", utf8.decode(pasted.subarray(0, Math.min(end, LONGEST_PASTE))))],
  };
}

/** Of an endless paste the beginning is kept, and the end in which its end mark may be starting. */
function shortened(rest: Uint8Array): Uint8Array {
  const most = LONGEST_PASTE + PASTE_END.length;
  return rest.length <= most
    ? rest
    : join(rest.subarray(0, LONGEST_PASTE), rest.subarray(rest.length - PASTE_END.length));
}

function join(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

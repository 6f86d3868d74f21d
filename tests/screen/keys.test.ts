import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeKeys, decodeNoMore, isWaiting, type KeyPress, noKeyBytes } from "../../src/screen/keys.ts";

const bytesOf = (text: string) => Buffer.from(text, "utf8");

/** All keys of what a terminal sends, with no more to come. */
function keysOf(sent: Uint8Array, cuts: readonly number[] = []): readonly KeyPress[] {
  let bytes = noKeyBytes;
  const keys: KeyPress[] = [];
  const places = [0, ...cuts.toSorted((a, b) => a - b), sent.length];
  for (let i = 1; i < places.length; i++) {
    const decoded = decodeKeys(bytes, sent.subarray(places[i - 1], places[i]));
    keys.push(...decoded.keys);
    bytes = decoded.bytes;
  }
  return [...keys, ...decodeNoMore(bytes).keys];
}

const names = (sent: string) => keysOf(bytesOf(sent)).map(({ key }) => key);

/**
 * What terminals send. Sources: ECMA-48 (control sequences), DEC VT220 manual table 3-6 and on (editing and function
 * keys), xterm's "ctlseqs" document (PC-style function keys, modifiers), console_codes(4) (ESC [ [ A).
 */
const sent: Readonly<Record<string, readonly string[]>> = {
  up: ["\x1b[A", "\x1bOA"],
  down: ["\x1b[B", "\x1bOB"],
  right: ["\x1b[C", "\x1bOC"],
  left: ["\x1b[D", "\x1bOD"],
  home: ["\x1b[H", "\x1bOH", "\x1b[1~", "\x1b[7~"],
  end: ["\x1b[F", "\x1bOF", "\x1b[4~", "\x1b[8~"],
  insert: ["\x1b[2~"],
  delete: ["\x1b[3~"],
  "page up": ["\x1b[5~"],
  "page down": ["\x1b[6~"],
  f1: ["\x1bOP", "\x1b[11~", "\x1b[[A", "\x1b[P"],
  f2: ["\x1bOQ", "\x1b[12~", "\x1b[[B"],
  f4: ["\x1bOS", "\x1b[14~", "\x1b[[D"],
  f5: ["\x1b[15~", "\x1b[[E"],
  f6: ["\x1b[17~"],
  f10: ["\x1b[21~"],
  f12: ["\x1b[24~"],
  "shift+up": ["\x1b[1;2A", "\x1b[a"],
  "alt+up": ["\x1b[1;3A", "\x1b\x1b[A"],
  "ctrl+up": ["\x1b[1;5A", "\x1bOa", "\x1bO5A"],
  "ctrl+alt+shift+left": ["\x1b[1;8D"],
  "ctrl+home": ["\x1b[1;5H", "\x1b[7^", "\x1b[1;5:1H"],
  "ctrl+end": ["\x1b[1;5F", "\x1b[8^"],
  "ctrl+shift+delete": ["\x1b[3;6~", "\x1b[3@"],
  "shift+f3": ["\x1b[1;2R"],
  "shift+tab": ["\x1b[Z"],
  tab: ["\t", "\x1bOI"],
  enter: ["\r", "\n", "\x1bOM"],
  backspace: ["\x7f", "\b"],
  space: [" "],
  escape: ["\x1b", "\x1b[27u"],
  "ctrl+c": ["\x03", "\x1b[99;5u", "\x1b[27;5;99~"],
  "ctrl+space": ["\x00"],
  "ctrl+l": ["\x0c"],
  "alt+x": ["\x1bx", "\x1b[120;3u"],
  "alt+é": ["\x1bé"],
  "ctrl+alt+c": ["\x1b\x03"],
  "alt+[": ["\x1b["],
  "alt+O": ["\x1bO"],
  a: ["a", "\x1b[97u"],
  A: ["A", "\x1b[97;2u"],
  "5": ["5", "\x1bOu"],
  é: ["é"],
  日: ["日"],
  "👍": ["👍"],
  // Not keys: focus, mouse reports, answers about the cursor, the terminal and its colours, an endless sequence.
  unknown: [
    "\x1b[I",
    "\x1b[O",
    "\x1b[M abc".slice(0, 6),
    "\x1b[<0;10;20M",
    "\x1b[10;20R",
    "\x1b[?62;c",
    "\x1b]11;rgb:1e1e/1e1e/1e1e\x07",
    "\x1b]11;rgb:1e1e/1e1e/1e1e\x1b\\",
    "\x1bP>|name\x1b\\",
    "\x1b[99~",
    "\x1b[1;",
  ],
};

const everySequence = Object.entries(sent).flatMap(([key, sequences]) =>
  sequences.map((sequence) => ({ key, sequence })),
);

describe("decodeKeys", () => {
  it.each(everySequence)("reads $sequence as $key", ({ key, sequence }) => {
    expect(names(sequence)).toEqual([key]);
  });

  it("gives the text that a key types, and none for the others", () => {
    expect(keysOf(bytesOf("aÉ \x1b[A\x1bOu\x1bx"))).toEqual([
      { key: "a", text: "a" },
      { key: "É", text: "É" },
      { key: "space", text: " " },
      { key: "up", text: null },
      { key: "5", text: "5" },
      { key: "alt+x", text: null },
    ]);
  });

  it("reads keys typed faster than they are asked for", () => {
    expect(names("\x1b[B\x1b[Bw\x1b[6~q")).toEqual(["down", "down", "w", "page down", "q"]);
  });

  it("gives the same keys however the bytes are cut", () => {
    const sequence = fc.constantFrom(...everySequence.map(({ sequence }) => sequence));
    const closed = fc.constantFrom("\x1b[200~a \x1b[A b日\x1b[201~", "q", "é", "👍", "\x1b[B", "\xff");
    fc.assert(
      fc.property(
        fc.array(fc.oneof(sequence, closed), { maxLength: 8 }).map((parts) => Buffer.from(parts.join(""))),
        fc.array(fc.nat(60), { maxLength: 10 }),
        (bytes, cuts) => {
          const inside = cuts.filter((at) => at < bytes.length);
          expect(keysOf(bytes, inside)).toEqual(keysOf(bytes));
        },
      ),
    );
  });

  it("reads any bytes at all, cut anywhere, and stops in the end", () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 80 }),
        fc.array(fc.nat(79), { maxLength: 10 }),
        (bytes, cuts) => {
          const inside = cuts.filter((at) => at < bytes.length);
          expect(keysOf(bytes, inside)).toEqual(keysOf(bytes));
        },
      ),
    );
  });

  it("gives a paste as one key with its text, commands in it or not", () => {
    expect(keysOf(bytesOf("\x1b[200~q\rL-7\té\x1b[B\x1b[201~w"))).toEqual([
      { key: "paste", text: "q\rL-7\té\x1b[B" },
      { key: "w", text: "w" },
    ]);
  });

  it("takes Escape and then a paste for that, not for typing", () => {
    expect(names("\x1b\x1b[200~q\x1b[201~")).toEqual(["escape", "paste"]);
  });

  it("leaves on Ctrl-C even when the end of a paste was lost", () => {
    expect(names("\x1b[200~lost\x03")).toEqual(["ctrl+c"]);
  });

  it("keeps the beginning of a paste that is too long, and finds its end", () => {
    let bytes = decodeKeys(noKeyBytes, bytesOf("\x1b[200~")).bytes;
    for (let i = 0; i < 40; i++) bytes = decodeKeys(bytes, Buffer.alloc(65536, "x")).bytes;
    const { keys } = decodeKeys(bytes, bytesOf("\x1b[201~q"));
    expect(keys.map(({ key }) => key)).toEqual(["paste", "q"]);
    expect(keys[0]!.text!.length).toBe(1 << 20);
  });

  it("shows bytes that are no UTF-8 as a replacement character each", () => {
    // Overlong "/", half a surrogate pair, beyond U+10FFFF, a continuation byte alone.
    for (const wrong of [[0xc0, 0xaf], [0xed, 0xa0, 0x80], [0xf4, 0x90, 0x80, 0x80], [0x80]])
      expect(keysOf(Uint8Array.from(wrong)).map(({ key }) => key)).toEqual(wrong.map(() => "\ufffd"));
  });
});

describe("isWaiting", () => {
  it("waits after an escape that may be the beginning of more, and only then", () => {
    expect(isWaiting(decodeKeys(noKeyBytes, bytesOf("\x1b")).bytes)).toBe(true);
    expect(isWaiting(decodeKeys(noKeyBytes, bytesOf("\x1b[1;")).bytes)).toBe(true);
    expect(isWaiting(decodeKeys(noKeyBytes, bytesOf("q")).bytes)).toBe(false);
    // Half a character waits as long as it takes.
    expect(isWaiting(decodeKeys(noKeyBytes, Uint8Array.of(0xc3)).bytes)).toBe(false);
    expect(isWaiting(decodeKeys(noKeyBytes, bytesOf("\x1b[200~\x1b")).bytes)).toBe(false);
  });
});

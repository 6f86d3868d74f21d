/** Where something stands in a text, counted from 1 as editors do. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

export type JsonPath = readonly (string | number)[];

export type JsonScan =
  | { readonly ok: true; readonly placeOf: (path: JsonPath) => Place }
  | { readonly ok: false; readonly place: Place; readonly line: string; readonly expected: string };

/**
 * Reads JSON (RFC 8259) only to learn where things stand: the place of every key and list member, or of the first
 * fault. `JSON.parse` names no place for most faults and quietly keeps the last of two equal keys; a key given
 * twice, and `__proto__`, are faults here, because one of the two values would be ignored.
 */
export function scanJson(text: string): JsonScan {
  const offsets = new Map<string, number>();
  try {
    const scanner = new Scanner(text, offsets);
    scanner.document();
  } catch (fault) {
    if (!(fault instanceof JsonFault)) throw fault;
    const place = placeAt(text, fault.offset);
    return { ok: false, place, line: lineAround(text, fault.offset), expected: fault.expected };
  }
  return {
    ok: true,
    placeOf: (path) => {
      // What is missing stands where it should have been: in the nearest part that is there.
      for (let length = path.length; length >= 0; length--) {
        const offset = offsets.get(JSON.stringify(path.slice(0, length)));
        if (offset !== undefined) return placeAt(text, offset);
      }
      return { line: 1, column: 1 };
    },
  };
}

class JsonFault extends Error {
  readonly offset: number;
  readonly expected: string;
  constructor(offset: number, expected: string) {
    super(expected);
    this.offset = offset;
    this.expected = expected;
  }
}

const SPACE = /[ \t\r\n]*/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON text has no bare control characters.
const TEXT = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;
/** Deeper than any settings file; keeps a hostile file from exhausting the stack. */
const DEEPEST = 64;

class Scanner {
  private at = 0;
  private readonly text: string;
  private readonly offsets: Map<string, number>;
  constructor(text: string, offsets: Map<string, number>) {
    this.text = text;
    this.offsets = offsets;
  }

  document() {
    this.value([]);
    if (this.next() !== "") this.fail("nothing after the closing bracket of the file");
  }

  private value(path: (string | number)[]) {
    const first = this.next();
    if (!this.offsets.has(JSON.stringify(path))) this.offsets.set(JSON.stringify(path), this.at);
    if (path.length > DEEPEST) this.fail(`at most ${DEEPEST} brackets inside each other`);
    if (first === "{") this.members(path);
    else if (first === "[") this.list(path);
    else if (first === '"') this.string("text that ends with a double quote on the same line");
    else if (this.take(NUMBER) === null && this.take(WORD) === null) this.fail(valueExpected(first));
  }

  private members(path: (string | number)[]) {
    this.at++;
    if (this.next() === "}") return void this.at++;
    const seen = new Set<string>();
    for (;;) {
      this.next();
      const offset = this.at;
      const key = JSON.parse(this.string('a key in double quotes, such as "name"')) as string;
      if (seen.has(key)) this.fail(`the key ${JSON.stringify(key)} once, not twice`, offset);
      if (key === "__proto__") this.fail("another key: this one has a meaning of its own", offset);
      seen.add(key);
      this.offsets.set(JSON.stringify([...path, key]), offset);
      if (this.next() !== ":") this.fail("a colon after the key");
      this.at++;
      this.value([...path, key]);
      if (this.ended("}")) return;
    }
  }

  private list(path: (string | number)[]) {
    this.at++;
    if (this.next() === "]") return void this.at++;
    for (let i = 0; ; i++) {
      this.value([...path, i]);
      if (this.ended("]")) return;
    }
  }

  /** After a member: true at the closing bracket, false at a comma that another member follows. */
  private ended(bracket: "}" | "]"): boolean {
    const mark = this.next();
    if (mark === bracket) {
      this.at++;
      return true;
    }
    if (mark !== ",") this.fail(`a comma or ${bracket} after the value`);
    const comma = this.at++;
    if (this.next() === bracket) this.fail(`no comma before ${bracket}`, comma);
    return false;
  }

  private string(expected: string): string {
    return (
      this.take(TEXT) ?? this.fail(this.text[this.at] === "'" ? 'double quotes (") around text' : expected)
    );
  }

  private next(): string {
    this.take(SPACE);
    return this.text.charAt(this.at);
  }

  private take(pattern: RegExp): string | null {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text);
    if (found === null) return null;
    this.at = pattern.lastIndex;
    return found[0];
  }

  private fail(expected: string, offset = this.at): never {
    throw new JsonFault(offset, expected);
  }
}

function valueExpected(first: string): string {
  if (first === "'") return 'double quotes (") around text';
  if (first === "/" || first === "#") return "a value: JSON has no comments";
  return "a value: text in double quotes, a number, a list or a group in braces";
}

function placeAt(text: string, offset: number): Place {
  const before = text.slice(0, offset);
  const start = before.lastIndexOf("\n") + 1;
  return { line: before.split("\n").length, column: offset - start + 1 };
}

/** The line of the fault, or the part of it around the fault when it is long. */
function lineAround(text: string, offset: number): string {
  const start = text.lastIndexOf("\n", offset - 1) + 1;
  const end = text.indexOf("\n", offset);
  const from = Math.max(start, offset - 40);
  return text.slice(from, Math.min(end === -1 ? text.length : end, from + 60)).trim();
}

import type { Random } from "../../sample-programs/random.ts";

/** Longest damaged input above the longest seed, but for the few that are long on purpose. */
const LONGEST = 8_192;
const LONG_ONE_IN = 400;
const LONG = 200_000;

/** Bytes with a meaning somewhere: marks of CSV and JSON, ends of lines, half characters, escapes, numbers at an edge. */
const MARKS: readonly string[] = [
  ...[
    ",",
    ";",
    "\t",
    "|",
    '"',
    '""',
    "'",
    "\\",
    "\n",
    "\r",
    "\r\n",
    "\0",
    "\u001b[2J",
    "\u202e",
    "\ufeff",
    "\ufffd",
  ],
  ...[
    "{",
    "}",
    "[",
    "]",
    ":",
    "null",
    "true",
    "-0",
    "1e999",
    "-1e-999",
    "99999999999999999999",
    "NaN",
    "Infinity",
  ],
  ...[
    "0x1F",
    "1,5",
    "1.234.567,8",
    "4'-6\"",
    "%",
    "=1+1",
    "@x",
    "__proto__",
    "constructor",
    "toString",
    "é",
    "雨",
    "🦆",
  ],
];
const HALF_CHARACTERS: readonly (readonly number[])[] = [
  [0xc3],
  [0xe9],
  [0xff, 0xfe],
  [0xf0, 0x9f],
  [0xed, 0xa0, 0x80],
];

/** One of the seeds with a few things done to it: the same random stream gives the same bytes. */
export function mutated(
  random: Random,
  seeds: readonly Uint8Array[],
  words: readonly string[],
  most = LONG,
): Uint8Array {
  let bytes = Buffer.from(pick(random, seeds));
  const long = random.below(LONG_ONE_IN) === 0;
  for (let times = 1 + random.below(6); times > 0; times--)
    bytes = damaged(random, bytes, seeds, words, long);
  const longest = seeds.reduce((most, { length }) => Math.max(most, length), 0);
  return bytes.subarray(0, longest + (long ? most : LONGEST));
}

function damaged(
  random: Random,
  bytes: Buffer<ArrayBuffer>,
  seeds: readonly Uint8Array[],
  words: readonly string[],
  long: boolean,
): Buffer<ArrayBuffer> {
  const at = random.below(bytes.length + 1);
  const end = Math.min(bytes.length, at + random.below(random.chance(0.5) ? 8 : 200));
  const put = (middle: Uint8Array, rest = at) =>
    Buffer.concat([bytes.subarray(0, at), middle, bytes.subarray(rest)]);
  switch (random.below(9)) {
    case 0: {
      const changed = Buffer.from(bytes);
      if (at < changed.length) changed[at] = changed[at]! ^ (1 << random.below(8));
      return changed;
    }
    case 1:
      return put(Buffer.from([random.below(256)]));
    case 2:
      return put(Buffer.alloc(0), end);
    case 3:
      return put(bytes.subarray(at, end));
    case 4:
      return put(Buffer.from(pick(random, MARKS)), random.chance(0.5) ? end : at);
    case 5:
      return put(Buffer.from(pick(random, HALF_CHARACTERS)));
    case 6:
      return words.length === 0
        ? put(Buffer.alloc(0))
        : put(Buffer.from(pick(random, words)), random.chance(0.5) ? end : at);
    case 7: {
      const other = pick(random, seeds);
      return put(other.subarray(random.below(other.length + 1)), end);
    }
    default: {
      const piece = random.chance(0.5)
        ? bytes.subarray(at, end)
        : Buffer.from(pick(random, [...MARKS, ...words]));
      const times = long ? LONG / Math.max(1, piece.length) : random.below(50);
      return put(Buffer.concat(Array.from({ length: Math.min(times, 100_000) }, () => piece)));
    }
  }
}

export function pick<T>(random: Random, of: readonly T[]): T {
  const found = of[random.below(of.length)];
  if (found === undefined) throw new RangeError("pick: nothing to pick from");
  return found;
}

import type { Random } from "../../sample-programs/random.ts";
import { pick } from "./mutate.ts";

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type Holder = Json[] | { [key: string]: Json };

const NUMBERS = [0, -0, 1, -1, 0.5, 1e-9, 1e9, 1e308, -1e308, 5e-324, 2 ** 32, 2 ** 53, -(2 ** 31), 1.5];
const TEXTS = ["", " ", "__proto__", "constructor", "4 in", "100 mm", "2026-02-30", "../x", "é🦆", "1e999"];

/**
 * One of the seeds with a few of its values, keys or lists changed, and still JSON: what reading as text never lets through
 * to the checks behind it.
 *
 * @param from bytes before the JSON, which are kept
 */
export function mutatedJson(
  random: Random,
  seeds: readonly Uint8Array[],
  words: readonly string[],
  from: number,
): Uint8Array {
  const seed = pick(random, seeds);
  const before = seed.subarray(0, from);
  let root: Json;
  try {
    root = JSON.parse(new TextDecoder().decode(seed.subarray(from))) as Json;
  } catch {
    // A kept seed may be no JSON.
    return seed;
  }
  const holders = holdersIn(root);
  for (let times = 1 + random.below(4); times > 0 && holders.length > 0; times--)
    change(random, pick(random, holders), holders, words);
  return Buffer.concat([before, Buffer.from(JSON.stringify(root))]);
}

function holdersIn(value: Json, found: Holder[] = []): Holder[] {
  if (typeof value !== "object" || value === null) return found;
  if (Array.isArray(value) ? value.length > 0 : Object.keys(value).length > 0) found.push(value);
  for (const inside of Object.values(value)) holdersIn(inside, found);
  return found;
}

function change(random: Random, holder: Holder, holders: readonly Holder[], words: readonly string[]): void {
  if (Array.isArray(holder)) {
    const at = random.below(holder.length + 1);
    if (random.chance(0.3)) holder.splice(at, 1);
    else if (random.chance(0.4)) holder.splice(at, 0, copied(random, holders));
    else if (at < holder.length) holder[at] = other(random, holder[at]!, holders, words);
    return;
  }
  const keys = Object.keys(holder);
  const key = keys.length === 0 ? "x" : pick(random, keys);
  if (random.chance(0.2)) delete holder[key];
  else if (random.chance(0.15))
    // Object.defineProperty, so that `__proto__` is a key like any other, as JSON.parse makes it.
    Object.defineProperty(holder, random.chance(0.5) ? pick(random, TEXTS) : pick(random, words), {
      value: other(random, holder[key] ?? null, holders, words),
      enumerable: true,
      configurable: true,
      writable: true,
    });
  else holder[key] = other(random, holder[key] ?? null, holders, words);
}

/** Mostly a value of the same kind: one of another kind is refused at the door. */
function other(random: Random, value: Json, holders: readonly Holder[], words: readonly string[]): Json {
  if (random.chance(0.15))
    return pick<Json>(random, [null, true, [], {}, pick(random, NUMBERS), pick(random, TEXTS)]);
  switch (typeof value) {
    case "number":
      return random.chance(0.5)
        ? pick(random, NUMBERS)
        : value * pick(random, [-1, 0.1, 0.5, 0.99, 1.01, 2, 10, 1000]);
    case "string":
      return random.chance(0.5)
        ? pick(random, random.chance(0.5) || words.length === 0 ? TEXTS : words)
        : value.slice(random.below(value.length + 1));
    case "boolean":
      return !value;
    default:
      return copied(random, holders);
  }
}

/** A copy of something that stands elsewhere, so that nothing ever holds itself. */
function copied(random: Random, holders: readonly Holder[]): Json {
  const text = JSON.stringify(pick(random, holders));
  return text.length > 20_000 ? null : (JSON.parse(text) as Json);
}

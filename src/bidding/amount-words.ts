import { type Cents, cents } from "../quantity/si.ts";

const small = [
  "",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
  "thirteen",
  "fourteen",
  "fifteen",
  "sixteen",
  "seventeen",
  "eighteen",
  "nineteen",
] as const;
const tens = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"] as const;
/** Names of the groups of three digits, greatest first, with what one of each is. */
export const groups = [
  { name: "billion", is: 1e9 },
  { name: "million", is: 1e6 },
  { name: "thousand", is: 1e3 },
  { name: "", is: 1 },
] as const;

/** A number below 100 in words; nothing is the empty text. */
export const belowHundred = (number: number): string =>
  number < 20
    ? small[number]!
    : [tens[Math.floor(number / 10)]!, small[number % 10]!].filter((word) => word !== "").join("-");

const belowThousand = (number: number): string =>
  [number >= 100 ? `${small[Math.floor(number / 100)]!} hundred` : "", belowHundred(number % 100)]
    .filter((word) => word !== "")
    .join(" ");

/** A whole number in words; nothing is `zero`. */
function wholeInWords(number: number): string {
  const words = groups.flatMap(({ name, is }) => {
    const group = Math.floor(number / is) % 1000;
    return group === 0 ? [] : [belowThousand(group), name];
  });
  return number === 0 ? "zero" : words.filter((word) => word !== "").join(" ");
}

/**
 * An amount as a bid writes it beside its figures: `one thousand two hundred thirty-four and 05/100 USD`.
 * Holds for: nothing or more, below a thousand billion.
 */
export function amountInWords(amount: Cents, currency: string): string {
  if (!(Number.isSafeInteger(amount) && amount >= 0 && amount < 1e14))
    throw new RangeError(`amountInWords: whole cents from 0 to below 10^14, got ${amount}`);
  const rest = String(amount % 100).padStart(2, "0");
  return `${wholeInWords(Math.floor(amount / 100))} and ${rest}/100 ${currency}`;
}

const numberWords: ReadonlySet<string> = new Set(
  [...small, ...tens, "zero", "hundred", ...groups.map(({ name }) => name)].filter((word) => word !== ""),
);
const units: ReadonlySet<string> = new Set([
  "dollar",
  "dollars",
  "euro",
  "euros",
  "pound",
  "pounds",
  "franc",
  "francs",
]);
const partUnits: ReadonlySet<string> = new Set(["cent", "cents"]);

/**
 * The amount that words say, read strictly: number words in the order in which {@link amountInWords} writes them, `and`
 * and the name of the currency where they usually stand, cents as `05/100`, in words, or not at all. Null for anything
 * else, which people must read: a guess would decide who is lowest.
 */
export function amountFromWords(text: string, currency: string): Cents | null {
  const words = text
    .toLowerCase()
    .replace(/\s*\/\s*/g, "/")
    .split(/[\s,\-‐‑–]+/)
    .filter((word) => word !== "" && word !== "only" && word !== "and");
  const isUnit = (word: string | undefined): boolean =>
    word !== undefined && (units.has(word) || word === currency.toLowerCase());
  let at = 0;
  const take = (is: (word: string) => boolean): string[] => {
    const from = at;
    while (at < words.length && is(words[at]!)) at++;
    return words.slice(from, at);
  };
  const whole = wholeFromWords(take((word) => numberWords.has(word)));
  if (whole === null) return null;
  take((word) => isUnit(word));
  let rest: number | null = 0;
  const fraction = /^(\d{2}|no|xx)\/100$/.exec(words[at] ?? "")?.[1];
  if (fraction !== undefined) {
    at++;
    rest = /^\d/.test(fraction) ? Number(fraction) : 0;
  } else if (words[at] === "no" && partUnits.has(words[at + 1] ?? "")) at += 2;
  else if (at < words.length) {
    rest = wholeFromWords(take((word) => numberWords.has(word)));
    if (rest === null || rest > 99 || !partUnits.has(words[at] ?? "")) return null;
    at++;
  }
  take((word) => isUnit(word));
  return at < words.length ? null : cents(whole * 100 + rest);
}

/** Null unless the words are exactly those of a number. */
function wholeFromWords(words: readonly string[]): number | null {
  let [sum, group] = [0, 0];
  for (const word of words) {
    const scale = groups.find(({ name }) => name === word)?.is;
    if (scale !== undefined) {
      sum += group * scale;
      group = 0;
    } else if (word === "hundred") group *= 100;
    else if (word !== "zero")
      group += Math.max(small.indexOf(word as never), 10 * tens.indexOf(word as never));
  }
  const number = sum + group;
  const again = wholeInWords(number).split(/[ -]/);
  return number < 1e12 && again.length === words.length && again.every((word, i) => word === words[i])
    ? number
    : null;
}

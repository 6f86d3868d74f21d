import { type UnitKey, unitWritten } from "../quantity/units.ts";
import { FormulaFault, quoted } from "./formula-problem.ts";
import { isFunction, refusedWords, unitNamed, wordOperators } from "./vocabulary.ts";

interface Place {
  readonly at: number;
  /** As written. */
  readonly text: string;
}
export type Token =
  | (Place & { readonly kind: "number" })
  | (Place & { readonly kind: "name" })
  | (Place & { readonly kind: "text" })
  | (Place & { readonly kind: "unit"; readonly unit: UnitKey })
  | (Place & { readonly kind: "sign" });

/** Limits that no honest formula meets and that keep every later pass small: nothing recurses deeper than these. */
export const LONGEST = 10_000;
export const MOST_TOKENS = 2_000;
export const DEEPEST = 100;

const NUMBER = /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?/y;
const NAME = /[A-Za-z_][A-Za-z0-9_]*/y;
/** A word of any alphabet, such as a heading of the city's. */
const WORD = /[\p{L}_][\p{L}\p{Nd}_]*/uy;
const TEXT = /"[^"\n]*"|'[^'\n]*'/y;
const SIGN = /==|!=|<=|>=|[-+*/^(),<>?:]/y;
const BLANK = /\s+/y;

/** What people write from habit, and what it is called here. Longer ones first. */
const habits: readonly (readonly [written: string, write: string])[] = [
  ["===", "=="],
  ["!==", "!="],
  ["&&", "and"],
  ["||", "or"],
  ["**", "^"],
  ["<>", "!="],
  ["≤", "<="],
  ["≥", ">="],
  ["≠", "!="],
  ["×", "*"],
  ["·", "*"],
  ["÷", "/"],
  ["−", "-"],
  ["²", "^2"],
  ["³", "^3"],
  ["&", "and"],
  ["|", "or"],
];

/**
 * The words and signs of a formula with their places, which mathjs does not keep. A unit is a unit only directly
 * after a number; so `6 in` can never become the conversion `a in b` of mathjs, and `5 min` never the function.
 *
 * @throws FormulaFault for anything outside the language's alphabet
 */
export function readTokens(text: string, currency: string): readonly Token[] {
  if (text.length > LONGEST)
    throw new FormulaFault(LONGEST, `a formula of ${text.length} characters`, `at most ${LONGEST}`, "");
  const tokens: Token[] = [];
  let at = 0;
  let depth = 0;
  const match = (pattern: RegExp): string | null => {
    pattern.lastIndex = at;
    return pattern.exec(text)?.[0] ?? null;
  };
  while (at < text.length) {
    const blank = match(BLANK);
    if (blank !== null) {
      at += blank.length;
      continue;
    }
    const token = tokenAt(text, at, match, tokens.at(-1), currency);
    if (token.text === "(") depth += 1;
    if (token.text === ")") depth -= 1;
    if (depth > DEEPEST)
      throw new FormulaFault(at, `parentheses ${depth} deep`, `at most ${DEEPEST}`, "Split the formula.");
    if (tokens.push(token) > MOST_TOKENS)
      throw new FormulaFault(at, "a long formula", `at most ${MOST_TOKENS} words and signs`, "Split it.");
    at += token.text.length;
  }
  if (tokens.length === 0) throw new FormulaFault(0, "nothing", "a formula", "");
  return tokens;
}

function tokenAt(
  text: string,
  at: number,
  match: (pattern: RegExp) => string | null,
  before: Token | undefined,
  currency: string,
): Token {
  const afterNumber = before?.kind === "number";
  const number = match(NUMBER);
  if (number !== null) {
    if (!Number.isFinite(Number(number)))
      throw new FormulaFault(at, quoted(number), "a number below 1.8e308", "");
    return { kind: "number", at, text: number };
  }
  const name = match(NAME);
  const word = match(WORD);
  if (word !== null && word !== name && !afterNumber)
    throw new FormulaFault(
      at,
      quoted(word),
      "a key of the letters a to z, such as host_length",
      "Columns have keys in formulas, not the headings of the file: wyeplan formulas lists them.",
    );
  if (name !== null) return namedToken(name, text, at, before, currency);
  if (afterNumber) refuseUnitMark(text, at, before.text, currency);
  const string = match(TEXT);
  if (string !== null) return { kind: "text", at, text: string };
  for (const [written, write] of habits) {
    if (text.startsWith(written, at))
      throw new FormulaFault(at, quoted(written), quoted(write), `Write ${write} for ${written}.`);
  }
  const sign = match(SIGN);
  if (sign !== null) return { kind: "sign", at, text: sign };
  return refuseCharacter(text, at);
}

function namedToken(
  name: string,
  text: string,
  at: number,
  before: Token | undefined,
  currency: string,
): Token {
  if ((wordOperators as readonly string[]).includes(name)) return { kind: "sign", at, text: name };
  const isCall = isFunction(name) && /^\s*\(/.test(text.slice(at + name.length, at + name.length + 80));
  const unit = isCall ? null : unitNamed(name, currency);
  if (before?.kind === "number") {
    if (unit !== null) return { kind: "unit", at, text: name, unit };
    throw new FormulaFault(
      at,
      quoted(name),
      "a unit or an operator after a number",
      notAUnit(name, before.text, currency),
    );
  }
  if (unit !== null)
    throw new FormulaFault(
      at,
      `the unit ${name}`,
      "a number before it",
      `Write 1 ${name}. Units are converted by themselves, so no conversion is needed.`,
    );
  if ((refusedWords as readonly string[]).includes(name))
    throw new FormulaFault(at, quoted(name), "+ - * / ^ == != < <= > >= and or", `There is no ${name} here.`);
  return { kind: "name", at, text: name };
}

function notAUnit(name: string, number: string, currency: string): string {
  const written = unitWritten(name);
  if (written === "money")
    return `The program counts in ${currency}: write ${number} ${currency.toLowerCase()}.`;
  if (written !== null) return "Temperatures have no use in a formula.";
  return `If it is not a unit, write ${number} * ${name}.`;
}

/** `6"`, `8'`, `10%`, `5 °C`: marks that are read in city files and have names in formulas. */
function refuseUnitMark(text: string, at: number, number: string, currency: string): void {
  const mark = text.charAt(at);
  const names: Readonly<Record<string, string>> = {
    '"': "in",
    "″": "in",
    "'": "ft",
    "′": "ft",
    "%": "percent",
    "‰": "permille",
    $: currency.toLowerCase(),
    "€": currency.toLowerCase(),
    "£": currency.toLowerCase(),
  };
  if (!Object.hasOwn(names, mark)) return;
  const unit = names[mark];
  throw new FormulaFault(at, quoted(mark), "a unit by its name", `Write ${number} ${unit}.`);
}

function refuseCharacter(text: string, at: number): never {
  const found = String.fromCodePoint(text.codePointAt(at) ?? 0);
  const remedies: Readonly<Record<string, string>> = {
    "=": "Write == to compare; a formula sets nothing.",
    "!": "Write not for !.",
    "%": "Write 2 percent for 2%.",
    '"': 'Close the text with ".',
    "'": "Close the text with '.",
    ".": "A point stands inside a number only, with digits after it.",
  };
  const remedy = Object.hasOwn(remedies, found) ? remedies[found] : undefined;
  throw new FormulaFault(
    at,
    quoted(found),
    "a number, a name, a text in quotes or one of + - * / ^ ( ) , ? : == != < <= > >= and or not",
    remedy ?? "",
  );
}

import type { Column } from "../columns/column.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import { isQuantity, type QuantityMeasure, quantities } from "../quantity/measure.ts";
import { type Unit, type UnitKey, units } from "../quantity/units.ts";
import { FormulaFault, quoted } from "./formula-problem.ts";
import {
  DATE,
  describeType,
  type FormulaType,
  isPlain,
  measuresOf,
  multiply,
  PLAIN,
  raise,
  sameType,
  TIME,
  typeOfMeasure,
  YES_NO,
} from "./formula-type.ts";
import { nearestNames } from "./nearest-names.ts";
import { constant, dividedBy, type Step, times } from "./step.ts";
import { plainNumber, type Term } from "./tree.ts";
import { AS_OF, isEarlier, isFunction, type Vocabulary } from "./vocabulary.ts";

/** A term with its meaning: what to compute and what it gives. */
export interface Checked {
  readonly step: Step;
  readonly type: FormulaType;
  /** The measure the number came from, if one: `host_diameter + 1 in` is thought of as a diameter. */
  readonly like: QuantityMeasure | null;
}

const SECONDS_PER_DAY = units.d.scale;

/**
 * Gives every term its type and its steps in coherent SI.
 *
 * @throws FormulaFault at the first term that does not fit
 */
export function check(term: Term, vocabulary: Vocabulary): Checked {
  switch (term.kind) {
    case "number":
      return { step: constant(term.value), type: PLAIN, like: null };
    case "boolean":
      return { step: constant(term.value ? 1 : 0), type: YES_NO, like: null };
    case "quantity": {
      const unit: Unit = units[term.unit];
      const type: FormulaType = { kind: "number", dimension: raise(unit.dimension, term.power) };
      return { step: constant(term.value * unit.scale ** term.power), type, like: null };
    }
    case "text":
      throw new FormulaFault(
        term.at,
        `the text ${quoted(term.value)}`,
        "a value",
        'A text in quotes stands only beside == or !=, as in surface == "street".',
      );
    case "name":
      return checkName(term.name, term.at, vocabulary);
    case "minus": {
      const of = check(term.of, vocabulary);
      number(of, term.of);
      return { ...of, step: { do: "minus", of: of.step } };
    }
    case "not":
      return { step: { do: "not", of: checkYesNo(term.of, vocabulary) }, type: YES_NO, like: null };
    case "and":
    case "or": {
      const left = checkYesNo(term.left, vocabulary);
      return {
        step: { do: term.kind, left, right: checkYesNo(term.right, vocabulary) },
        type: YES_NO,
        like: null,
      };
    }
    case "choice": {
      const condition = checkYesNo(term.condition, vocabulary);
      const yes = check(term.yes, vocabulary);
      const no = check(term.no, vocabulary);
      agree(yes, term.yes, no, term.no, vocabulary);
      value(yes, term.yes);
      return { ...like(yes, no), step: { do: "choose", condition, yes: yes.step, no: no.step } };
    }
    case "arithmetic":
      return checkArithmetic(term, vocabulary);
    case "comparison":
      return checkComparison(term, vocabulary);
    case "call":
      return checkCall(term, vocabulary);
    default:
      return term satisfies never;
  }
}

function checkName(name: string, at: number, vocabulary: Vocabulary): Checked {
  if (name === AS_OF) return { step: constant(vocabulary.asOf), type: DATE, like: null };
  const column = vocabulary.columns.find(({ key }) => key === name);
  if (column === undefined) {
    if (isFunction(name)) throw new FormulaFault(at, `the function ${name}`, `"(" after it`, "");
    const near = nearestNames(
      name,
      vocabulary.columns.filter((each) => isEarlier(each, vocabulary.stage)).map(({ key }) => key),
    );
    const remedy = near.length > 0 ? `Did you mean ${near.join(" or ")}?` : "";
    throw new FormulaFault(at, `the unknown name ${quoted(name)}`, "a column or a function", remedy);
  }
  if (!isEarlier(column, vocabulary.stage))
    throw new FormulaFault(
      at,
      `${name}, which is filled by the stage "${column.stage}"`,
      `a column of a stage before "${vocabulary.stage}"`,
      "",
    );
  if (column.measure === "temperature")
    throw new FormulaFault(
      at,
      `the temperature ${name}`,
      "another column",
      "Temperatures have no sums here.",
    );
  const type = typeOfMeasure(column.measure);
  const measure = isQuantity(column.measure) ? column.measure : null;
  const scale = measure === null ? 1 : units[quantities[measure].stored].scale;
  return { step: { do: "column", key: name, scale }, type, like: measure };
}

function checkYesNo(term: Term, vocabulary: Vocabulary): Step {
  const { step, type } = check(term, vocabulary);
  if (type.kind === "boolean") return step;
  const remedy =
    type.kind === "number"
      ? "Compare it with something, and put parentheses around a comparison after not."
      : "Compare it with something.";
  throw new FormulaFault(term.at, describeFound(term, type), "yes or no", remedy);
}

function checkArithmetic(term: Term & { readonly kind: "arithmetic" }, vocabulary: Vocabulary): Checked {
  const { sign } = term;
  const left = check(term.left, vocabulary);
  const right = check(term.right, vocabulary);
  if ((sign === "+" || sign === "-") && (left.type.kind === "date" || right.type.kind === "date"))
    return checkDateSum(term, left, right);
  if (sign === "^") return checkPower(left, term.left, right, term.right);
  const a = number(left, term.left);
  const b = number(right, term.right);
  const step: Step = { do: "arithmetic", sign, left: left.step, right: right.step };
  if (sign === "*" || sign === "/") {
    const dimension = multiply(a, b, sign === "*" ? 1 : -1);
    // Half a diameter is a diameter; a length times a length is like neither.
    const kept = isPlain(right.type) ? left.like : sign === "*" && isPlain(left.type) ? right.like : null;
    return { step, type: { kind: "number", dimension }, like: kept };
  }
  agree(left, term.left, right, term.right, vocabulary);
  return { ...like(left, right), step };
}

/** date − date is a time; a date later or earlier by a time is a date. Day numbers; a day is 86 400 s. */
function checkDateSum(term: Term & { readonly kind: "arithmetic" }, left: Checked, right: Checked): Checked {
  const { sign } = term;
  const isMinus = sign === "-";
  if (left.type.kind === "date" && right.type.kind === "date" && isMinus) {
    const days: Step = { do: "arithmetic", sign, left: left.step, right: right.step };
    return { step: times(days, SECONDS_PER_DAY), type: TIME, like: "age" };
  }
  if (left.type.kind === "date" && sameType(right.type, TIME)) {
    const later: Step = {
      do: "arithmetic",
      sign,
      left: left.step,
      right: dividedBy(right.step, SECONDS_PER_DAY),
    };
    return { step: later, type: DATE, like: null };
  }
  if (right.type.kind === "date" && sameType(left.type, TIME) && !isMinus) {
    const later: Step = {
      do: "arithmetic",
      sign,
      left: dividedBy(left.step, SECONDS_PER_DAY),
      right: right.step,
    };
    return { step: later, type: DATE, like: null };
  }
  const blamed = left.type.kind === "date" ? term.right : term.left;
  const { type } = left.type.kind === "date" ? right : left;
  const expected = isMinus ? "a date or a time" : "a time";
  throw new FormulaFault(blamed.at, describeFound(blamed, type), expected, remedyForTime(blamed, type));
}

const remedyForTime = (term: Term, type: FormulaType): string =>
  isPlain(type) && term.kind === "number" ? `Write ${term.value} days or ${term.value} years.` : "";

function checkPower(left: Checked, base: Term, right: Checked, power: Term): Checked {
  const dimension = number(left, base);
  number(right, power);
  if (!isPlain(right.type))
    throw new FormulaFault(
      power.at,
      describeFound(power, right.type),
      "a plain number as power",
      "Divide it by a unit, as in host_length / (1 m).",
    );
  const step: Step = { do: "arithmetic", sign: "^", left: left.step, right: right.step };
  if (isPlain(left.type)) return { step, type: PLAIN, like: null };
  const exponent = plainNumber(power);
  if (exponent === null)
    throw new FormulaFault(
      power.at,
      "a power that changes from row to row",
      `a number, because ${describeType(left.type)} is raised`,
      "Divide the base by a unit first.",
    );
  return { step, type: { kind: "number", dimension: raise(dimension, exponent) }, like: null };
}

function checkComparison(term: Term & { readonly kind: "comparison" }, vocabulary: Vocabulary): Checked {
  const { sign, left, right } = term;
  if (left.kind === "text" && right.kind === "text")
    throw new FormulaFault(right.at, "two texts", "a column on one side", "");
  if (right.kind === "text") return checkText(left, right, term, vocabulary);
  if (left.kind === "text") return checkText(right, left, term, vocabulary);
  const a = check(left, vocabulary);
  const b = check(right, vocabulary);
  agree(a, left, b, right, vocabulary);
  value(a, left);
  if (a.type.kind === "boolean" && sign !== "==" && sign !== "!=")
    throw new FormulaFault(left.at, "yes or no", "a number or a date", "Only == and != compare yes and no.");
  return { step: { do: "compare", sign, left: a.step, right: b.step }, type: YES_NO, like: null };
}

/** A text in quotes against a text column (equal or not) or against a date (`inspected_on < "2020-01-01"`). */
function checkText(
  term: Term,
  text: Term & { readonly kind: "text" },
  comparison: Term & { readonly kind: "comparison" },
  vocabulary: Vocabulary,
): Checked {
  const other = check(term, vocabulary);
  const { sign } = comparison;
  if (other.type.kind === "date") {
    const day = dayFromIso(text.value);
    if (day === null)
      throw new FormulaFault(text.at, quoted(text.value), 'a date such as "2025-03-31"', "Year, month, day.");
    const fixed = constant(day);
    const onLeft = comparison.left === text;
    const step: Step = {
      do: "compare",
      sign,
      left: onLeft ? fixed : other.step,
      right: onLeft ? other.step : fixed,
    };
    return { step, type: YES_NO, like: null };
  }
  if (other.type.kind !== "text" || other.step.do !== "column")
    throw new FormulaFault(
      text.at,
      `the text ${quoted(text.value)}`,
      describeType(other.type),
      "Leave the quotes out of a number.",
    );
  if (sign !== "==" && sign !== "!=")
    throw new FormulaFault(text.at, `a text beside ${sign}`, "== or !=", "Texts have no order here.");
  const { key } = other.step;
  if (text.value === "")
    throw new FormulaFault(
      text.at,
      "an empty text",
      "some text",
      `Write not known(${key}) for a missing one.`,
    );
  verifyWord(
    vocabulary.columns.find((column) => column.key === key),
    text,
  );
  const is: Step = { do: "text is", key, text: text.value };
  return { step: sign === "==" ? is : { do: "not", of: is }, type: YES_NO, like: null };
}

/** A word that the column can never hold is a slip of the pen, not a condition. */
function verifyWord(column: Column | undefined, text: Term & { readonly kind: "text" }): void {
  if (column?.words === undefined || column.words.includes(text.value)) return;
  const words = column.words.map((word) => JSON.stringify(word)).join(", ");
  throw new FormulaFault(text.at, quoted(text.value), `one of ${words}`, "");
}

function checkCall(term: Term & { readonly kind: "call" }, vocabulary: Vocabulary): Checked {
  const { name } = term;
  const first = term.of[0];
  if (first === undefined) throw new Error(`check: ${name} without a value at ${term.at}`);
  const a = check(first, vocabulary);
  switch (name) {
    case "known": {
      const isText = a.type.kind === "text" && a.step.do === "column";
      const step: Step = isText ? { do: "text known", key: a.step.key } : { do: "known", of: a.step };
      return { step, type: YES_NO, like: null };
    }
    case "if_missing": {
      const second = term.of[1] ?? first;
      const b = check(second, vocabulary);
      agree(a, first, b, second, vocabulary);
      value(a, first);
      return { ...like(a, b), step: { do: "if missing", left: a.step, right: b.step } };
    }
    case "min":
    case "max": {
      let all = a;
      if (a.type.kind !== "date") number(a, first);
      for (const each of term.of.slice(1)) {
        const next = check(each, vocabulary);
        agree(all, first, next, each, vocabulary);
        const step: Step = {
          do: name === "min" ? "least" : "greatest",
          left: all.step,
          right: next.step,
        };
        all = { ...like(all, next), step };
      }
      return all;
    }
    case "abs":
      number(a, first);
      return { ...a, step: { do: "one number", name, of: a.step } };
    case "sqrt": {
      const type: FormulaType = { kind: "number", dimension: raise(number(a, first), 0.5) };
      return { step: { do: "one number", name, of: a.step }, type, like: null };
    }
    case "pow": {
      const second = term.of[1] ?? first;
      return checkPower(a, first, check(second, vocabulary), second);
    }
    case "year_of":
      if (a.type.kind !== "date")
        throw new FormulaFault(first.at, describeFound(first, a.type), "a date", "");
      return { step: { do: "one number", name, of: a.step }, type: PLAIN, like: null };
    case "exp":
    case "log":
    case "floor":
    case "ceil":
    case "round": {
      number(a, first);
      if (!isPlain(a.type))
        throw new FormulaFault(
          first.at,
          describeFound(first, a.type),
          `a plain number for ${name}`,
          `Divide by a unit first: ${name}(… / (1 ${exampleUnits(a, vocabulary)[0] ?? "unit"})).`,
        );
      return { step: { do: "one number", name, of: a.step }, type: PLAIN, like: null };
    }
    default:
      return name satisfies never;
  }
}

/** The dimension of a number. */
function number(checked: Checked, term: Term) {
  if (checked.type.kind === "number") return checked.type.dimension;
  const remedies = {
    boolean: "To count yes as one, write (…) ? 1 : 0.",
    date: "The difference of two dates is a time; year_of(date) is a plain number.",
    text: 'Text is only compared, as in surface == "street".',
  } as const;
  throw new FormulaFault(term.at, describeFound(term, checked.type), "a number", remedies[checked.type.kind]);
}

/** Anything but text. */
function value(checked: Checked, term: Term): void {
  if (checked.type.kind === "text")
    throw new FormulaFault(
      term.at,
      describeFound(term, checked.type),
      "a number, a date or yes/no",
      'Text is only compared with a text in quotes, as in surface == "street".',
    );
}

/** Both sides of one type, or the fault is at the side that has no unit; else at the second. */
function agree(a: Checked, aTerm: Term, b: Checked, bTerm: Term, vocabulary: Vocabulary): void {
  if (sameType(a.type, b.type)) return;
  const [found, foundTerm, wanted] =
    isPlain(a.type) && b.type.kind === "number" ? [a, aTerm, b] : [b, bTerm, a];
  let remedy = "";
  if (isPlain(found.type) && wanted.type.kind === "number") {
    const shown = exampleUnits(wanted, vocabulary);
    const amount = foundTerm.kind === "number" ? String(foundTerm.value) : null;
    if (shown.length > 0)
      remedy =
        amount === null
          ? `Multiply it by a unit, as in … * 1 ${shown[0]}.`
          : `${amount} has no unit; write ${shown.map((unit) => `${amount} ${unit}`).join(" or ")}.`;
  } else if (wanted.type.kind === "date") remedy = remedyForTime(foundTerm, found.type);
  throw new FormulaFault(
    foundTerm.at,
    describeFound(foundTerm, found.type),
    describeType(wanted.type),
    remedy,
  );
}

/** The units people see for such a number, as a formula writes them. */
function exampleUnits({ type, like: measure }: Checked, { currency }: Vocabulary): readonly string[] {
  if (type.kind !== "number") return [];
  const shown = measure ?? measuresOf(type.dimension)[0];
  if (shown === undefined) return [];
  const { us, si } = quantities[shown];
  return [...new Set([us, si])].map((unit) => unitInFormula(unit, currency));
}

export function unitInFormula(unit: UnitKey, currency: string): string {
  if (unit === "money") return currency.toLowerCase();
  const spelling: string = units[unit].spellings[0];
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(spelling) ? spelling : unit;
}

const like = (a: Checked, b: Checked) => ({ type: a.type, like: a.like ?? b.like });

function describeFound(term: Term, type: FormulaType): string {
  switch (term.kind) {
    case "number":
      return `${term.value}, ${describeType(type)}`;
    case "name":
      return `${term.name}, ${describeType(type)}`;
    default:
      return describeType(type);
  }
}

import {
  type ColumnValues,
  codesOf,
  type Lookup,
  numberOf,
  numbersOf,
  type TextTest,
  testOf,
} from "./read-values.ts";
import { ceilNear, floorNear, greatest, least, near, roundAway, yearOf } from "./rounding.ts";
import type { OneNumber, Step } from "./step.ts";
import type { Comparison } from "./tree.ts";

export interface Compiled {
  /** Keys of the columns it reads, in the order met. */
  readonly reads: readonly string[];
  /** The value for one record. */
  readonly evaluate: (lookup: Lookup) => number;
  /** The values of rows `from` to `to` (not included), into the same rows of `out`. */
  readonly fill: (
    columns: ReadonlyMap<string, ColumnValues>,
    out: Float64Array,
    from: number,
    to: number,
  ) => void;
}

/** What the compiled functions may call, besides Math. */
const given = {
  near,
  least,
  greatest,
  floor: floorNear,
  ceil: ceilNear,
  round: roundAway,
  yearOf,
  numberOf,
  testOf,
};
const opening = `"use strict"; const { ${Object.keys(given).join(", ")} } = given;`;

/**
 * Compiles steps to two functions written by one writer: over one record, and over columns.
 *
 * The source text is made of fixed words and counted names (`t7`, `k2`, `c0`) only. Whatever the user wrote
 * (numbers, texts, column keys) reaches the functions as arguments, so no formula can become code. Each step is a
 * statement of its own: nothing nests deeply, and a term that occurs twice is computed once.
 */
export function compile(step: Step): Compiled {
  const record = new Writer({
    number: (j) => `numberOf(lookup, keys[${j}])`,
    textIs: (j) => `testOf(lookup, tests[${j}])`,
    textKnown: (j) => `testOf(lookup, tests[${j}])`,
  });
  const recordResult = record.writeAll(step);
  const evaluate = new Function(
    "given",
    [
      opening,
      "return (k, keys, tests, lookup) => {",
      ...record.constants.map((_, i) => `const k${i} = k[${i}];`),
      ...record.lines,
      `return ${recordResult};`,
      "};",
    ].join("\n"),
  )(given) as RecordForm;

  const rows = new Writer({
    number: (j) => `c${j}[i]`,
    textIs: (j) => `w${j}[i - s${j}] === m${j} ? 1 : w${j}[i - s${j}] === 0 ? NaN : 0`,
    textKnown: (j) => `w${j}[i - s${j}] === 0 ? 0 : 1`,
  });
  const rowsResult = rows.writeAll(step);
  const fill = new Function(
    "given",
    [
      opening,
      "return (k, columns, tests, out, from, to) => {",
      ...rows.constants.map((_, i) => `const k${i} = k[${i}];`),
      ...rows.numbers.map((_, j) => `const c${j} = columns[${j}];`),
      ...rows.tests.map((_, j) => `const { codes: w${j}, code: m${j}, start: s${j} } = tests[${j}];`),
      "for (let i = from; i < to; i++) {",
      ...rows.lines,
      `out[i] = ${rowsResult};`,
      "}",
      "};",
    ].join("\n"),
  )(given) as ColumnForm;

  const k = Float64Array.from(record.constants);
  const { numbers, tests } = record;
  return {
    reads: [...new Set([...numbers, ...tests.map(({ key }) => key)])],
    evaluate: (lookup) => evaluate(k, numbers, tests, lookup),
    fill: (columns, out, from, to) => {
      if (!(from >= 0 && from <= to && to <= out.length))
        throw new RangeError(`fill: rows ${from} to ${to} of ${out.length}`);
      fill(
        k,
        numbers.map((key) => numbersOf(columns, key, to)),
        tests.map((test) => codesOf(columns, test, from, to)),
        out,
        from,
        to,
      );
    },
  };
}

/** Several formulas, answered in one go from values read beforehand. */
export interface CompiledTogether {
  /** Keys of the numbers to read, and the questions about texts to answer, before it is called. */
  readonly numbers: readonly string[];
  readonly tests: readonly TextTest[];
  /** Writes the value of formula i to `out[i]`; `read[j]` is the number `numbers[j]`, `tested[j]` the answer to `tests[j]`. */
  readonly answer: (read: Float64Array, tested: Float64Array, out: Float64Array) => void;
}

/**
 * Compiles formulas that are always asked together to one function, in which what occurs in several is computed once. One by
 * one through {@link Compiled.evaluate}, with their reasons, the house rules took a sixth of the plan's time (profile of 100,000 laterals).
 */
export function compileTogether(steps: readonly Step[]): CompiledTogether {
  const writer = new Writer({
    number: (j) => `read[${j}]`,
    textIs: (j) => `tested[${j}]`,
    textKnown: (j) => `tested[${j}]`,
  });
  writer.writeEach(steps);
  const answer = new Function(
    "given",
    [
      opening,
      "return (k, read, tested, out) => {",
      ...writer.constants.map((_, i) => `const k${i} = k[${i}];`),
      ...writer.lines,
      "};",
    ].join("\n"),
  )(given) as (k: Float64Array, read: Float64Array, tested: Float64Array, out: Float64Array) => void;
  const k = Float64Array.from(writer.constants);
  return {
    numbers: writer.numbers,
    tests: writer.tests,
    answer: (read, tested, out) => answer(k, read, tested, out),
  };
}

type RecordForm = (
  k: Float64Array,
  keys: readonly string[],
  tests: readonly TextTest[],
  lookup: Lookup,
) => number;
type ColumnForm = (
  k: Float64Array,
  columns: readonly Float64Array[],
  tests: readonly { readonly codes: Uint32Array; readonly code: number; readonly start: number }[],
  out: Float64Array,
  from: number,
  to: number,
) => void;

/** How each form reads a column; `j` counts the columns, or the tests of text, in the order met. */
interface Leaves {
  readonly number: (j: number) => string;
  readonly textIs: (j: number) => string;
  readonly textKnown: (j: number) => string;
}

/** Statements that run together, and the names of what is computed in them already. */
interface Block {
  readonly lines: string[];
  readonly names: Map<string, string>;
  readonly outer: Block | null;
}

/** What a comparison gives when the sides are near, in order, or in reverse order. */
const verdicts: Readonly<Record<Comparison, readonly [near: 0 | 1, less: 0 | 1, more: 0 | 1]>> = {
  "==": [1, 0, 0],
  "!=": [0, 1, 1],
  "<": [0, 1, 0],
  "<=": [1, 1, 0],
  ">": [0, 0, 1],
  ">=": [1, 0, 1],
};

const calls: Readonly<Record<OneNumber, string>> = {
  abs: "Math.abs",
  exp: "Math.exp",
  log: "Math.log",
  sqrt: "Math.sqrt",
  floor: "floor",
  ceil: "ceil",
  round: "round",
  whole: "Math.round",
  year_of: "yearOf",
};

class Writer {
  readonly constants: number[] = [];
  readonly numbers: string[] = [];
  readonly tests: TextTest[] = [];
  readonly lines: string[] = [];
  readonly #leaves: Leaves;
  #count = 0;

  constructor(leaves: Leaves) {
    this.#leaves = leaves;
  }

  /** The name that holds the result once the lines have run. */
  writeAll(step: Step): string {
    return this.#write(step, { lines: this.lines, names: new Map(), outer: null });
  }

  /** Lines that put the result of each step into `out`. */
  writeEach(steps: readonly Step[]): void {
    const block: Block = { lines: this.lines, names: new Map(), outer: null };
    for (const [i, step] of steps.entries()) {
      const result = this.#write(step, block);
      this.lines.push(`out[${i}] = ${result};`);
    }
  }

  #write(step: Step, block: Block): string {
    const write = (each: Step) => this.#write(each, block);
    switch (step.do) {
      case "constant":
        return `k${place(this.constants, (value) => Object.is(value, step.value), step.value)}`;
      case "column": {
        const j = place(this.numbers, (key) => key === step.key, step.key);
        const read = this.#name(block, this.#leaves.number(j));
        return step.scale === 1
          ? read
          : this.#name(block, `${read} * ${write({ do: "constant", value: step.scale })}`);
      }
      case "text is":
        return this.#name(block, this.#leaves.textIs(this.#test(step.key, step.text)));
      case "text known":
        return this.#name(block, this.#leaves.textKnown(this.#test(step.key, null)));
      case "minus":
        return this.#name(block, `-${write(step.of)}`);
      case "not":
        return this.#name(block, `1 - ${write(step.of)}`);
      case "known": {
        const of = write(step.of);
        return this.#name(block, `${of} === ${of} ? 1 : 0`);
      }
      case "if missing": {
        const left = write(step.left);
        return this.#branch(block, left, [[`${left} !== ${left}`, step.right]]);
      }
      case "one number":
        return this.#name(block, `${calls[step.name]}(${write(step.of)})`);
      case "least":
      case "greatest":
        return this.#name(block, `${step.do}(${write(step.left)}, ${write(step.right)})`);
      case "arithmetic": {
        const left = write(step.left);
        const right = write(step.right);
        return this.#name(
          block,
          step.sign === "^" ? `Math.pow(${left}, ${right})` : `${left} ${step.sign} ${right}`,
        );
      }
      case "compare":
        return this.#name(block, comparison(step.sign, write(step.left), write(step.right)));
      case "and":
      case "or": {
        // The stronger value decides whatever the other side is, known or not; then the other side decides, and
        // product and sum of 1, 0 and NaN are what three-valued logic asks for.
        const strong = step.do === "and" ? "0" : "1";
        const sign = step.do === "and" ? "*" : "+";
        const left = write(step.left);
        return this.#branch(block, strong, [
          [
            `${left} !== ${strong}`,
            step.right,
            (right) => `${right} === ${strong} ? ${strong} : ${left} ${sign} ${right}`,
          ],
        ]);
      }
      case "choose": {
        const condition = write(step.condition);
        return this.#branch(block, "NaN", [
          [`${condition} === 1`, step.yes],
          [`${condition} === 0`, step.no],
        ]);
      }
      default:
        return step satisfies never;
    }
  }

  /** One name for a computed value; the same computation in reach gets the name it has. */
  #name(block: Block, computation: string): string {
    for (let each: Block | null = block; each !== null; each = each.outer) {
      const known = each.names.get(computation);
      if (known !== undefined) return known;
    }
    const name = `t${this.#count++}`;
    block.lines.push(`const ${name} = ${computation};`);
    block.names.set(computation, name);
    return name;
  }

  /** A value that is `otherwise` unless a condition holds; the first that holds decides, and only its step is computed. */
  #branch(
    block: Block,
    otherwise: string,
    arms: readonly (readonly [condition: string, step: Step, finish?: (value: string) => string])[],
  ): string {
    const name = `t${this.#count++}`;
    block.lines.push(`let ${name} = ${otherwise};`);
    for (const [i, [condition, step, finish]] of arms.entries()) {
      block.lines.push(`${i > 0 ? "else " : ""}if (${condition}) {`);
      const value = this.#write(step, { lines: block.lines, names: new Map(), outer: block });
      block.lines.push(`${name} = ${finish === undefined ? value : finish(value)};`, "}");
    }
    return name;
  }

  #test(key: string, text: string | null): number {
    return place(this.tests, (test) => test.key === key && test.text === text, { key, text });
  }
}

/** Index of what is in the list, after adding it when it is not. */
function place<T>(list: T[], is: (each: T) => boolean, added: T): number {
  const found = list.findIndex(is);
  return found === -1 ? list.push(added) - 1 : found;
}

/** Near enough counts as equal; a missing side makes it unknown. Nearness is looked at only where it can matter. */
function comparison(sign: Comparison, a: string, b: string): string {
  const [equal, less, more] = verdicts[sign];
  const when = (verdict: 0 | 1) =>
    verdict === equal ? `${equal}` : `near(${a}, ${b}) ? ${equal} : ${verdict}`;
  return `${a} < ${b} ? (${when(less)}) : ${a} > ${b} ? (${when(more)}) : ${a} === ${b} ? ${equal} : NaN`;
}

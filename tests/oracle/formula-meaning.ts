/**
 * What a formula means, worked out the slow and plain way: a tree that knows how to be written and how to be
 * evaluated, with `null` for a missing number and an unknown answer, and Kleene's tables written out. It imports
 * nothing of the program.
 */
export type Answer = boolean | null;
export type Amount = number | null;

/** A row as a person would have it: lengths in metres whatever the sheet keeps. */
export interface OracleRow {
  readonly numbers: Readonly<Record<string, Amount>>;
  readonly answers: Readonly<Record<string, Answer>>;
  readonly texts: Readonly<Record<string, string | null>>;
}

export interface Meaning<T> {
  readonly text: string;
  readonly of: (row: OracleRow) => T;
}

/** Metres in each unit of length (NIST SP 811, Appendix B.8: the international foot is 0.3048 m exactly). */
export const METRES = { m: 1, mm: 0.001, cm: 0.01, ft: 0.3048, in: 0.0254 } as const;

type Three = "yes" | "no" | "unknown";
const three = (answer: Answer): Three => (answer === null ? "unknown" : answer ? "yes" : "no");
const answerOf = { yes: true, no: false, unknown: null } as const;

/** S. C. Kleene, Introduction to Metamathematics (1952), § 64: the strong tables. */
const AND: Readonly<Record<Three, Readonly<Record<Three, Three>>>> = {
  yes: { yes: "yes", no: "no", unknown: "unknown" },
  no: { yes: "no", no: "no", unknown: "no" },
  unknown: { yes: "unknown", no: "no", unknown: "unknown" },
};
const OR: Readonly<Record<Three, Readonly<Record<Three, Three>>>> = {
  yes: { yes: "yes", no: "yes", unknown: "yes" },
  no: { yes: "yes", no: "no", unknown: "unknown" },
  unknown: { yes: "yes", no: "unknown", unknown: "unknown" },
};
const NOT: Readonly<Record<Three, Three>> = { yes: "no", no: "yes", unknown: "unknown" };

export const kleene = {
  and: (a: Answer, b: Answer): Answer => answerOf[AND[three(a)][three(b)]],
  or: (a: Answer, b: Answer): Answer => answerOf[OR[three(a)][three(b)]],
  not: (a: Answer): Answer => answerOf[NOT[three(a)]],
};

const amount = (value: number): Amount => (Number.isNaN(value) ? null : value);
const both = (a: Amount, b: Amount, f: (a: number, b: number) => number): Amount =>
  a === null || b === null ? null : amount(f(a, b));

const isNear = (a: number, b: number) =>
  a === b ||
  (Number.isFinite(a) &&
    Number.isFinite(b) &&
    Math.abs(a - b) <= Math.max(1e-12 * Math.max(Math.abs(a), Math.abs(b)), 1e-15));

export const plain = (value: number): Meaning<Amount> => ({ text: String(value), of: () => value });
export const lengthOf = (value: number, unit: keyof typeof METRES): Meaning<Amount> => ({
  text: `${value} ${unit}`,
  of: () => value * METRES[unit],
});
export const numberColumn = (key: string): Meaning<Amount> => ({
  text: key,
  of: (row) => row.numbers[key] ?? null,
});
export const answerColumn = (key: string): Meaning<Answer> => ({
  text: key,
  of: (row) => row.answers[key] ?? null,
});
export const answer = (value: boolean): Meaning<Answer> => ({ text: String(value), of: () => value });

export const textIs = (key: string, sign: "==" | "!=", text: string): Meaning<Answer> => ({
  text: `(${key} ${sign} ${JSON.stringify(text)})`,
  of: (row) => {
    const found = row.texts[key] ?? null;
    return found === null ? null : (found === text) === (sign === "==");
  },
});
export const textKnown = (key: string): Meaning<Answer> => ({
  text: `known(${key})`,
  of: (row) => (row.texts[key] ?? null) !== null,
});

export const calculate = {
  "+": (a: number, b: number) => a + b,
  "-": (a: number, b: number) => a - b,
  "*": (a: number, b: number) => a * b,
  "/": (a: number, b: number) => a / b,
} as const;
export const arithmetic = (
  sign: keyof typeof calculate,
  a: Meaning<Amount>,
  b: Meaning<Amount>,
): Meaning<Amount> => ({
  text: `(${a.text} ${sign} ${b.text})`,
  of: (row) => both(a.of(row), b.of(row), calculate[sign]),
});

export const compare = {
  "==": (a: number, b: number) => isNear(a, b),
  "!=": (a: number, b: number) => !isNear(a, b),
  "<": (a: number, b: number) => a < b && !isNear(a, b),
  "<=": (a: number, b: number) => a < b || isNear(a, b),
  ">": (a: number, b: number) => a > b && !isNear(a, b),
  ">=": (a: number, b: number) => a > b || isNear(a, b),
} as const;
export const comparison = (
  sign: keyof typeof compare,
  a: Meaning<Amount>,
  b: Meaning<Amount>,
): Meaning<Answer> => ({
  text: `(${a.text} ${sign} ${b.text})`,
  of: (row) => {
    const x = a.of(row);
    const y = b.of(row);
    return x === null || y === null ? null : compare[sign](x, y);
  },
});

export const logic = (sign: "and" | "or", a: Meaning<Answer>, b: Meaning<Answer>): Meaning<Answer> => ({
  text: `(${a.text} ${sign} ${b.text})`,
  of: (row) => kleene[sign](a.of(row), b.of(row)),
});
export const not = (a: Meaning<Answer>): Meaning<Answer> => ({
  text: `(not ${a.text})`,
  of: (row) => kleene.not(a.of(row)),
});

export const choice = <T>(
  condition: Meaning<Answer>,
  yes: Meaning<T>,
  no: Meaning<T>,
): Meaning<T | null> => ({
  text: `(${condition.text} ? ${yes.text} : ${no.text})`,
  of: (row) => {
    const decided = condition.of(row);
    return decided === null ? null : decided ? yes.of(row) : no.of(row);
  },
});
export const ifMissing = <T>(a: Meaning<T>, b: Meaning<T>): Meaning<T> => ({
  text: `if_missing(${a.text}, ${b.text})`,
  of: (row) => a.of(row) ?? b.of(row),
});
export const known = (a: Meaning<Amount | Answer>): Meaning<Answer> => ({
  text: `known(${a.text})`,
  of: (row) => a.of(row) !== null,
});

const oneNumber = {
  abs: Math.abs,
  exp: Math.exp,
  log: Math.log,
  sqrt: Math.sqrt,
} as const;
export const call = (name: keyof typeof oneNumber, a: Meaning<Amount>): Meaning<Amount> => ({
  text: `${name}(${a.text})`,
  of: (row) => {
    const x = a.of(row);
    return x === null ? null : amount(oneNumber[name](x));
  },
});
export const extreme = (name: "min" | "max", all: readonly Meaning<Amount>[]): Meaning<Amount> => ({
  text: `${name}(${all.map(({ text }) => text).join(", ")})`,
  of: (row) => {
    const values = all.map((each) => each.of(row));
    return values.includes(null) ? null : Math[name](...(values as number[]));
  },
});
export const squared = (a: Meaning<Amount>): Meaning<Amount> => ({
  text: `(${a.text} ^ 2)`,
  of: (row) => both(a.of(row), 2, (x) => x * x),
});

/** What a cell holds for a formula that refers to it: a number, nothing, or what no arithmetic can be done with. A sum leaves text out. */
export type Operand = number | null | { readonly not: string; readonly isText?: true };

/** What a formula of plain arithmetic gives; else why it cannot be worked out here. */
export type WorkedOut =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly because: string };

/** Steps that no price list meets, and that bound a formula which asks for more. */
const MOST_STEPS = 20_000;
const DEEPEST = 60;

const NUMBER = String.raw`(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const CELL = String.raw`\$?[A-Za-z]{1,3}\$?\d{1,7}`;
const SHEET = String.raw`(?:'(?:[^']|'')+'|[A-Za-z_][\w.]*)!`;
/** A number, a cell or a range with or without its sheet, a name with or without a bracket, a sign. */
const TOKEN = new RegExp(
  String.raw`\s*(?:(${NUMBER})|((?:${SHEET})?${CELL}(?::${CELL})?)(?![\w.(!])|([A-Za-z_][\w.]*)(\()?|([-+*/^%(),])|$)`,
  "y",
);

type Token =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "cells"; readonly text: string }
  | { readonly kind: "call"; readonly name: string }
  | { readonly kind: "sign"; readonly sign: string };

class NotPlain extends Error {}

/**
 * Works out a formula that a bidder wrote: numbers, cells, `+ - * / ^ %`, brackets, SUM and ROUND. Spreadsheets take a sign before a
 * power (−2^2 is 4) and powers from the left, which mathjs and mathematics do not.
 *
 * @param cellsAt what stands in the cells of a reference such as `Costs!$B$4:B9`, in any order; null where it cannot be followed
 */
export function workOut(
  formula: string,
  cellsAt: (reference: string) => readonly Operand[] | null,
): WorkedOut {
  try {
    return { ok: true, value: known(new Reader(tokensOf(formula), cellsAt).whole()) };
  } catch (error) {
    if (error instanceof NotPlain) return { ok: false, because: error.message };
    throw error;
  }
}

function tokensOf(formula: string): readonly Token[] {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.length) {
    const at = TOKEN.lastIndex;
    const [, number, cells, name, bracket, sign] = TOKEN.exec(formula) ?? [];
    if (number !== undefined) tokens.push({ kind: "number", value: Number(number) });
    else if (cells !== undefined) tokens.push({ kind: "cells", text: cells });
    else if (name !== undefined && bracket !== undefined)
      tokens.push({ kind: "call", name: name.toUpperCase() });
    else if (name !== undefined) throw new NotPlain(`it has the name ${name.slice(0, 30)} in it`);
    else if (sign !== undefined) tokens.push({ kind: "sign", sign });
    else if (formula.slice(at).trim() === "") break;
    else throw new NotPlain(`it has ${JSON.stringify(formula.slice(at).trim().slice(0, 12))} in it`);
    if (tokens.length > MOST_STEPS) throw new NotPlain("it is too long");
  }
  return tokens;
}

/** A value of an argument: one number, or those of a range. */
type Values = readonly number[];

class Reader {
  readonly #tokens: readonly Token[];
  readonly #cellsAt: (reference: string) => readonly Operand[] | null;
  #at = 0;
  #depth = 0;

  constructor(tokens: readonly Token[], cellsAt: (reference: string) => readonly Operand[] | null) {
    this.#tokens = tokens;
    this.#cellsAt = cellsAt;
  }

  whole(): number {
    const value = this.#sum();
    if (this.#at < this.#tokens.length) throw new NotPlain("it is not plain arithmetic");
    return value;
  }

  #sum(): number {
    let value = this.#product();
    for (;;)
      if (this.#takes("+")) value += this.#product();
      else if (this.#takes("-")) value -= this.#product();
      else return value;
  }

  #product(): number {
    let value = this.#power();
    for (;;)
      if (this.#takes("*")) value = known(value * this.#power());
      else if (this.#takes("/")) value = known(value / this.#power());
      else return value;
  }

  #power(): number {
    let value = this.#signed();
    while (this.#takes("^")) value = known(value ** this.#signed());
    return value;
  }

  #signed(): number {
    if (++this.#depth > DEEPEST) throw new NotPlain("it is nested too deep");
    let value = this.#takes("-") ? -this.#signed() : this.#takes("+") ? this.#signed() : this.#single();
    while (this.#takes("%")) value /= 100;
    this.#depth--;
    return value;
  }

  #single(): number {
    const token = this.#tokens[this.#at++];
    switch (token?.kind) {
      case "number":
        return token.value;
      case "cells": {
        const [value, ...others] = this.#operands(token.text);
        if (value === undefined || others.length > 0)
          throw new NotPlain(`it counts with the range ${token.text}`);
        return numberIn(value) ?? 0;
      }
      case "call":
        return this.#call(token.name);
      case "sign": {
        if (token.sign !== "(") break;
        const value = this.#sum();
        this.#closes();
        return value;
      }
    }
    throw new NotPlain("it is not plain arithmetic");
  }

  #call(name: string): number {
    if (name !== "SUM" && name !== "ROUND") throw new NotPlain(`it has ${name.slice(0, 30)}() in it`);
    const values: Values[] = [this.#argument()];
    while (this.#takes(",")) values.push(this.#argument());
    this.#closes();
    if (name === "SUM") return values.flat().reduce((sum, each) => sum + each, 0);
    const [[value = 0] = [], [decimals = 0] = [], ...more] = values;
    if (values.length !== 2 || more.length > 0) throw new NotPlain("its ROUND() has not two arguments");
    return rounded(value, Math.trunc(decimals));
  }

  #argument(): Values {
    const token = this.#tokens[this.#at];
    const next = this.#tokens[this.#at + 1];
    const isAlone = next?.kind === "sign" && (next.sign === "," || next.sign === ")");
    if (token?.kind !== "cells" || !isAlone) return [this.#sum()];
    this.#at++;
    return this.#operands(token.text).flatMap((value) => (isText(value) ? [] : (numberIn(value) ?? [])));
  }

  #operands(reference: string): readonly Operand[] {
    const found = this.#cellsAt(reference);
    if (found === null) throw new NotPlain(`${reference.slice(0, 40)} cannot be followed`);
    return found;
  }

  #takes(sign: string): boolean {
    const token = this.#tokens[this.#at];
    if (token?.kind !== "sign" || token.sign !== sign) return false;
    this.#at++;
    return true;
  }

  #closes(): void {
    if (!this.#takes(")")) throw new NotPlain("it is not plain arithmetic");
  }
}

/** An error on the way is an error at the end: 1/(1/0) is not 0. */
function known(value: number): number {
  if (Number.isFinite(value)) return value;
  throw new NotPlain("it gives no number");
}

const isText = (value: Operand): boolean =>
  typeof value === "object" && value !== null && value.isText === true;

/** @throws NotPlain for what is no number */
function numberIn(value: Operand): number | null {
  if (value === null || typeof value === "number") return value;
  throw new NotPlain(value.not);
}

/** Half away from zero, on the fifteen digits that spreadsheets count by: 1.005 to two decimals is 1.01. */
function rounded(value: number, decimals: number): number {
  const factor = 10 ** decimals;
  const scaled = Number((Math.abs(value) * factor).toPrecision(15));
  return (Math.sign(value) * Math.round(scaled)) / factor;
}

import type {
  ConditionalNode,
  FunctionNode,
  MathNode,
  OperatorNode,
  ParenthesisNode,
  RelationalNode,
} from "mathjs/number";
import type { UnitKey } from "../quantity/units.ts";
import { FormulaFault, quoted } from "./formula-problem.ts";
import { parseWithMathjs } from "./mathjs-parse.ts";
import { readTokens, type Token } from "./tokens.ts";
import { type FunctionName, functions, isFunction } from "./vocabulary.ts";

const comparisons = ["==", "!=", "<", "<=", ">", ">="] as const;
export type Comparison = (typeof comparisons)[number];
export type Arithmetic = "+" | "-" | "*" | "/" | "^";

/** Where the term stands in the formula's text: `text.slice(at, end)`. */
interface Span {
  readonly at: number;
  readonly end: number;
}
export type Term = Span &
  (
    | { readonly kind: "number"; readonly value: number }
    | { readonly kind: "boolean"; readonly value: boolean }
    | { readonly kind: "text"; readonly value: string }
    /** A number in a unit, or in a power of one: `6 in`, `3 ft^2`. */
    | { readonly kind: "quantity"; readonly value: number; readonly unit: UnitKey; readonly power: number }
    | { readonly kind: "name"; readonly name: string }
    | { readonly kind: "minus" | "not"; readonly of: Term }
    | { readonly kind: "arithmetic"; readonly sign: Arithmetic; readonly left: Term; readonly right: Term }
    | { readonly kind: "comparison"; readonly sign: Comparison; readonly left: Term; readonly right: Term }
    | { readonly kind: "and" | "or"; readonly left: Term; readonly right: Term }
    | { readonly kind: "choice"; readonly condition: Term; readonly yes: Term; readonly no: Term }
    | { readonly kind: "call"; readonly name: FunctionName; readonly of: readonly Term[] }
  );

/**
 * A formula as a tree of the few kinds above.
 *
 * mathjs decides the shape and sees nothing but shape: every number is given to it as `1` and every name, unit and
 * text as `n`, so no word of the user has a meaning there. Its tree, walked from left to right, meets our tokens in
 * the order in which they are written; that gives each node its place, and a node outside the list has no way in.
 *
 * @throws FormulaFault when the text is not a formula
 */
export function readTree(text: string, currency: string): Term {
  const tokens = readTokens(text, currency);
  const tree = parseShape(text, tokens);
  return new Walk(text, tokens).whole(tree);
}

function parseShape(text: string, tokens: readonly Token[]): MathNode {
  let shape = "";
  const starts: number[] = [];
  for (const { kind, text: written } of tokens) {
    starts.push(shape.length);
    shape += `${kind === "sign" ? written : kind === "number" ? "1" : "n"} `;
  }
  try {
    return parseWithMathjs(shape);
  } catch (error) {
    // Too deep for the stack. The limits on tokens make it unlikely, not impossible: the stack may be small.
    if (error instanceof RangeError)
      throw new FormulaFault(0, "a formula nested too deeply", "a simpler one", "Split the formula.");
    if (!(error instanceof SyntaxError)) throw error;
    const { char } = error as SyntaxError & { readonly char: number };
    const index = starts.findIndex((start) => start >= char - 1);
    const token = tokens[index];
    throw new FormulaFault(
      token?.at ?? text.length,
      token === undefined ? "the end" : quoted(token.text),
      expectedBy(error.message),
      "",
    );
  }
}

function expectedBy(message: string): string {
  if (message.startsWith("Parenthesis )")) return '")"';
  if (message.startsWith("False part")) return '":" and what holds otherwise';
  if (/^(Value expected|Unexpected end|The true-expression)/.test(message)) return "a value";
  return "an operator or the end";
}

class Walk {
  readonly #text: string;
  readonly #tokens: readonly Token[];
  #next = 0;

  constructor(text: string, tokens: readonly Token[]) {
    this.#text = text;
    this.#tokens = tokens;
  }

  whole(tree: MathNode): Term {
    const term = this.#term(tree);
    if (this.#next !== this.#tokens.length)
      throw new Error(
        `readTree: ${this.#tokens.length - this.#next} tokens left after ${quoted(this.#text)}`,
      );
    return term;
  }

  #take(): Token {
    const token = this.#tokens[this.#next++];
    if (token === undefined) throw new Error(`readTree: no token left in ${quoted(this.#text)}`);
    return token;
  }

  #takeSign(sign: string): Token {
    const token = this.#take();
    if (token.kind !== "sign" || token.text !== sign)
      throw new Error(`readTree: ${quoted(token.text)} stands at ${token.at} where mathjs read ${sign}`);
    return token;
  }

  #peek(): Token | undefined {
    return this.#tokens[this.#next];
  }

  #end(): number {
    const last = this.#tokens[this.#next - 1];
    return last === undefined ? 0 : last.at + last.text.length;
  }

  #term(node: MathNode): Term {
    switch (node.type) {
      case "ConstantNode":
      case "SymbolNode":
        return this.#leaf();
      case "ParenthesisNode": {
        const { at } = this.#takeSign("(");
        const inside = this.#term((node as ParenthesisNode).content);
        this.#takeSign(")");
        return { ...inside, at, end: this.#end() };
      }
      case "OperatorNode": {
        const operator = node as OperatorNode;
        const [first, second] = operator.args;
        if (first === undefined) throw new Error(`readTree: operator ${operator.op} without operands`);
        if (second === undefined) return this.#unary(operator.op, first);
        return operator.implicit ? this.#implicit(first, second) : this.#binary(operator.op, first, second);
      }
      case "ConditionalNode": {
        const { condition, trueExpr, falseExpr } = node as ConditionalNode;
        const asked = this.#term(condition);
        this.#takeSign("?");
        const yes = this.#term(trueExpr);
        this.#takeSign(":");
        const no = this.#term(falseExpr);
        return { kind: "choice", condition: asked, yes, no, at: asked.at, end: this.#end() };
      }
      case "FunctionNode":
        return this.#call(node as FunctionNode);
      case "RelationalNode":
        return this.#refuseChain((node as RelationalNode).params);
      case "RangeNode": {
        this.#term((node as unknown as { start: MathNode }).start);
        const { at } = this.#takeSign(":");
        throw new FormulaFault(at, '":"', "an operator or the end", "A colon belongs to condition ? a : b.");
      }
      default:
        throw new FormulaFault(
          this.#peek()?.at ?? 0,
          node.type,
          "numbers, columns, operators, functions",
          "",
        );
    }
  }

  #leaf(): Term {
    const { kind, at, text } = this.#take();
    const end = this.#end();
    switch (kind) {
      case "number":
        return { kind: "number", value: Number(text), at, end };
      case "name":
        if (text === "true" || text === "false") return { kind: "boolean", value: text === "true", at, end };
        return { kind: "name", name: text, at, end };
      case "text":
        return { kind: "text", value: text.slice(1, -1), at, end };
      case "sign":
        // mathjs takes and, or and not for names where a value should stand.
        throw new FormulaFault(at, quoted(text), "a value", "");
      case "unit":
        throw new Error(`readTree: ${quoted(text)} stands at ${at} where mathjs read a value`);
      default:
        return kind satisfies never;
    }
  }

  #unary(op: string, operand: MathNode): Term {
    const { at } = this.#takeSign(op);
    const of = this.#term(operand);
    if (op === "-" && of.kind === "number") return { kind: "number", value: -of.value, at, end: of.end };
    if (op === "-" || op === "not") return { kind: op === "-" ? "minus" : "not", of, at, end: of.end };
    throw new FormulaFault(at, quoted(op), "a value", `Leave the ${op} out.`);
  }

  #binary(op: string, first: MathNode, second: MathNode): Term {
    const left = this.#term(first);
    const { at } = this.#takeSign(op);
    const right = this.#term(second);
    const span = { left, right, at: left.at, end: right.end };
    switch (op) {
      case "and":
      case "or":
        return { kind: op, ...span };
      case "+":
      case "-":
      case "*":
      case "/":
      case "^":
        return { kind: "arithmetic", sign: op, ...span };
      case "==":
      case "!=":
      case "<":
      case "<=":
      case ">":
      case ">=":
        return { kind: "comparison", sign: op, ...span };
      default:
        throw new FormulaFault(at, quoted(op), "+ - * / ^ == != < <= > >= and or", "");
    }
  }

  /** Two things side by side, which mathjs multiplies: here only a number and its unit may stand so. */
  #implicit(first: MathNode, second: MathNode): Term {
    const left = this.#term(first);
    const unit = this.#peek();
    if (unit?.kind !== "unit") {
      const between = unit?.kind === "number" ? "an operator, such as + or *," : "an operator, such as *,";
      throw new FormulaFault(unit?.at ?? left.end, quoted(unit?.text ?? ""), `${between} before it`, "");
    }
    this.#next += 1;
    const value = plainNumber(left);
    if (value === null)
      throw new FormulaFault(
        unit.at,
        `the unit ${unit.text} after more than a number`,
        "one number before a unit",
        `Write * 1 ${unit.text}.`,
      );
    const power = second.type === "SymbolNode" ? 1 : this.#unitPower(second, unit);
    return { kind: "quantity", value, unit: unit.unit, power, at: left.at, end: this.#end() };
  }

  #unitPower(node: MathNode, unit: Token): number {
    const [base, exponentNode] = node.type === "OperatorNode" ? (node as OperatorNode).args : [];
    if (base?.type !== "SymbolNode") {
      const after = this.#take();
      const remedy = `To multiply, write 1 ${unit.text} * (…).`;
      throw new FormulaFault(after.at, quoted(after.text), "an operator after a unit", remedy);
    }
    this.#takeSign("^");
    const exponent = this.#take();
    const power = Number(exponent.text);
    if (exponent.kind !== "number" || exponentNode?.type !== "ConstantNode" || !Number.isInteger(power))
      throw new FormulaFault(
        exponent.at,
        quoted(exponent.text),
        "a whole number as power of a unit",
        `Put the number and its unit in parentheses.`,
      );
    return power;
  }

  #call(node: FunctionNode): Term {
    const { at, text, kind } = this.#take();
    if (kind !== "name" || !isFunction(text))
      throw new FormulaFault(
        at,
        `${quoted(text)} before "("`,
        `one of the functions ${Object.keys(functions).join(", ")}`,
        kind === "name" ? `To multiply, write ${text} * (…).` : "",
      );
    this.#takeSign("(");
    const of = node.args.map((argument, i) => {
      if (i > 0) this.#takeSign(",");
      return this.#term(argument);
    });
    this.#takeSign(")");
    const spec: { readonly least?: number; readonly most: number; readonly shows: string } = functions[text];
    if (of.length < (spec.least ?? 1) || of.length > spec.most)
      throw new FormulaFault(at, `${text} of ${of.length} values`, spec.shows, "");
    return { kind: "call", name: text, of, at, end: this.#end() };
  }

  #refuseChain(params: readonly MathNode[]): never {
    const parts: string[] = [];
    const signs: Token[] = [];
    for (const [i, param] of params.entries()) {
      if (i > 0) signs.push(this.#take());
      const { at, end } = this.#term(param);
      parts.push(this.#text.slice(at, end));
    }
    const pairs = signs.map((sign, i) => `${parts[i]} ${sign.text} ${parts[i + 1]}`);
    const second = signs[1];
    if (second === undefined)
      throw new Error(`readTree: a chain of ${params.length} in ${quoted(this.#text)}`);
    throw new FormulaFault(
      second.at,
      "a second comparison in a row",
      "one comparison at a time",
      `Write ${pairs.join(" and ")}.`,
    );
  }
}

/** `6`, `-6` and `1/2`: what is read as one number before a unit or as a power. */
export function plainNumber(term: Term): number | null {
  if (term.kind === "number") return term.value;
  if (term.kind !== "arithmetic" || term.sign !== "/") return null;
  const top = plainNumber(term.left);
  const bottom = plainNumber(term.right);
  return top === null || bottom === null ? null : top / bottom;
}

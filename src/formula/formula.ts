import { isQuantity, type Measure, quantities } from "../quantity/measure.ts";
import { units } from "../quantity/units.ts";
import { type Checked, check } from "./check.ts";
import { type Compiled, compile } from "./compile.ts";
import { FormulaFault, type FormulaProblem } from "./formula-problem.ts";
import {
  defaultMeasure,
  describeType,
  type FormulaType,
  measuresOf,
  sameType,
  typeOfMeasure,
} from "./formula-type.ts";
import { dividedBy, type Step } from "./step.ts";
import { readTree, type Term } from "./tree.ts";
import type { Vocabulary } from "./vocabulary.ts";

export interface Formula extends Compiled {
  readonly text: string;
  readonly type: FormulaType;
  /** What the result is: a quantity comes in the measure's stored unit, yes/no as 1 and 0, a date as a day number. */
  readonly measure: Measure;
  /** What was compiled, for compiling it together with others. */
  readonly step: Step;
}

export type FormulaRead =
  | { readonly ok: true; readonly formula: Formula }
  | { readonly ok: false; readonly problem: FormulaProblem };

/**
 * Reads a formula: words and signs, tree, types, compiled functions. Whatever is wrong with it comes back as data.
 *
 * @param measure what the result must be: `flag` for a rule or a filter; null takes what the formula gives
 */
export function readFormula(text: string, vocabulary: Vocabulary, measure: Measure | null): FormulaRead {
  try {
    const tree = readTree(text, vocabulary.currency);
    const checked = check(tree, vocabulary);
    const given = measure ?? measureGiven(checked, tree);
    verifyFit(checked, tree, given);
    const step = deliver(checked, given);
    return { ok: true, formula: { ...compile(step), step, text, type: checked.type, measure: given } };
  } catch (error) {
    if (error instanceof FormulaFault) return { ok: false, problem: error.problem };
    throw error;
  }
}

/** A rule is met, and a filter keeps a row, only when the answer is a known yes. */
export const isMet = (value: number): boolean => value === 1;

function measureGiven({ type, like }: Checked, tree: Term): Measure {
  if (type.kind === "number" && like !== null && measuresOf(type.dimension).includes(like)) return like;
  const measure = defaultMeasure(type);
  if (measure !== null) return measure;
  throw new FormulaFault(
    tree.at,
    describeType(type),
    "a number, a measure with a unit, a date or yes/no",
    type.kind === "text"
      ? 'Compare the text, as in surface == "street".'
      : "Divide by a unit, as in cost / (host_length / (1 ft)).",
  );
}

function verifyFit({ type }: Checked, tree: Term, measure: Measure): void {
  const wanted = typeOfMeasure(measure);
  if (wanted.kind !== "text" && sameType(type, wanted)) return;
  const remedy =
    measure === "flag" && type.kind === "number"
      ? "Compare it with something, as in risk > 12."
      : "The whole formula gives it.";
  throw new FormulaFault(tree.at, describeType(type), describeType(wanted), remedy);
}

/** From coherent SI to the measure's stored unit. Money ends in whole cents and dates on whole days. */
function deliver({ step }: Checked, measure: Measure): Step {
  if (measure === "date") return { do: "one number", name: "whole", of: step };
  if (!isQuantity(measure)) return step;
  const { scale } = units[quantities[measure].stored];
  // A column as it is stays as it is, to the last bit.
  if (step.do === "column" && step.scale === scale) return { ...step, scale: 1 };
  const stored = dividedBy(step, scale);
  return measure === "money" ? { do: "one number", name: "whole", of: stored } : stored;
}

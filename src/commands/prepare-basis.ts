import { usualScores } from "../plan/recipe.ts";
import { bindRules } from "../plan/rules.ts";
import type { Fault } from "../program/settings-faults.ts";
import type { Basis } from "../reference/basis.ts";
import { isEmptyRecipe } from "../reference/recipe.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import { compileRecipe } from "./compile-recipe.ts";
import { compileRules } from "./compile-rules.ts";

export type Preparing =
  | { readonly ok: true; readonly basis: PreparedBasis }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Compiles the rules and the recipe of a basis. */
export async function prepareBasis(basis: Basis): Promise<Preparing> {
  const { faults: ruleFaults, ...rules } = compileRules(basis);
  const ruleBook = bindRules(rules);
  if (isEmptyRecipe(basis.recipe) && ruleFaults.length === 0)
    return { ok: true, basis: { ...basis, scores: usualScores, ownColumns: [], filters: [], ruleBook } };
  const { faults: recipeFaults, ...compiled } = compileRecipe(basis);
  const faults = [...ruleFaults, ...recipeFaults];
  return faults.length > 0 ? { ok: false, faults } : { ok: true, basis: { ...basis, ...compiled, ruleBook } };
}

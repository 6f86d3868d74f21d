import { usualScores } from "../plan/recipe.ts";
import type { Fault } from "../program/settings-faults.ts";
import type { Basis } from "../reference/basis.ts";
import { isEmptyRecipe } from "../reference/recipe.ts";
import type { PreparedBasis } from "../season/own-columns.ts";

export type Preparing =
  | { readonly ok: true; readonly basis: PreparedBasis }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Compiles the recipe of a basis. A program without one does not load the language, which takes some 40 ms. */
export async function prepareBasis(basis: Basis): Promise<Preparing> {
  if (isEmptyRecipe(basis.recipe))
    return { ok: true, basis: { ...basis, scores: usualScores, ownColumns: [], filters: [] } };
  const { compileRecipe } = await import("./compile-recipe.ts");
  const { faults, ...compiled } = compileRecipe(basis);
  return faults.length > 0 ? { ok: false, faults } : { ok: true, basis: { ...basis, ...compiled } };
}

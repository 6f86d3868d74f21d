import type { CityFits } from "../cohort/city-fits.ts";
import type { ScoringBasis } from "./recipe.ts";

/** What a lateral is planned with: the basis with its scores compiled, and the fits to the whole city that were made before. */
export interface PlanBasis extends ScoringBasis {
  readonly fits: CityFits;
}

import type { CityFits } from "../cohort/city-fits.ts";
import type { Basis } from "../reference/basis.ts";

/** What a lateral is planned with: the basis, and the fits to the whole city that were made before. */
export interface PlanBasis extends Basis {
  readonly fits: CityFits;
}

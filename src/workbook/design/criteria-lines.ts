import { wallCriteria } from "../../plan/wall.ts";
import { KILONEWTONS_PER_CUBIC_METRE_PER_PCF, KILOPASCALS_PER_PSI } from "../../quantity/factors.ts";
import type { Measure } from "../../quantity/measure.ts";
import type { Basis } from "../../reference/basis.ts";
import { deteriorationSaidBy } from "../../reference/design-criteria.ts";
import { briefSource } from "./brief-source.ts";
import type { DesignLine, GivenLine } from "./design-line.ts";

/** A value that is the same for every lateral. */
export const ofProgram = (
  key: string,
  symbol: string,
  what: string,
  measure: Measure,
  value: number | string,
  source: string,
): GivenLine => ({ kind: "given", per: "program", key, symbol, what, measure, value: () => value, source });

/** What the specification fixes for every wall, and the two constants of the equations. */
export function criteriaLines({ criteria }: Pick<Basis, "criteria">): readonly DesignLine[] {
  const set = `criteria "${criteria.key}": ${briefSource(criteria.source)}`;
  const same = "the same criteria";
  return [
    { kind: "section", title: "Criteria" },
    ofProgram("host", "", "host deteriorated", "text", criteria.deterioration, deteriorationSaidBy(criteria)),
    ofProgram("edition", "", "edition of X1.3", "text", criteria.edition, set),
    ofProgram("strength", "", "flexural strength used", "text", criteria.strengthBasis, same),
    ofProgram("N", "N", "safety factor", "factor", criteria.safetyFactor, same),
    ofProgram("K", "K", "enhancement factor", "factor", criteria.enhancement, same),
    ofProgram("nu", "ν", "Poisson's ratio", "factor", criteria.poissonsRatio, same),
    ofProgram("w", "w", "unit weight of the soil", "unit_weight", criteria.soilUnitWeight, same),
    ofProgram("E_s", "E′_s", "modulus of soil reaction", "modulus", criteria.soilModulus, same),
    ofProgram("t_min", "t_min", "specified minimum wall", "wall", criteria.minimumWall, same),
    ofProgram(
      "DR_max",
      "",
      "greatest DR of a partially deteriorated host",
      "factor",
      wallCriteria(criteria).largestRatio,
      "F1216 from memory, unverified",
    ),
    ofProgram(
      "gamma_w",
      "γ_w",
      "unit weight of water, 62.4 pcf",
      "unit_weight",
      62.4 * KILONEWTONS_PER_CUBIC_METRE_PER_PCF,
      "Handbook, p. 76 and 82",
    ),
    ofProgram(
      "k_min",
      "",
      "least ring stiffness, 0.093 psi",
      "pressure",
      0.093 * KILOPASCALS_PER_PSI,
      "Handbook, p. 77",
    ),
  ];
}

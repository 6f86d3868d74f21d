import type { LinerMaterial } from "../engineering/liner-wall.ts";
import { type Celsius, type Megapascals, megapascals } from "../quantity/si.ts";
import type { LinerSystem } from "../reference/liner-systems.ts";

/**
 * The properties of a system at a service temperature, or null where nobody knows the long-term ones: a resin's
 * temperature rating is a limit, not design data, so no value is stretched to a temperature it was not measured at.
 *
 * Up to `propertiesUpTo` the short-term values and their retention hold; above it the first measurement at that
 * temperature or a higher one, without interpolation (the hotter, weaker value is the safe side).
 */
export function materialAt(system: LinerSystem, temperature: Celsius): LinerMaterial | null {
  const longTerm = longTermAt(system, temperature);
  if (longTerm === null) return null;
  return {
    shortTermModulus: megapascals(system.shortTermModulus),
    shortTermStrength: megapascals(system.flexuralStrength),
    longTermModulus: longTerm.longTermModulus,
    longTermStrength: longTerm.longTermStrength,
  };
}

function longTermAt(
  system: LinerSystem,
  temperature: Celsius,
): { readonly longTermModulus: Megapascals; readonly longTermStrength: Megapascals } | null {
  const { modulusRetention, strengthRetention, propertiesUpTo } = system;
  if (temperature <= propertiesUpTo && modulusRetention !== null && strengthRetention !== null) {
    return {
      longTermModulus: megapascals(system.shortTermModulus * modulusRetention),
      longTermStrength: megapascals(system.flexuralStrength * strengthRetention),
    };
  }
  const measured = system.longTermModulusAt.find((row) => row.temperature >= temperature);
  return measured === undefined
    ? null
    : {
        longTermModulus: megapascals(measured.modulus),
        longTermStrength: megapascals(measured.strength),
      };
}

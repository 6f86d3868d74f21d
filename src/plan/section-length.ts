import { type Metres, metres } from "../quantity/si.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";

type SectionRules = TreatmentRules["sectional"];

/** A millionth of a millimetre: lengths that differ by a rounding are the same. */
const SAME = 1e-9;

/**
 * The shortest stocked section that covers what must be covered with its overlap on each side; null when none is long
 * enough.
 *
 * @param span from the beginning of the first defect to the end of the last; null when the places are not known, and
 *   then one defect of the rules' length is assumed. Nothing is taken as shorter than that.
 */
export function sectionLength(
  { stockedLengths, overlapEachSide, defectLength }: SectionRules,
  span: Metres | null,
): Metres | null {
  const least = Math.max(defectLength, span ?? defectLength) + 2 * overlapEachSide;
  let shortest = Infinity;
  for (const length of stockedLengths.values)
    if (length >= least - SAME && length < shortest) shortest = length;
  return shortest === Infinity ? null : metres(shortest);
}

/** The greatest length that a stocked section covers. */
export const longestCovered = ({ stockedLengths, overlapEachSide }: SectionRules): Metres =>
  metres(Math.max(...stockedLengths.values) - 2 * overlapEachSide);

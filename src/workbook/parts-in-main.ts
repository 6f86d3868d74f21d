import type { PlannedProgram } from "../season/planned-program.ts";
import type { Totals } from "../season/totals.ts";
import { numbersOf } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";

/**
 * Parts of liners in the main by their stocked wall in mm, for each of the totals. They stand apart from the totals, whose
 * walls are those in the lateral: a plan for totals only has no column of them.
 */
export function countPartsInMain({
  laterals,
  totals: { districts, program },
}: Pick<PlannedProgram, "laterals" | "totals">): ReadonlyMap<Totals, ReadonlyMap<number, number>> {
  const counts = new Map([program, ...districts].map((of) => [of, new Map<number, number>()]));
  const ofDistrict = new Map(districts.map((of) => [of.district, of]));
  const { codes, words } = wordCodesOf(laterals, "district");
  numbersOf(laterals, "wall_main").forEach((wall, row) => {
    if (Number.isNaN(wall)) return;
    for (const of of [program, ofDistrict.get(words[codes[row]!]!)!]) {
      const count = counts.get(of)!;
      count.set(wall, (count.get(wall) ?? 0) + 1);
    }
  });
  return counts;
}

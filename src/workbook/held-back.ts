import { firstOf } from "../quantity/first-of.ts";
import { showCount } from "../quantity/show-quantity.ts";

/** Laterals named before they are only counted. */
const NAMED = 20;

/**
 * Where nobody is sent before a cross-bore is made safe, how that is recorded, and what follows: the same words wherever visits are listed.
 * Nothing where no lateral is held back.
 */
export function heldBackSaid(laterals: readonly string[]): readonly string[] {
  if (laterals.length === 0) return [];
  return [
    `HELD BACK: ${showCount(laterals.length)} lateral(s) with a cross-bore that was found and is not recorded as made safe: ${firstOf(laterals, NAMED)}. Nobody is sent there, not with a camera either, and none of it is selected, given a day or bid. When the utility's owner has made one safe, record it: wyeplan decide FOLDER ID cross_bore "made safe" --reason "…". From then on its inspection may be planned; nothing is cut or lined there before cross_bore is "cleared".`,
  ];
}

import { quantities } from "./measure.ts";
import { grouped, type NumberStyle, showParts } from "./show-quantity.ts";
import { convert } from "./units.ts";

/**
 * Flows are added up in whole microlitres per second: sums are exact in any order, so districts add up to the program, and what one
 * lateral's rounding moves (half a µL/s of some mL/s) is far below what is shown. In whole mL/s it was not: 9.5 gpm for laterals that
 * add up to 9.44.
 */
const MICROLITRES_PER_LITRE = 1e6;

/** L/s → whole µL/s, to be added up. */
export const wholeMicrolitres = (litres: number): number => Math.round(litres * MICROLITRES_PER_LITRE);

/** A sum of whole µL/s → L/s, the unit in which flows are shown. */
export const litresOf = (microlitres: number): number => microlitres / MICROLITRES_PER_LITRE;

/**
 * Sums of flow by district in L/s, then their total, without the unit. They add up as they are printed, so one may be a last decimal off
 * its own rounding: it is shown to one decimal more than a lateral's flow, so that nobody reads 9.5 where 9.44 is meant.
 */
export function showFlowSums(
  districts: readonly number[],
  total: number,
  style: NumberStyle,
): readonly string[] {
  const decimals = quantities.flow.decimals[style.units] + 1;
  const shown = (parts: readonly number[]) => showParts(parts, total, "flow", style, decimals);
  return [...shown(districts), ...shown([total])];
}

/**
 * A flow of one lateral in L/s, by the day: in L/s or gpm nearly all of them are 0.00. It stays a mean of its season: a day's worth of it,
 * not a share of the year's.
 */
export function showDailyFlow(
  litresPerSecond: number,
  { units: system }: Pick<NumberStyle, "units">,
): string {
  const cubicMetres = litresPerSecond * CUBIC_METRES_A_DAY;
  return system === "us"
    ? `${grouped(convert(cubicMetres, "m3", "gal"), 1)} gal/day`
    : `${grouped(cubicMetres, 3)} m³/day`;
}

/** 86,400 s a day, 1,000 L a cubic metre. */
const CUBIC_METRES_A_DAY = 86.4;

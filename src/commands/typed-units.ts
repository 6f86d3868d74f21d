import type { UnitSystem } from "../quantity/measure.ts";
import { type UnitKey, unitWritten } from "../quantity/units.ts";

const METRIC: ReadonlySet<UnitKey> = new Set<UnitKey>([
  ...(["m", "mm", "cm", "km", "m2", "m3", "L", "kg", "N", "kN", "Pa", "kPa", "MPa"] as const),
  ...(["kN_per_m3", "L_per_s", "m_per_s", "m_per_min", "kg_per_L", "kg_per_m", "degC"] as const),
]);
const OF_NEITHER: ReadonlySet<UnitKey> = new Set<UnitKey>([
  "s",
  "min",
  "h",
  "d",
  "a",
  "percent",
  "one",
  "cent",
  "money",
]);

/**
 * The system of what somebody typed, to be answered in: SI where the size of the host has a metric unit and nothing typed has another, such
 * as `100 mm` and `2.4 m`; else US.
 */
export function systemTyped(host: string, all: readonly string[]): UnitSystem {
  const isMetric = systemOf(host) === "si" && all.every((text) => systemOf(text) !== "us");
  return isMetric ? "si" : "us";
}

/** Null for what has no unit, or one of both systems; a list counts by its last. */
function systemOf(text: string): UnitSystem | null {
  if (/^DN/i.test(text)) return "si";
  if (!/^[+-]?[.\d]/.test(text)) return null;
  const unit = unitWritten(/^.*\d\s*(\D.*)$/.exec(text)?.[1] ?? "");
  if (unit === null || OF_NEITHER.has(unit)) return null;
  return METRIC.has(unit) ? "si" : "us";
}

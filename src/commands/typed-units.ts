import type { UnitSystem } from "../quantity/measure.ts";
import { units, unitWritten } from "../quantity/units.ts";

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
  return unit === null ? null : units[unit].system;
}

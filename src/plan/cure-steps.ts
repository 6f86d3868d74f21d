import type { CureStep, Pace } from "../engineering/cure-schedule.ts";
import { potLife } from "../engineering/pot-life.ts";
import {
  type Celsius,
  celsius,
  type Metres,
  type Millimetres,
  type Minutes,
  millimetres,
  minutes,
} from "../quantity/si.ts";
import type { Cure, HeatedCure, StatedCure } from "../reference/cure-methods.ts";

/** What a cure does to one liner, or why it cures no such liner. */
export type CureSteps =
  | { readonly kind: "heated"; readonly start: Celsius; readonly steps: readonly CureStep[] }
  | { readonly kind: "ambient"; readonly at: Celsius; readonly wait: Minutes }
  | { readonly kind: "light"; readonly look: Minutes; readonly lights: Minutes; readonly cooling: Minutes }
  | { readonly kind: "refused"; readonly because: "resin" }
  | { readonly kind: "refused"; readonly because: "wall"; readonly thickest: Millimetres };

/**
 * The steps of a cure for a resin, a wall and a length of liner. Only lamps travel along it: of every other cure the steps for a resin and a
 * wall are worked out once and are one object (with what {@link planCure} makes of them: a twentieth of the plan's time).
 */
export function cureSteps(method: Cure, resin: string, wall: Millimetres, length: Metres): CureSteps {
  if (method.kind === "light") return stepsOf(method, resin, wall, length);
  let ofResin = known.get(method)?.get(resin);
  if (ofResin === undefined) {
    ofResin = new Map();
    known.set(method, (known.get(method) ?? new Map<string, typeof ofResin>()).set(resin, ofResin));
  }
  let steps = ofResin.get(wall);
  if (steps === undefined) {
    steps = stepsOf(method, resin, wall, length);
    ofResin.set(wall, steps);
  }
  return steps;
}

/** By cure, resin and wall: stocked walls are few. */
const known = new WeakMap<Cure, Map<string, Map<number, CureSteps>>>();

function stepsOf(method: Cure, resin: string, wall: Millimetres, length: Metres): CureSteps {
  switch (method.kind) {
    case "ambient": {
      const hold = method.holds[resin];
      if (hold === undefined) return { kind: "refused", because: "resin" };
      const at = celsius(method.pipeTemperature.value);
      // Hardening follows the same rule of temperature as pot life, from the supplier's own pair of time and temperature.
      const wait = potLife(at, {
        system: "ambient two-part epoxy",
        life: minutes(hold.minutes),
        at: celsius(hold.atCelsius),
        factorPerTenDegrees: hold.factorPerTenDegrees,
      });
      return { kind: "ambient", at, wait };
    }
    case "heated":
      return heatedSteps(method, resin, wall);
    case "light": {
      if (!method.resins.includes(resin)) return { kind: "refused", because: "resin" };
      const travel = rowOf(method.travel.steps, wall);
      if ("thickest" in travel) return { kind: "refused", because: "wall", ...travel };
      return {
        kind: "light",
        look: minutes(method.look.minutes),
        lights: minutes(length / travel.row.metresPerMinute),
        cooling: minutes(method.cooling.minutes),
      };
    }
    case "stated":
      return { kind: "heated", start: celsius(method.startTemperature), steps: method.steps.map(statedStep) };
    default:
      return method satisfies never;
  }
}

/** The hottest the host gets; null where no table says (the lamps of a light cure). */
export function hottestOf(
  steps: Extract<CureSteps, { kind: "heated" | "ambient" | "light" }>,
): Celsius | null {
  switch (steps.kind) {
    case "light":
      return null;
    case "ambient":
      return steps.at;
    case "heated":
      return steps.steps.reduce<Celsius>(
        (most, step) => (step.kind !== "hold" && step.to > most ? step.to : most),
        steps.start,
      );
    default:
      return steps satisfies never;
  }
}

function heatedSteps(method: HeatedCure, resin: string, wall: Millimetres): CureSteps {
  const schedule = method.schedules.find(({ resins }) => resins.includes(resin));
  if (schedule === undefined) return { kind: "refused", because: "resin" };
  const steps: CureStep[] = [];
  for (const step of schedule.steps) {
    if ("heatTo" in step) {
      steps.push({ kind: "heat", to: celsius(step.heatTo), pace: paceOf(step) });
      continue;
    }
    const hold = rowOf(step.hold, wall);
    if ("thickest" in hold) return { kind: "refused", because: "wall", ...hold };
    steps.push({ kind: "hold", time: minutes(hold.row.minutes) });
  }
  steps.push({
    kind: "cool",
    to: celsius(method.release.value),
    pace: { kind: "no faster than", degreesPerHour: method.cooling.degreesPerHour },
  });
  return { kind: "heated", start: celsius(method.startTemperature.value), steps };
}

function statedStep(step: StatedCure["steps"][number]): CureStep {
  if ("holdMinutes" in step) return { kind: "hold", time: minutes(step.holdMinutes) };
  return "heatTo" in step
    ? { kind: "heat", to: celsius(step.heatTo), pace: paceOf(step) }
    : { kind: "cool", to: celsius(step.coolTo), pace: paceOf(step) };
}

function paceOf(step: {
  readonly degreesPerHour?: number | undefined;
  readonly minutes?: number | undefined;
}): Pace {
  if (step.degreesPerHour !== undefined)
    return { kind: "no faster than", degreesPerHour: step.degreesPerHour };
  if (step.minutes === undefined) throw new RangeError("cureSteps: a step without a rate or a time");
  return { kind: "lasting", time: minutes(step.minutes) };
}

/** The first row whose wall is not passed. A billionth of slack: 4.5 mm worked out from inches is still 4.5 mm. */
function rowOf<Row extends { readonly upTo: number }>(
  rows: readonly Row[],
  wall: Millimetres,
): { readonly row: Row } | { readonly thickest: Millimetres } {
  const row = rows.find(({ upTo }) => wall <= upTo * (1 + 1e-9));
  return row !== undefined ? { row } : { thickest: millimetres(Math.max(...rows.map(({ upTo }) => upTo))) };
}

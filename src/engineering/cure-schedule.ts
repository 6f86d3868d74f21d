import { type Celsius, type Minutes, minutes } from "../quantity/si.ts";

/** How long a change of temperature takes: a stated time, or no faster than a rate in °C per hour. */
export type Pace =
  | { readonly kind: "lasting"; readonly time: Minutes }
  | { readonly kind: "no faster than"; readonly degreesPerHour: number };

export type CureStep =
  | { readonly kind: "heat"; readonly to: Celsius; readonly pace: Pace }
  | { readonly kind: "hold"; readonly time: Minutes }
  | { readonly kind: "cool"; readonly to: Celsius; readonly pace: Pace };

/** One step of the schedule with its temperatures and its least time. */
export interface CureLeg {
  readonly kind: CureStep["kind"];
  readonly from: Celsius;
  readonly to: Celsius;
  readonly time: Minutes;
}

export interface CureSchedule {
  readonly legs: readonly CureLeg[];
  readonly total: Minutes;
  readonly end: Celsius;
}

/**
 * Heat-up, holds and cool-down, in order, with the least time of each and their sum.
 *
 *   t = |ΔT| / rate   where a rate is the limit
 *
 * Source: arithmetic on the resin supplier's schedule. Published check: City of South Bend IN public record 383937 p. 55, a
 * water-cured tube of 24–33 mm, 18.75 h. That wall is no lateral's: it checks the sum, it is not a default.
 * Holds for: heat-cured tubes. Light cure goes by travel speed and has no such legs.
 */
export function scheduleCure(start: Celsius, steps: readonly CureStep[]): CureSchedule {
  const legs: CureLeg[] = [];
  let now = start;
  let total = 0;
  for (const step of steps) {
    const leg = followStep(step, now);
    legs.push(leg);
    total += leg.time;
    now = leg.to;
  }
  return { legs, total: minutes(total), end: now };
}

/**
 * Whether the schedule ends cool enough to let the pressure go. The wall must be BELOW the release temperature: 100 °F
 * (37.8 °C) in two city specifications (South Bend IN 4-3.11(e); Nashua NH 02650); 113 °F (45 °C) after steam is from memory
 * of ASTM F1216 7.7. A schedule that ends exactly there passes here, and the crew's reading decides in the field.
 */
export const isCoolEnough = (schedule: CureSchedule, release: Celsius): boolean => schedule.end <= release;

/** A time somebody quotes, to hold a schedule against. It never enters a plan. */
export interface QuotedCure {
  /** Where it comes from; "common practice, no published source" where that is so. */
  readonly label: string;
  readonly total: Minutes;
}

/** The schedule over the quoted time. Well away from 1 means that the two are not about the same wall, resin or heat. */
export const compareCure = (schedule: CureSchedule, quoted: QuotedCure): number =>
  schedule.total / quoted.total;

function followStep(step: CureStep, from: Celsius): CureLeg {
  switch (step.kind) {
    case "hold":
      return { kind: "hold", from, to: from, time: verifyTime(step.time) };
    case "heat":
    case "cool": {
      const change = step.kind === "heat" ? step.to - from : from - step.to;
      if (!(change >= 0))
        throw new RangeError(`scheduleCure cannot ${step.kind} from ${from} °C to ${step.to} °C`);
      return { kind: step.kind, from, to: step.to, time: paceTime(change, step.pace) };
    }
    default:
      return step satisfies never;
  }
}

function paceTime(change: number, pace: Pace): Minutes {
  switch (pace.kind) {
    case "lasting":
      return verifyTime(pace.time);
    case "no faster than":
      if (!(pace.degreesPerHour > 0))
        throw new RangeError(`scheduleCure needs a rate above 0 °C/h, got ${pace.degreesPerHour}`);
      return minutes((change / pace.degreesPerHour) * 60);
    default:
      return pace satisfies never;
  }
}

function verifyTime(time: Minutes): Minutes {
  if (!(time >= 0)) throw new RangeError(`scheduleCure needs times of 0 min or more, got ${time}`);
  return time;
}

import { type Celsius, celsius, type Fraction, type Minutes, minutes } from "../quantity/si.ts";

/** What the data sheet of an ambient-cure, two-part epoxy says. */
export interface PotLifeLabel {
  /** The rule is about nothing else: heat- and light-initiated resins go by their supplier's table. */
  readonly system: "ambient two-part epoxy";
  readonly life: Minutes;
  readonly at: Celsius;
  /** How many times shorter the life is 10 °C warmer. 2 is the usual rule; 1.5–2.5 from memory, unverified. */
  readonly factorPerTenDegrees: number;
}

/**
 * Pot life at a temperature.
 *
 *   t = t₀·f^(−(T − T₀)/10) ,   f = 2 as a rule
 *
 * Source: from memory, a kinetics rule of thumb; doubling from 25 to 35 °C is an activation energy of 52.9 kJ/mol.
 * Holds for: ambient two-part epoxy, thin layers. Resin standing in a bucket heats itself, so read this as an upper bound.
 */
export function potLife(at: Celsius, label: PotLifeLabel): Minutes {
  verifyLabel(label);
  return minutes(label.life * label.factorPerTenDegrees ** (-(at - label.at) / 10));
}

/** What happens to a batch between mixing and the end of insertion. */
export interface BatchTimes {
  readonly wetOut: Minutes;
  readonly haul: Minutes;
  readonly insertion: Minutes;
}

export type BatchVerdict =
  | { readonly kind: "fits"; readonly needed: Minutes; readonly allowed: Minutes }
  | {
      readonly kind: "too long";
      readonly needed: Minutes;
      readonly allowed: Minutes;
      /** The same work fits below this temperature; otherwise split the batch or choose a slower hardener. */
      readonly hottest: Celsius;
    };

/**
 * Whether a batch can be wetted out, hauled and inserted in time: wet-out + haul + insertion ≤ margin · pot life.
 * A margin of 0.7 is this project's own assumption, not a published one.
 */
export function judgeBatch(
  times: BatchTimes,
  at: Celsius,
  label: PotLifeLabel,
  margin: Fraction,
): BatchVerdict {
  if (!(margin > 0 && margin <= 1))
    throw new RangeError(`judgeBatch needs a margin above 0 and up to 1, got ${margin}`);
  const needed = minutes(times.wetOut + times.haul + times.insertion);
  if (!(needed > 0)) throw new RangeError(`judgeBatch needs more than 0 minutes of work, got ${needed}`);
  const allowed = minutes(margin * potLife(at, label));
  if (needed <= allowed) return { kind: "fits", needed, allowed };
  // margin·t₀·f^(−(T − T₀)/10) = needed, solved for T.
  const warmer = (10 * Math.log((margin * label.life) / needed)) / Math.log(label.factorPerTenDegrees);
  return { kind: "too long", needed, allowed, hottest: celsius(label.at + warmer) };
}

function verifyLabel({ life, factorPerTenDegrees }: PotLifeLabel): void {
  if (!(life > 0 && factorPerTenDegrees > 1))
    throw new RangeError(
      `potLife needs a life above 0 and a factor above 1, got ${life} min, ${factorPerTenDegrees}`,
    );
}

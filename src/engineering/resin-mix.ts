import {
  type Fraction,
  fraction,
  type Kilograms,
  type KilogramsPerLitre,
  kilograms,
  kilogramsPerLitre,
} from "../quantity/si.ts";

/** Parts of base to parts of hardener, weighed. */
export interface WeightRatio {
  readonly basis: "by weight";
  readonly base: number;
  readonly hardener: number;
}

/** Parts of base to parts of hardener, measured out by volume. */
export interface VolumeRatio {
  readonly basis: "by volume";
  readonly base: number;
  readonly hardener: number;
}

export type MixRatio = WeightRatio | VolumeRatio;

/** Densities of the two components before mixing. */
export interface ComponentDensities {
  readonly base: KilogramsPerLitre;
  readonly hardener: KilogramsPerLitre;
}

/** Masses of the two components. */
export interface Components {
  readonly base: Kilograms;
  readonly hardener: Kilograms;
}

/** A mix ratio as read, or why it cannot be used. */
export type MixReading =
  | { readonly kind: "ratio"; readonly ratio: MixRatio }
  | {
      readonly kind: "refused";
      readonly because: "basis missing" | "basis unknown" | "part not above zero";
      readonly found: string;
    };

/**
 * A mix ratio with its basis. 4 : 1 by volume and 4 : 1 by weight are different mixes (13 % less hardener in the worked
 * example of the tests), so a ratio without the words "by weight" or "by volume" is refused, never guessed.
 */
export function readMixRatio(base: number, hardener: number, basis: string): MixReading {
  if (basis === "") return { kind: "refused", because: "basis missing", found: basis };
  if (basis !== "by weight" && basis !== "by volume")
    return { kind: "refused", because: "basis unknown", found: basis };
  if (!(base > 0 && hardener > 0 && Number.isFinite(base) && Number.isFinite(hardener)))
    return { kind: "refused", because: "part not above zero", found: `${base} : ${hardener}` };
  return { kind: "ratio", ratio: { basis, base, hardener } };
}

/** The same mix by weight: parts by volume times density. */
export function convertToWeight(ratio: MixRatio, densities: ComponentDensities): WeightRatio {
  if (ratio.basis === "by weight") return ratio;
  verifyDensities(densities);
  return {
    basis: "by weight",
    base: ratio.base * densities.base,
    hardener: ratio.hardener * densities.hardener,
  };
}

/** The same mix by volume: parts by weight over density. */
export function convertToVolume(ratio: MixRatio, densities: ComponentDensities): VolumeRatio {
  if (ratio.basis === "by volume") return ratio;
  verifyDensities(densities);
  return {
    basis: "by volume",
    base: ratio.base / densities.base,
    hardener: ratio.hardener / densities.hardener,
  };
}

/**
 * Density of the mixed, uncured resin.
 *
 *   ρ = (m_b + m_h) / (m_b/ρ_b + m_h/ρ_h)
 *
 * Source: conservation of mass and volume. Holds for: components that do not shrink on mixing.
 */
export function mixDensity(ratio: MixRatio, densities: ComponentDensities): KilogramsPerLitre {
  const weight = convertToWeight(ratio, densities);
  const volume = convertToVolume(ratio, densities);
  return kilogramsPerLitre((weight.base + weight.hardener) / (volume.base + volume.hardener));
}

/** A mass of mixed resin split into its components, exactly: m_b = M·b/(b + h), m_h = M·h/(b + h), parts by weight. */
export function splitMix(mixed: Kilograms, ratio: WeightRatio): Components {
  if (!(mixed >= 0)) throw new RangeError(`splitMix needs 0 kg or more, got ${mixed}`);
  const parts = ratio.base + ratio.hardener;
  return {
    base: kilograms((mixed * ratio.base) / parts),
    hardener: kilograms((mixed * ratio.hardener) / parts),
  };
}

/** What is put on the scale, and how far rounding moved the ratio. */
export interface WeighedBatch extends Components {
  /** Hardener per base as weighed, over hardener per base as meant, less 1. */
  readonly ratioError: Fraction;
  readonly withinTolerance: boolean;
}

/**
 * Each component rounded up to a step of the scale, so a batch never comes out short. A small batch on a coarse scale can
 * leave the ratio's tolerance: that is reported, not mended.
 */
export function weighBatch(
  mixed: Kilograms,
  ratio: WeightRatio,
  scale: { readonly step: Kilograms; readonly ratioTolerance: Fraction },
): WeighedBatch {
  if (!(mixed > 0)) throw new RangeError(`weighBatch needs more than 0 kg, got ${mixed}`);
  const exact = splitMix(mixed, ratio);
  const base = kilograms(wholeStepsUp(exact.base, scale.step) * scale.step);
  const hardener = kilograms(wholeStepsUp(exact.hardener, scale.step) * scale.step);
  const ratioError = fraction(hardener / base / (ratio.hardener / ratio.base) - 1);
  return { base, hardener, ratioError, withinTolerance: Math.abs(ratioError) <= scale.ratioTolerance };
}

/** Containers of one component: ⌈total·(1 + waste)/container⌉. */
export const countContainers = (total: Kilograms, waste: Fraction, container: Kilograms): number =>
  wholeStepsUp(total * (1 + waste), container);

/** Kits of base and hardener packed together: as many as the component that runs out first asks for. */
export const countKits = (needed: Components, kit: Components): number =>
  Math.max(wholeStepsUp(needed.base, kit.base), wholeStepsUp(needed.hardener, kit.hardener));

/**
 * ⌈amount/step⌉, where a quotient within a billionth of a whole number is that number: 0.07/0.01 must be 7 steps and not
 * 8 because its double is 7.000000000000001. No scale shows a billionth of its step.
 */
function wholeStepsUp(amount: number, step: number): number {
  if (!(step > 0 && amount >= 0 && Number.isFinite(amount)))
    throw new RangeError(
      `rounding up needs an amount of 0 or more and a step above 0, got ${amount} in ${step}`,
    );
  const steps = amount / step;
  const nearest = Math.round(steps);
  return Math.abs(steps - nearest) <= 1e-9 * Math.max(1, nearest) ? nearest : Math.ceil(steps);
}

function verifyDensities({ base, hardener }: ComponentDensities): void {
  if (!(base > 0 && hardener > 0))
    throw new RangeError(`a mix ratio needs densities above 0 kg/L, got ${base} and ${hardener}`);
}

/** A Weibull life: scale η in years, shape b without unit. b above 1 means that failure grows likelier with age. */
export interface WeibullLife {
  readonly scale: number;
  readonly shape: number;
}

/**
 * Part of a cohort still alive at an age in years.
 *
 *   S(t) = exp(−(t/η)^b)
 *
 * Source: from memory (textbook), arithmetic checked. No sewer-specific constants were readable: η and b are fitted or the user's.
 * Holds for: t ≥ 0. A statement about programs; deterioration curves do not rank single laterals.
 */
export function survivingShare(age: number, life: WeibullLife): number {
  return Math.exp(-hazardSum(age, life));
}

/** Age in years by which half has failed, η·(ln 2)^(1/b). */
export function medianLife(life: WeibullLife): number {
  verifyLife(life);
  return life.scale * Math.LN2 ** (1 / life.shape);
}

/** Probability that a pipe alive at an age fails within so many years, 1 − S(t + h)/S(t). */
export function failureWithin(years: number, age: number, life: WeibullLife): number {
  if (!(years >= 0)) throw new RangeError(`failureWithin needs 0 years or more, got ${years}`);
  return -Math.expm1(hazardSum(age, life) - hazardSum(age + years, life));
}

/**
 * Renewals falling due in each of the years 1 … n of a cohort laid new: N·(S(t − 1) − S(t)).
 * Holds for: the first generation; what is renewed does not fail again here.
 */
export function cohortRenewals(cohort: number, years: number, life: WeibullLife): readonly number[] {
  if (!(cohort >= 0 && Number.isInteger(years) && years >= 0))
    throw new RangeError(
      `cohortRenewals needs a cohort and whole years of 0 or more, got ${cohort}, ${years}`,
    );
  return Array.from(
    { length: years },
    (_, i) => cohort * (survivingShare(i, life) - survivingShare(i + 1, life)),
  );
}

function hazardSum(age: number, life: WeibullLife): number {
  verifyLife(life);
  if (!(age >= 0)) throw new RangeError(`survival needs an age of 0 years or more, got ${age}`);
  return (age / life.scale) ** life.shape;
}

function verifyLife({ scale, shape }: WeibullLife): void {
  if (!(scale > 0 && shape > 0))
    throw new RangeError(`a Weibull life needs scale and shape above 0, got ${scale} years, ${shape}`);
}

import type { Fraction } from "../quantity/si.ts";
import { presentOfSteadyFailure } from "./expected-loss.ts";
import { presentOfAnnual, presentOfFuture } from "./present-worth.ts";
import { wholePower } from "./whole-power.ts";

/** Whole years over which a share of the chance of failure in a year stands. */
export interface Spell {
  readonly years: number;
  readonly share: number;
}

/** A spell with its factors of interest: they are the same whatever fails and however likely it is. */
export interface DiscountedSpell extends Spell {
  /** 1/(1 + i) */
  readonly v: number;
  /** v^t, t the years before it. */
  readonly toToday: number;
  /** (P/A, i, n) over its own years. */
  readonly annuity: number;
}

/** Spells one after another from today. */
export function discountSpells(spells: readonly Spell[], rate: Fraction): readonly DiscountedSpell[] {
  let from = 0;
  const v = presentOfFuture(rate, 1);
  return spells.map(({ years, share }) => {
    const toToday = presentOfFuture(rate, from);
    from += years;
    return { years, share, v, toToday, annuity: presentOfAnnual(rate, years) };
  });
}

/**
 * Present worth of a failure that happens once, where the chance changes from spell to spell.
 *
 *   Σ_s S_s·v^(t_s)·PW(C, p·a_s, n_s) ,   S_s = Π_(r<s) (1 − p·a_r)^(n_r) ,   t_s = Σ_(r<s) n_r
 *
 * with PW of {@link presentOfSteadyFailure}, a_s the share of the chance p that stands. Source: the same textbook sum over the years of
 * first failure, cut at the changes. Holds for: one failure, then renewed; spells one after another from today.
 */
export function presentOfFirstFailureBySpells(
  cost: number,
  chance: number,
  spells: readonly DiscountedSpell[],
): number {
  let sum = 0;
  let surviving = 1;
  for (let i = 0; i < spells.length; i++) {
    const { years, share, v, toToday } = spells[i]!;
    const standing = chance * share;
    sum += surviving * toToday * presentOfSteadyFailure(cost, standing, years, v);
    // Nothing comes after the last, which is nearly always the only one.
    if (i + 1 < spells.length) surviving *= wholePower(1 - standing, years);
  }
  return sum;
}

/** Present worth of failures that come again and again, Σ_s v^(t_s)·p·a_s·C·(P/A, i, n_s): the chance changes from spell to spell. */
export function presentOfYearlyLossBySpells(
  cost: number,
  chance: number,
  spells: readonly DiscountedSpell[],
): number {
  let sum = 0;
  for (const { share, toToday, annuity } of spells) sum += toToday * (chance * share * cost * annuity);
  return sum;
}

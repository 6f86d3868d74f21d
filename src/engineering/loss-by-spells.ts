import { type Fraction, fraction } from "../quantity/si.ts";
import { presentOfSteadyFailure, presentOfYearlyLoss } from "./expected-loss.ts";
import { presentOfFuture } from "./present-worth.ts";

/** Whole years over which the chance of failure in a year stands. */
export interface Spell {
  readonly years: number;
  readonly chance: number;
}

/**
 * Present worth of a failure that happens once, where the chance changes from spell to spell.
 *
 *   Σ_s S_s·v^(t_s)·PW(C, p_s, n_s) ,   S_s = Π_(r<s) (1 − p_r)^(n_r) ,   t_s = Σ_(r<s) n_r
 *
 * with PW of {@link presentOfSteadyFailure}. Source: the same textbook sum over the years of first failure, cut at the
 * changes. Holds for: one failure, then renewed; spells one after another from today.
 */
export function presentOfFirstFailureBySpells(
  cost: number,
  spells: readonly Spell[],
  rate: Fraction,
): number {
  let sum = 0;
  let surviving = 1;
  let from = 0;
  for (const { years, chance } of spells) {
    sum +=
      surviving * presentOfFuture(rate, from) * presentOfSteadyFailure(cost, fraction(chance), years, rate);
    surviving *= (1 - chance) ** years;
    from += years;
  }
  return sum;
}

/** Present worth of failures that come again and again, Σ_s v^(t_s)·p_s·C·(P/A, i, n_s): the chance changes from spell to spell. */
export function presentOfYearlyLossBySpells(cost: number, spells: readonly Spell[], rate: Fraction): number {
  let sum = 0;
  let from = 0;
  for (const { years, chance } of spells) {
    sum += presentOfFuture(rate, from) * presentOfYearlyLoss(chance * cost, years, rate);
    from += years;
  }
  return sum;
}

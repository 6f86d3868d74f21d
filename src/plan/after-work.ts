import { type Band, mapBand } from "../engineering/band.ts";
import { sumParts } from "../engineering/expected-loss.ts";
import type { FailureMode } from "../engineering/failure-probability.ts";
import {
  presentOfFirstFailureBySpells,
  presentOfYearlyLossBySpells,
  type Spell,
} from "../engineering/loss-by-spells.ts";
import { fraction } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Failure } from "./failure.ts";

/** What an offer leaves of a lateral's ways to fail, and what that is worth. */
export interface AfterWork {
  /** Share of each yearly chance that remains while all its works last; of infiltration: of its mean flow. */
  readonly shares: Readonly<Record<FailureMode, Band>>;
  /** Mean of the season of high groundwater, L/s, after what migrates elsewhere; null where the flow is unknown. */
  readonly infiltrationRemoved: Band | null;
  /** Cents of today over the horizon, not rounded; null where failures have no cost in this currency. */
  readonly money: AfterMoney | null;
}

export interface AfterMoney {
  /** Expected cost of failures when each work is renewed at the end of its life, as the offer's present worth pays for. */
  readonly remaining: Band;
  /** Expected cost of failures that the work spares when it is done once: at the end of its life the chances are again as they were. */
  readonly avoided: Band;
}

type Tables = Pick<Basis, "effects" | "life" | "failureModes">;

/**
 * What remains of the expected loss after the works of an offer.
 *
 * While a work lasts, a yearly chance p is s·p, s the share its table gives; works multiply. Infiltration: 1 − a·b·(1 − m), a the part of
 * it that leaks in where the works are, b what is sealed of that, m what migrates. A life counts by its whole years. The lateral's own
 * chances stay as they are today over the horizon, as the present loss takes them.
 */
export function judgeAfterWork(works: readonly WorkKind[], failure: Failure, tables: Tables): AfterWork {
  const effect = effectOf(works, tables);
  const flow = failure.infiltration?.value.highSeason ?? null;
  const kept = effect.shares.infiltration;
  return {
    shares: effect.shares,
    infiltrationRemoved:
      flow === null
        ? null
        : { least: flow * (1 - kept.most), best: flow * (1 - kept.best), most: flow * (1 - kept.least) },
    money: failure.money === null ? null : moneyAfter(effect, failure, failure.money, tables),
  };
}

type Bound = keyof Band;
type Shares = AfterWork["shares"];
type SharedSpell = { readonly years: number; readonly shares: Shares };

/** What works do, whatever the lateral. */
interface Effect {
  readonly shares: Shares;
  readonly once: readonly SharedSpell[];
  readonly untouched: readonly SharedSpell[];
  readonly of: Pick<Tables, "life" | "failureModes">;
}

/** Effects by the table they come from and the list of works: a treatment's list is one object for all laterals. */
const effects = new WeakMap<Tables["effects"], Map<readonly WorkKind[], Effect>>();

function effectOf(works: readonly WorkKind[], tables: Tables): Effect {
  let known = effects.get(tables.effects);
  if (known === undefined) {
    known = new Map();
    effects.set(tables.effects, known);
  }
  const found = known.get(works);
  if (found?.of.life === tables.life && found.of.failureModes === tables.failureModes) return found;
  const effect = {
    shares: sharesOf(works, tables),
    once: spellsOfOnce(works, tables),
    untouched: [{ years: tables.life.horizonYears, shares: sharesOf([], tables) }],
    of: tables,
  };
  known.set(works, effect);
  return effect;
}

/** A band of which nearly always the best value alone is asked for: each bound is worked out when it is. */
class LateBand implements Band {
  readonly #at: (bound: Bound) => number;
  constructor(at: (bound: Bound) => number) {
    this.#at = at;
  }
  get least(): number {
    return this.#at("least");
  }
  get best(): number {
    return this.#at("best");
  }
  get most(): number {
    return this.#at("most");
  }
}

const otherBound: Readonly<Record<Bound, Bound>> = { least: "most", best: "best", most: "least" };

function moneyAfter(
  { shares, once, untouched }: Effect,
  { chances }: Failure,
  { parts }: NonNullable<Failure["money"]>,
  tables: Tables,
): AfterMoney {
  const rate = fraction(tables.life.discountRate);
  const costs = {
    structural: sumParts(parts.structural),
    blockage: sumParts(parts.blockage),
    infiltration: sumParts(parts.infiltration),
  };
  const lossOver = (spells: readonly SharedSpell[], ofChance: Bound, ofShare: Bound): number => {
    const spellsOf = (mode: FailureMode): Spell[] =>
      spells.map(({ years, shares }) => ({
        years,
        chance: chances[mode].value[ofChance] * shares[mode][ofShare],
      }));
    return (
      presentOfFirstFailureBySpells(costs.structural, spellsOf("structural"), rate) +
      presentOfYearlyLossBySpells(costs.blockage, spellsOf("blockage"), rate) +
      presentOfYearlyLossBySpells(costs.infiltration, spellsOf("infiltration"), rate)
    );
  };
  const keptUp = [{ years: tables.life.horizonYears, shares }];
  return {
    remaining: new LateBand((bound) => lossOver(keptUp, bound, bound)),
    avoided: new LateBand(
      (bound) => lossOver(untouched, bound, "best") - lossOver(once, bound, otherBound[bound]),
    ),
  };
}

/** The horizon cut where a work's life ends: after it the work has no effect. */
function spellsOfOnce(works: readonly WorkKind[], tables: Tables): readonly SharedSpell[] {
  const { horizonYears, years } = tables.life;
  const lasts = (work: WorkKind) => Math.min(Math.floor(years[work] ?? horizonYears), horizonYears);
  const ends = [...new Set([...works.map(lasts), horizonYears])].filter((end) => end > 0);
  let from = 0;
  return ends
    .sort((a, b) => a - b)
    .map((end) => {
      const spell = {
        years: end - from,
        shares: sharesOf(
          works.filter((work) => lasts(work) >= end),
          tables,
        ),
      };
      from = end;
      return spell;
    });
}

const WHOLE: Band = { least: 1, best: 1, most: 1 };

/** What all these works together leave, mode by mode. */
function sharesOf(works: readonly WorkKind[], { effects, failureModes: modes }: Tables): Shares {
  const { sealed, migration } = modes.infiltration;
  let structural = WHOLE;
  let blockage = WHOLE;
  for (const work of works) {
    const effect = effects.works[work];
    if (effect === null) continue;
    structural = times(structural, effect.structural);
    blockage = times(blockage, effect.blockage);
  }
  const held = reachedBy(works, effects);
  return {
    structural,
    blockage,
    infiltration: {
      least: 1 - held.most * sealed.most * (1 - migration.least),
      best: 1 - held.best * sealed.best * (1 - migration.best),
      most: 1 - held.least * sealed.least * (1 - migration.most),
    },
  };
}

/** The part of a lateral's infiltration that comes in where these works are: it adds up, to the whole at most. */
export function reachedBy(works: readonly WorkKind[], effects: Basis["effects"]): Band {
  let reached: Band = { least: 0, best: 0, most: 0 };
  for (const work of works) {
    const effect = effects.works[work];
    if (effect !== null) reached = plus(reached, effect.reached);
  }
  return mapBand(reached, (part) => Math.min(part, 1));
}

const times = (a: Band, b: Band): Band => ({
  least: a.least * b.least,
  best: a.best * b.best,
  most: a.most * b.most,
});
const plus = (a: Band, b: Band): Band => ({
  least: a.least + b.least,
  best: a.best + b.best,
  most: a.most + b.most,
});

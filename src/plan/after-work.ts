import { type Band, mapBand } from "../engineering/band.ts";
import { type FailureMode, failureModes } from "../engineering/failure-probability.ts";
import {
  type DiscountedSpell,
  discountSpells,
  presentOfFirstFailureBySpells,
  presentOfYearlyLossBySpells,
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
export const judgeAfterWork = (works: readonly WorkKind[], failure: Failure, tables: Tables): AfterWork =>
  new After(effectOf(works, tables), failure);

/** A plan asks two numbers of it: the rest is worked out when somebody asks. */
class After implements AfterWork {
  readonly #effect: Effect;
  readonly #failure: Failure;
  #money: AfterMoney | null = null;

  constructor(effect: Effect, failure: Failure) {
    this.#effect = effect;
    this.#failure = failure;
  }

  get shares(): Shares {
    return this.#effect.shares;
  }

  get infiltrationRemoved(): Band | null {
    const kept = this.shares.infiltration;
    const flow = this.#failure.infiltration?.value.highSeason ?? null;
    return flow === null
      ? null
      : { least: flow * (1 - kept.most), best: flow * (1 - kept.best), most: flow * (1 - kept.least) };
  }

  get money(): AfterMoney | null {
    const { chances, money } = this.#failure;
    if (money !== null) this.#money ??= new MoneyAfter(this.#effect, chances, money);
    return this.#money;
  }
}

type Bound = keyof Band;
type Shares = AfterWork["shares"];
interface SharedSpell {
  readonly years: number;
  readonly shares: Shares;
}
/** Spells of each mode at each bound of its share. */
type Spells = Readonly<Record<Bound, Readonly<Record<FailureMode, readonly DiscountedSpell[]>>>>;

/** What works do, whatever the lateral. */
interface Effect {
  readonly shares: Shares;
  /** Of works renewed over the horizon. */
  readonly keptUp: Spells;
  /** Of works done once. */
  readonly once: Spells;
}

/** Effects of the tables asked about last, by the list of works: a treatment's list is one object for all laterals. */
let known: { readonly of: Tables | null; readonly byWorks: Map<readonly WorkKind[], Effect> } = {
  of: null,
  byWorks: new Map(),
};

function effectOf(works: readonly WorkKind[], tables: Tables): Effect {
  const { of } = known;
  if (
    of?.effects !== tables.effects ||
    of.life !== tables.life ||
    of.failureModes !== tables.failureModes ||
    known.byWorks.size >= MOST_KNOWN
  )
    known = { of: tables, byWorks: new Map() };
  let effect = known.byWorks.get(works);
  if (effect === undefined) {
    const shares = sharesOf(works, tables);
    effect = {
      shares,
      keptUp: discounted([{ years: tables.life.horizonYears, shares }], tables),
      once: discounted(spellsOfOnce(works, tables), tables),
    };
    known.byWorks.set(works, effect);
  }
  return effect;
}

/** More than there are treatments: whoever asks with lists of their own does not fill the memory. */
const MOST_KNOWN = 256;

function discounted(spells: readonly SharedSpell[], { life }: Tables): Spells {
  const at = (bound: Bound) =>
    Object.fromEntries(
      failureModes.map((mode) => [
        mode,
        discountSpells(
          spells.map(({ years, shares }) => ({ years, share: shares[mode][bound] })),
          fraction(life.discountRate),
        ),
      ]),
    ) as Spells[Bound];
  return { least: at("least"), best: at("best"), most: at("most") };
}

type FailureMoney = NonNullable<Failure["money"]>;

/** Of these bands nearly always one best value alone is asked for: each bound is worked out when it is. */
class MoneyAfter implements AfterMoney {
  readonly #effect: Effect;
  readonly #chances: Failure["chances"];
  readonly #money: FailureMoney;

  constructor(effect: Effect, chances: Failure["chances"], money: FailureMoney) {
    this.#effect = effect;
    this.#chances = chances;
    this.#money = money;
  }

  get remaining(): Band {
    return new LateBand((bound) => this.#lossWith("keptUp", bound, bound));
  }

  /** The loss of the lateral left as it is, less what still fails: its least is where the works spare least. */
  get avoided(): Band {
    return new LateBand(
      (bound) => this.#money.presentLoss[bound] - this.#lossWith("once", otherBound[bound], bound),
    );
  }

  /** The loss with the works done so often, at these bounds of what they spare and of the chances. */
  #lossWith(often: "keptUp" | "once", spared: Bound, bound: Bound): number {
    return lossOver(this.#effect[often][spared], this.#chances, bound, this.#money.costs);
  }
}

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

/** Present loss of all modes at one bound of their chances. */
function lossOver(
  spells: Spells[Bound],
  chances: Failure["chances"],
  bound: Bound,
  costs: FailureMoney["costs"],
): number {
  const { structural, blockage, infiltration } = spells;
  return (
    presentOfFirstFailureBySpells(costs.structural, chances.structural.value[bound], structural) +
    presentOfYearlyLossBySpells(costs.blockage, chances.blockage.value[bound], blockage) +
    presentOfYearlyLossBySpells(costs.infiltration, chances.infiltration.value[bound], infiltration)
  );
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

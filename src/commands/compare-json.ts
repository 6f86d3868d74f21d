import { isoDate } from "../quantity/calendar.ts";
import type { Day } from "../quantity/si.ts";
import type { Attribution } from "../season/attribution.ts";
import { scoreOfSteps } from "../season/rank.ts";
import type { NamedRun, RunComparison } from "./compare-runs.ts";
import { ownOf } from "./compare-text.ts";

/** A comparison for other programs. Shares are whole numerators over a denominator, so that they sum to the move exactly. */
export function compareAsJson(comparison: RunComparison): unknown {
  const { from, to, changed, changedSettings, top, rankedOtherwise, comparison: found } = comparison;
  const sharesOf = ({ numerators, denominator }: Attribution) => ({
    denominator,
    numerators: Object.fromEntries(changed.map((group, i) => [group, numerators[i]])),
  });
  return {
    from: headOf(from),
    to: headOf(to),
    ranked_otherwise_by_this_version: Object.fromEntries(rankedOtherwise),
    changed_inputs: changed,
    changed_settings: changedSettings,
    in_both: found.inBoth,
    added: found.added,
    gone: found.gone,
    kendall_tau_b: found.tauB,
    spearman_rho: found.rho,
    selected: {
      rule: `the first ${top} by rank with paid work: a plain cut of the ranking, not a season`,
      ...found.selected,
    },
    movers: found.movers.map(({ id, places, selection, ...mover }) => {
      const why = comparison.whyOf(id);
      return {
        lateral: id,
        rank_from: mover.from,
        rank_to: mover.to,
        places_up: places,
        score_from: scoreOrNull(mover.scoreFrom),
        score_to: scoreOrNull(mover.scoreTo),
        score_steps_up: mover.scoreMove,
        selection,
        places_caused_by: sharesOf(why.places),
        score_steps_caused_by: why.score === null ? null : sharesOf(why.score),
        own_changes: ownOf(comparison, id).map((change) =>
          "on" in change ? { ...change, on: isoDate(change.on as Day) } : change,
        ),
      };
    }),
  };
}

const scoreOrNull = (steps: number | null) => (steps === null ? null : scoreOfSteps(steps));

const headOf = ({ name, run }: NamedRun) => ({
  name,
  as_of: run.as_of,
  inputs: run.inputs,
  settings_sha256: run.settings.sha256,
  decisions_sha256: run.decisions.sha256,
});

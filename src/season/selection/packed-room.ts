import type { CrewWork } from "../day-packing.ts";
import { excessOf, onTrial, type PackedRule, packChosen } from "./packed-rule.ts";
import type { Chosen, SelectionProblem } from "./selection-problem.ts";

/** Times a district is packed to see whether one more fits; after them only what fits on days of its own is taken. */
const PACKINGS = 2000;

/**
 * Room left in the crew-days while a choice grows lateral by lateral. Where a visit fits on days of its own nothing is packed; where it does
 * not, its district is packed with it.
 *
 * @param chosen the choice that grows: read, and changed by leaveOutLast only
 */
export function packedRoom(problem: SelectionProblem, rule: PackedRule, chosen: Chosen) {
  let days = packChosen(problem, rule, chosen);
  const changed = new Set<number>();
  let used = rule.crews.map((_, crew) => days.packed[crew]! + days.mobilized[crew]!);
  let packings = 0;
  /** Crews at work in a district, by crew and district. */
  const isThere = rule.crews.map((crew) =>
    Uint8Array.from(days.work, (own) => (own.some((each) => each.crew === crew) ? 1 : 0)),
  );
  const repack = () => {
    const known = days.work.map((own, d): readonly CrewWork[] | null => (changed.has(d) ? null : own));
    return packChosen(problem, onTrial(rule), chosen, known);
  };
  const settle = (next: ReturnType<typeof packChosen>) => {
    days = next;
    changed.clear();
    used = rule.crews.map((_, crew) => days.packed[crew]! + days.mobilized[crew]!);
  };
  return {
    /** Whether the choice still fits with this lateral, which is in it already; where it does it is counted. */
    hasRoomFor(l: number): boolean {
      const d = problem.district[l]!;
      const j = chosen[l]!;
      const alone = rule.crews.map((_, crew) => {
        const whole = rule.whole[crew]![j]!;
        const opening = isThere[crew]![d] === 1 ? 0 : rule.mobilisationDays;
        return whole === 0 ? 0 : Math.ceil(whole / rule.shift) + opening;
      });
      const isSure = alone.every((more, crew) => more === 0 || used[crew]! + more <= rule.crewDays[crew]!);
      const wasChanged = changed.has(d);
      changed.add(d);
      if (isSure) used = used.map((each, crew) => each + alone[crew]!);
      else {
        const next = packings++ < PACKINGS ? repack() : null;
        if (next === null || excessOf(rule, next).some((over) => over > 0)) {
          if (!wasChanged) changed.delete(d);
          return false;
        }
        settle(next);
      }
      for (const [crew, more] of alone.entries()) if (more > 0) isThere[crew]![d] = 1;
      return true;
    },
    /** What was counted on days of its own may still be late, or a longer way may have come up: the last of these go out again. */
    leaveOutLast(order: readonly number[]): void {
      settle(repack());
      for (const l of order.toReversed()) {
        const excess = excessOf(rule, days);
        if (excess.every((over) => over === 0)) return;
        const j = chosen[l]!;
        const isOver = j >= 0 && excess.some((over, crew) => over > 0 && rule.whole[crew]![j]! > 0);
        if (!isOver || problem.must[l] === 1) continue;
        chosen[l] = -1;
        changed.add(problem.district[l]!);
        settle(repack());
      }
    },
  };
}

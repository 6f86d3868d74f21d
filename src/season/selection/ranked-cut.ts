import { packedRoom } from "./packed-room.ts";
import type { PackedRule } from "./packed-rule.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/**
 * The cut a spreadsheet makes: down the ranking, each lateral gets the treatment planned for it if money, crew time and its district's
 * limits still allow, and is passed over if not; the first lateral of a district also pays its mobilisation. Laterals that must be done
 * come first. What districts get at least is not looked at: a ranking cannot.
 *
 * @param packed how visits are packed: then what no longer fits into the crew-days as packed is passed over too, as in the season beside it
 * @param order laterals, worst first
 * @param planned the offer planned for each lateral, or −1
 */
export function rankedCut(
  problem: SelectionProblem,
  order: Iterable<number>,
  planned: Int32Array,
  packed: PackedRule | null = null,
): Chosen {
  const chosen = new Int32Array(lateralsOf(problem)).fill(-1);
  const ranks = [...order];
  const neededBy = new Map<number, number[]>();
  for (const [lateral, needed] of problem.needs)
    neededBy.set(lateral, [...(neededBy.get(lateral) ?? []), needed]);
  const opened = new Uint8Array(problem.districts);
  const laterals = new Float64Array(problem.districts);
  const works = new Float64Array(problem.districts);
  const crewLeft = [...problem.crewMinutes];
  const room = packed === null ? null : packedRoom(problem, packed, chosen);
  let money = problem.money;
  const take = (l: number): void => {
    const j = planned[l]!;
    const d = problem.district[l]!;
    if (chosen[l]! >= 0 || j < 0 || problem.mustNot[l] === 1) return;
    const cost = problem.cost[j]!;
    const opening = opened[d] === 1 ? 0 : problem.mobilization[d]!;
    const fits =
      cost + opening <= money &&
      crewLeft.every((left, crew) => problem.minutes[crew]![j]! <= left) &&
      laterals[d]! < problem.most.laterals[d]! &&
      works[d]! + cost <= problem.most.money[d]! &&
      (neededBy.get(l) ?? []).every((needed) => chosen[needed]! >= 0);
    if (!fits) return;
    chosen[l] = j;
    if (room?.hasRoomFor(l) === false) {
      chosen[l] = -1;
      return;
    }
    opened[d] = 1;
    laterals[d]!++;
    works[d]! += cost;
    money -= cost + opening;
    for (const crew of crewLeft.keys()) crewLeft[crew]! -= problem.minutes[crew]![j]!;
  };
  for (const l of ranks) if (problem.must[l] === 1) take(l);
  for (const l of ranks) take(l);
  room?.leaveOutLast(ranks);
  return chosen;
}

import { wholeMicrolitres } from "../../quantity/summed-flow.ts";
import { numberAt } from "../../sheet/table.ts";
import { ofChosenOffers } from "../chosen-offers.ts";
import type { PlannedProgram } from "../planned-program.ts";
import type { SeasonProblem } from "./season-problem.ts";
import type { Chosen } from "./selection-problem.ts";

/** What a season does in a district, or in all. Money in whole cents, so districts add up to the program exactly. */
export interface SeasonTotals {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  laterals: number;
  chosen: number;
  works: number;
  mobilization: number;
  /** Of the works those that cost more than the present worth of the loss they avoid: nothing in a selection bars them. */
  readonly dearer: { laterals: number; works: number; lossAvoided: number };
  /** Chosen laterals of which nobody knows the loss that their work avoids: not in `dearer`. */
  chosenWithoutLoss: number;
  /** Minutes by crew type. */
  readonly minutes: number[];
  /** Present worth of expected failures over the horizon if nothing more is done, and what the season spares of it. Of a lateral done: after its work. */
  lossBefore: number;
  lossAvoided: number;
  /** Mean of the season of high groundwater in microlitres per second, whole, so that sums are exact; migration as the offers count it. */
  infiltrationBefore: number;
  infiltrationRemoved: number;
  /** Laterals whose loss, and whose infiltration, is not known: not in the sums. */
  withoutLoss: number;
  withoutInfiltration: number;
}

export function totalSeason(
  whole: PlannedProgram,
  season: SeasonProblem,
  chosen: Chosen,
): { readonly districts: readonly SeasonTotals[]; readonly program: SeasonTotals } {
  const { laterals, offers } = whole;
  const { problem, held } = season;
  const done = new Set(held.filter(({ standing }) => standing === "done").map(({ lateral }) => lateral));
  // The columns of a lateral say how it was before its work: of one that is done, what its work spares is off them.
  const avoidedBy = ofChosenOffers(offers, "loss_avoided", laterals.rows);
  const removedBy = ofChosenOffers(offers, "infiltration_removed", laterals.rows);
  const spared = (by: Float64Array, l: number) => (done.has(l) && !Number.isNaN(by[l]!) ? by[l]! : 0);
  const program = nothing("", season.crews.length);
  const districts = season.districts.map((name) => nothing(name, season.crews.length));
  for (let l = 0; l < chosen.length; l++) {
    const d = problem.district[l]!;
    const loss = numberAt(laterals, "present_loss", l);
    const water = numberAt(laterals, "infiltration", l);
    const j = chosen[l]!;
    const row = j < 0 ? -1 : season.offerRows[j]!;
    for (const into of [districts[d]!, program]) {
      into.laterals++;
      if (Number.isNaN(loss)) into.withoutLoss++;
      else into.lossBefore += loss - spared(avoidedBy, l);
      if (Number.isNaN(water)) into.withoutInfiltration++;
      else into.infiltrationBefore += wholeMicrolitres(water) - wholeMicrolitres(spared(removedBy, l));
      if (row < 0) continue;
      if (into.chosen === 0 && into !== program) {
        into.mobilization += problem.mobilization[d]!;
        program.mobilization += problem.mobilization[d]!;
      }
      into.chosen++;
      into.works += problem.cost[j]!;
      for (const [crew, each] of problem.minutes.entries()) into.minutes[crew]! += each[j]!;
      const avoided = numberAt(offers, "loss_avoided", row);
      const removed = numberAt(offers, "infiltration_removed", row);
      if (Number.isNaN(avoided)) into.chosenWithoutLoss++;
      else {
        into.lossAvoided += avoided;
        if (avoided < problem.cost[j]!) {
          into.dearer.laterals++;
          into.dearer.works += problem.cost[j]!;
          into.dearer.lossAvoided += avoided;
        }
      }
      if (!Number.isNaN(removed)) into.infiltrationRemoved += wholeMicrolitres(removed);
    }
  }
  return { districts, program };
}

const nothing = (district: string, crews: number): SeasonTotals => ({
  district,
  laterals: 0,
  chosen: 0,
  works: 0,
  mobilization: 0,
  dearer: { laterals: 0, works: 0, lossAvoided: 0 },
  chosenWithoutLoss: 0,
  minutes: new Array<number>(crews).fill(0),
  lossBefore: 0,
  lossAvoided: 0,
  infiltrationBefore: 0,
  infiltrationRemoved: 0,
  withoutLoss: 0,
  withoutInfiltration: 0,
});

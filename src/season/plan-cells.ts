import { type PlanKey, planColumns } from "../columns/plan-columns.ts";
import { hasPartInMain } from "../plan/part-in-main.ts";
import { mayBeScheduled, type Permission } from "../plan/permission.ts";
import type { Offer, PlannedLateral } from "../plan/plan-lateral.ts";
import { surveyKeys, valueReader } from "../plan/score-values.ts";
import { yearsAfter } from "../quantity/calendar.ts";
import type { Cells } from "../sheet/row-writer.ts";
import { cityCostOf } from "./budget-counts.ts";

type PlanColumn = (typeof planColumns)[number];
type CellOf<Key extends PlanKey> =
  Extract<PlanColumn, { readonly key: Key }> extends { readonly measure: "code" } ? string : number;

/** What the sheet shows of a planned lateral, from its risk on: a line a column. Null is missing. */
const fromRiskOn = {
  likelihood: ({ risk }) => risk.likelihood?.value ?? null,
  consequence: ({ risk }) => risk.consequence?.value ?? null,
  risk: ({ risk }) => risk.score,
  p_structural: ({ failure }) => failure.chances.structural.value.best,
  p_blockage: ({ failure }) => failure.chances.blockage.value.best,
  p_infiltration: ({ failure }) => failure.chances.infiltration.value.best,
  expected_loss: ({ failure }) => wholeCents(failure.money?.annualLoss.best),
  present_loss: ({ failure }) => wholeCents(failure.money?.presentLoss.best),
  infiltration: ({ failure }) => failure.infiltration?.value.highSeason ?? null,
  treatment: ({ choice }) => choice.treatment,
  wall_calculated: ({ chosen }) => chosen.wall?.specified.calculated ?? null,
  wall_specified: ({ chosen }) => chosen.wall?.specified.specifiedMinimum ?? null,
  wall: ({ chosen }) => chosen.wall?.specified.stocked ?? null,
  wall_main: ({ chosen }) => wallInMain(chosen),
  wall_check: ({ chosen: { wall } }) => (wall === null ? null : governorWords[wall.worst.design.governing]),
  wall_decider: ({ chosen: { wall } }) =>
    wall === null ? null : wall.specified.governedBy === "calculation" ? "calculated" : "specified minimum",
  wall_second_opinion: ({ chosen }) => chosen.wall?.crossCheck?.glockWall ?? null,
  dr: ({ chosen }) => chosen.wall?.dimensionRatio ?? null,
  liner_length: ({ chosen: { liner } }) => (liner === null ? null : lengthAlong(liner)),
  resin: ({ chosen }) => (chosen.pieces.length === 0 ? null : millilitresOf(chosen) / 1000),
  cure_minutes: ({ chosen: { placed } }) => (placed === null ? null : Math.round(placed.cure.total)),
  pull: ({ chosen }) => chosen.placed?.forces.pull?.pull.atWinch ?? null,
  capacity_ratio: ({ chosen }) => chosen.placed?.flow.capacity.ownRoughness?.least ?? null,
  capacity_equal_n: ({ chosen }) => chosen.placed?.flow.capacity.equalRoughness ?? null,
  crew_minutes: ({ chosen }) => chosen.crewTime.total,
  cost: ({ chosen }) => chosen.cost.total,
  own_choice: ({ choice }) => choice.own,
  decision_cost: ({ choice }) => choice.decisionCost,
  runner_up: ({ choice }) => choice.runnerUp?.treatment ?? null,
  runner_up_more: ({ choice }) => choice.runnerUp?.more ?? null,
  look_again_by: ({ again }) => (again === null ? null : yearsAfter(again.seen, again.years)),
  city_cost: ({ chosen }) => cityCostOf(chosen),
  owner_cost: ({ chosen: { split } }) => (split.kind === "split" ? split.owner : null),
  may_be_scheduled: ({ chosen }) => mayBe(chosen.permission),
  status: ({ lateral }) => lateral.tracked.status?.value ?? null,
  status_on: ({ lateral }) => lateral.tracked.statusOn?.value ?? null,
  installed_length: ({ lateral }) => lateral.tracked.installedLength?.value ?? null,
  installed_cost: ({ lateral }) => lateral.tracked.installedCost?.value ?? null,
} as const satisfies { readonly [Key in PlanKey]?: (planned: PlannedLateral) => CellOf<Key> | null };

/** What was known of it before: the condition, and what formulas may read of the leading survey. */
const beforeRisk: Cells<PlannedLateral> = Object.fromEntries(
  [...planColumns.flatMap(({ key, stage }) => (stage === "condition" ? [key] : [])), ...surveyKeys].map(
    (key) => {
      const read = valueReader(key);
      if (read === null) throw new RangeError(`planCells: ${key} is not known before the risk`);
      return [key, ({ lateral, condition }: PlannedLateral) => read(lateral, condition)];
    },
  ),
);

/** Every column that a planned lateral fills by itself. */
export const planCells: Cells<PlannedLateral> = { ...beforeRisk, ...fromRiskOn };

/** Of them, those that the ranking reads. */
export const cellsOfRanking: ReadonlySet<string> = new Set<PlanKey>(["risk", "structural_grade", "om_grade"]);

/** Those that the totals and their breakdown read. */
export const cellsOfTotals: ReadonlySet<string> = new Set<PlanKey>([
  "present_loss",
  "infiltration",
  "treatment",
  "wall",
  "liner_length",
  "crew_minutes",
  "cost",
  "city_cost",
  "owner_cost",
  "may_be_scheduled",
]);

/** Liner along the pipe; null of a liner at the connection alone, which is counted and not measured. */
const lengthAlong = (liner: NonNullable<Offer["liner"]>): number | null =>
  liner.kind === "connection" ? null : liner.installedLength;

/** Of the one liner of an offer that has a part in the main; null where none has. */
function wallInMain({ pieces }: Offer): number | null {
  for (const { liner } of pieces) if (hasPartInMain(liner)) return liner.mainWall;
  return null;
}

/** Millilitres for all liners of an offer. */
export const millilitresOf = ({ pieces }: Offer): number => {
  let sum = 0;
  for (const { placed } of pieces) sum += placed.wetOut.millilitres;
  return sum;
};

/** An expected value has no exact cents; the sheet shows the nearest. */
export const wholeCents = (amount: number | undefined): number | null =>
  amount === undefined ? null : Math.round(amount);

/** Yes and no as a flag's 1 and 0. */
export function mayBe(permission: Permission): number | null {
  const may = mayBeScheduled(permission);
  return may === null ? null : Number(may);
}

/** The checks of the design by the words of the sheet. */
const governorWords = {
  buckling: "buckling (X1.1)",
  bending: "out-of-round bending (X1.2)",
  "soil-buckling": "soil and traffic (X1.3)",
  stiffness: "stiffness (X1.4)",
  "largest-ratio": "greatest DR",
} as const;

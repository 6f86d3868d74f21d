import type { Offer } from "../plan/plan-lateral.ts";
import type { Cents } from "../quantity/si.ts";
import type { BudgetPays } from "../reference/season-days.ts";
import { numberAt, numbersOf, type Table, withColumns } from "../sheet/table.ts";
import type { PlannedProgram } from "./planned-program.ts";
import type { Totals } from "./totals.ts";
import { countOpenings, type Progress, trackProgress } from "./tracking.ts";

/**
 * A plan with its costs as the season's budget counts them: as they are, or where it pays the city's share alone that of each offer and of
 * each lateral's work. What is not divided counts whole, the careful side. What was spent is entered whole: the budget pays the same share
 * of it as of what is planned for the lateral.
 */
export function asBudgetCounts<Plan extends Pick<PlannedProgram, "laterals" | "offers" | "basis">>(
  plan: Plan,
): Plan {
  const { offers, basis } = plan;
  if (basis.budgetPays === "whole cost") return plan;
  const cost = valuesOf(offers, (row) => countedAt(offers, row));
  return { ...plan, laterals: lateralsAsCounted(plan), offers: withColumns(offers, [["cost", cost]]) };
}

/** Of {@link asBudgetCounts} the laterals alone. */
export function lateralsAsCounted({ laterals, basis }: Pick<PlannedProgram, "laterals" | "basis">): Table {
  if (basis.budgetPays === "whole cost") return laterals;
  const spent = numbersOf(laterals, "installed_cost");
  const counted = spendingAsCounted({ laterals, basis });
  return withColumns(laterals, [
    ["cost", valuesOf(laterals, (row) => countedAt(laterals, row))],
    ["installed_cost", valuesOf(laterals, (row) => counted(row, spent[row]!))],
  ]);
}

/** Of cents spent on a lateral's row what the budget counts: the share of what is planned for it. */
export function spendingAsCounted({
  laterals,
  basis,
}: Pick<PlannedProgram, "laterals" | "basis">): (row: number, spent: number) => number {
  if (basis.budgetPays === "whole cost") return (_, spent) => spent;
  const planned = numbersOf(laterals, "cost");
  const share = (row: number) => (planned[row]! > 0 ? countedAt(laterals, row) / planned[row]! : 1);
  return (row, spent) => Math.round(spent * share(row));
}

/** Cents of an offer that the city pays; null where its cost is not known or not divided. */
export const cityCostOf = ({ split }: Pick<Offer, "split">): Cents | null =>
  split.kind === "split" ? split.city : null;

/** Cents of an offer that a budget counts, one that is in no table; null where its cost is not known. */
export const countedOffer = (offer: Pick<Offer, "cost" | "split">, pays: BudgetPays): Cents | null =>
  (pays === "city share" ? cityCostOf(offer) : null) ?? offer.cost.total;

/** Cents of summed works that a budget counts. */
export const countedTotal = (
  { cityCost, ownerCost, undivided }: Pick<Totals, "cityCost" | "ownerCost" | "undivided">,
  pays: BudgetPays,
): number => cityCost + undivided + (pays === "city share" ? 0 : ownerCost);

/** How far the program has come, at what the budget counts of it. */
const progressAsCounted = (program: PlannedProgram, whole: Progress): Progress =>
  program.basis.budgetPays === "whole cost"
    ? whole
    : trackProgress({ ...program, laterals: lateralsAsCounted(program) }).program;

/** The rules of a season's money, in cents: the budget, null where nobody says it, and what it costs to open a district. */
export interface SeasonMoney {
  readonly budget: number | null;
  readonly mobilization: number;
}

/** Districts that crews are moved into, and what that costs. */
export interface Openings {
  readonly districts: number;
  readonly cost: number;
}

/** Where the money of a season stands, in cents as its budget counts them. */
export interface MoneySoFar {
  readonly spent: number;
  readonly stillToSpend: number;
  /** Where work has begun. */
  readonly opened: Openings;
  /** Where the work that is left would begin. */
  readonly toOpen: Openings;
  /** Null where nobody says it; what is left of it is below 0 where more is spent. */
  readonly budget: { readonly whole: number; readonly left: number } | null;
}

/** Districts are opened as the season counts them (see countOpenings), so that all tell the same money. */
export function moneySoFar(
  program: PlannedProgram,
  { budget, mobilization }: SeasonMoney,
  tracked = trackProgress(program),
): MoneySoFar {
  const { spent, stillToSpend } = progressAsCounted(program, tracked.program);
  const { opened, toOpen } = countOpenings(tracked.districts);
  const opening = (districts: number): Openings => ({ districts, cost: districts * mobilization });
  const gone = opening(opened);
  return {
    spent,
    stillToSpend,
    opened: gone,
    toOpen: opening(toOpen),
    budget: budget === null ? null : { whole: budget, left: budget - spent - gone.cost },
  };
}

/** Laterals whose cost is known and not divided: owner, lengths of the parts or the city's share are not stated. */
export function undividedLaterals({ laterals }: Pick<PlannedProgram, "laterals">): number {
  const [cost, city] = [numbersOf(laterals, "cost"), numbersOf(laterals, "city_cost")];
  let count = 0;
  for (let row = 0; row < laterals.rows; row++)
    if (!Number.isNaN(cost[row]!) && Number.isNaN(city[row]!)) count++;
  return count;
}

/** Cents of the row's work that the budget counts, of a table with both costs. */
function countedAt(of: Table, row: number): number {
  const city = numberAt(of, "city_cost", row);
  return Number.isNaN(city) ? numberAt(of, "cost", row) : city;
}

const valuesOf = ({ rows }: Table, valueAt: (row: number) => number) => ({
  kind: "number" as const,
  values: Float64Array.from({ length: rows }, (_, row) => valueAt(row)),
});

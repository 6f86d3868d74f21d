import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import type { Offer } from "../plan/plan-lateral.ts";
import type { Basis } from "../reference/basis.ts";
import type { Cells } from "../sheet/row-writer.ts";
import { cityCostOf } from "./budget-counts.ts";
import { mayBe, millilitresOf, wholeCents } from "./plan-cells.ts";
import { visitKeys, visitMinutesKey, visitOf } from "./visit-keys.ts";

/** An offer as the list of offers holds it. */
export interface ListedOffer {
  readonly offer: Offer;
  readonly isChosen: boolean;
}

/** Nobody else reads it: a budget of whole costs leaves out its eight bytes an offer. */
const cityCostCell: Cells<ListedOffer> = {
  city_cost: ({ offer }) => cityCostOf(offer),
};

type OfferBasis = Pick<Basis, "steps" | "budgetPays">;

/** What the list of offers holds of one, a line a column. */
export const offerCells = ({ steps: { crews }, budgetPays }: OfferBasis): Cells<ListedOffer> => ({
  ...(budgetPays === "city share" ? cityCostCell : {}),
  treatment: ({ offer }) => offer.treatment,
  cost: ({ offer }) => offer.cost.total,
  crew_minutes: ({ offer }) => offer.crewTime.total,
  resin_ml: ({ offer }) => millilitresOf(offer),
  chosen: ({ isChosen }) => Number(isChosen),
  present_worth: ({ offer }) => offer.life.presentWorth,
  remaining_loss: ({ offer }) => wholeCents(offer.after.money?.remaining.best),
  loss_avoided: ({ offer }) => wholeCents(offer.after.money?.avoided.best),
  infiltration_removed: ({ offer }) => offer.after.infiltrationRemoved?.best ?? null,
  life_years: ({ offer }) => offer.life.years,
  may_be_scheduled: ({ offer }) => mayBe(offer.permission),
  ...ofEachCrew(crewKinds, visitMinutesKey, ({ offer }, crew) => visitOf(offer, crew)?.whole),
  // Crews with several sets overlap visits; others are needed all the time.
  ...ofEachCrew(
    crewKinds.filter((crew) => crews[crew].sets > 1),
    (crew) => visitKeys(crew).handsOn,
    ({ offer }, crew) => visitOf(offer, crew)?.handsOn,
  ),
});

const ofEachCrew = (
  crews: readonly CrewKind[],
  keyOf: (crew: CrewKind) => string,
  minutesOf: (item: ListedOffer, crew: CrewKind) => number | undefined,
): Cells<ListedOffer> =>
  Object.fromEntries(crews.map((crew) => [keyOf(crew), (item) => minutesOf(item, crew) ?? NO_VISIT]));

const NO_VISIT = 0;

/** Of them, those that the breakdown of the totals reads. */
export const offerCellsOfTotals: ReadonlySet<string> = new Set(["loss_avoided", "infiltration_removed"]);

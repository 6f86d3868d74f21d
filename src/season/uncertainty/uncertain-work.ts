import { crewKinds, type TreatmentKind } from "../../columns/plan-columns.ts";
import { lengthHundredths } from "../../plan/bid-lines.ts";
import { planLateral } from "../../plan/plan-lateral.ts";
import { stated } from "../../plan/stated.ts";
import { metres } from "../../quantity/si.ts";
import type { Basis } from "../../reference/basis.ts";
import type { BidItemKey } from "../../reference/bid-items.ts";
import type { ChangeOnOpening, Uncertainty } from "../../reference/uncertainty.ts";
import { numberAt, numbersOf, textAt } from "../../sheet/table.ts";
import { asBudgetCounts, countedOffer } from "../budget-counts.ts";
import { lateralAt } from "../lateral-at.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { workSoFar } from "../selection/held-laterals.ts";
import { isOpen, isVisitOver, standingAt } from "../tracking.ts";
import { visitKeys } from "../visit-keys.ts";

/** One lateral's work as the draws take it: cents by class of prices, minutes, and what it may turn out to be. */
export interface UncertainLateral {
  /** Place of its district in the list. */
  readonly district: number;
  /** Place among all laterals by id: its own draws are the same in whatever order the rows are. */
  readonly place: number;
  readonly minutes: number;
  readonly cost: readonly CostPart[];
  readonly change: {
    readonly chance: number;
    readonly minutes: number;
    readonly cost: readonly CostPart[];
  } | null;
}

/**
 * Cents of one class of prices: `fixed + byLength·f + beyond·max(0, length·f − included)`, f what is found over what is planned.
 * The last is what a liner longer than its base price is paid for; a liner within it may turn out longer.
 */
export interface CostPart {
  /** Place of the class in the list. */
  readonly priceClass: number;
  readonly fixed: number;
  readonly byLength: number;
  readonly beyond: {
    readonly centsPerUnit: number;
    readonly length: number;
    readonly included: number;
  } | null;
}

/** The work of a program that may still turn out otherwise, and what is certain beside it. */
export interface UncertainWork {
  /** "" is the laterals the city puts in no district. */
  readonly districts: readonly string[];
  readonly priceClasses: readonly string[];
  readonly laterals: readonly UncertainLateral[];
  /** Cents that are spent, by district: on laterals done, refused, held back or begun. Certain. */
  readonly held: readonly number[];
  /** Planned cents and minutes of the laterals, by district, without what is done and what is spent. */
  readonly plannedCost: readonly number[];
  readonly plannedMinutes: readonly number[];
  readonly left: {
    /** Laterals without a price: their cost is in no draw. */
    readonly withoutPrice: number;
    /** Laterals whose treatment may change to one that nothing that they can be priced for: they stay as planned. */
    readonly cannotChange: number;
    readonly done: number;
    /** Laterals under way, whether anything is spent on them or not. */
    readonly begun: number;
    readonly refused: number;
    /** Where a cross-bore was found that is not made safe: no work is certain to come, and none is drawn. */
    readonly heldBack: number;
  };
}

/**
 * What is uncertain of a planned program: its planned treatments, less what is done, refused or held back. Of a lateral whose work has begun it is what
 * is still to be spent and to be visited (see takeOffBegun): the season tells the same budget. Where that pays the city's share alone, each
 * lateral's drawn cost is the same share as of its planned one.
 */
export function uncertainWork(whole: PlannedProgram): UncertainWork {
  const program = asBudgetCounts(whole);
  const { laterals, basis } = program;
  const { uncertainty } = basis;
  const rows = Array.from({ length: laterals.rows }, (_, row) => row);
  const names = rows.map((row) => textAt(laterals, "district", row));
  const districts = [...new Set(names)].sort((a, b) => (a < b ? -1 : 1));
  const places = placesById(rows.map((row) => textAt(laterals, "lateral", row)));
  const priceClasses = [...Object.keys(uncertainty.price.classes), OTHER_WORK];
  const costs = costsByRow(program, priceClasses);
  const others = otherOffers(program, uncertainty);
  const wholeCost = numbersOf(whole.laterals, "cost");
  const spentOn = new Map(workSoFar(whole).begun.map(({ lateral, spent }) => [lateral, spent]));
  const zeros = () => districts.map(() => 0);
  const [held, plannedCost, plannedMinutes] = [zeros(), zeros(), zeros()];
  const left = { withoutPrice: 0, cannotChange: 0, done: 0, begun: 0, refused: 0, heldBack: 0 };
  const work: UncertainLateral[] = [];
  for (const row of rows) {
    const district = districts.indexOf(names[row]!);
    // By what was entered: where the budget counts nothing of it, the work has begun all the same.
    const standing = standingAt(whole.laterals, row);
    const planned = numberAt(laterals, "cost", row);
    const spent = numberAt(laterals, "installed_cost", row);
    if (standing === "refused" || standing === "held back") {
      left[standing === "refused" ? "refused" : "heldBack"]++;
      if (!Number.isNaN(spent)) held[district]! += spent;
      continue;
    }
    if (standing === "done") {
      left.done++;
      const cost = Number.isNaN(spent) ? planned : spent;
      if (Number.isNaN(cost)) left.withoutPrice++;
      else held[district]! += cost;
      continue;
    }
    const already = spentOn.get(row) ?? 0;
    const toSpend = Math.max(0, planned - already);
    const minutes = numberAt(laterals, "crew_minutes", row) - minutesOver(program, row);
    held[district]! += already;
    if (standing === "under way") left.begun++;
    if (Number.isNaN(planned)) left.withoutPrice++;
    else plannedCost[district]! += toSpend;
    plannedMinutes[district]! += minutes;
    const rule = uncertainty.changes.on[textAt(laterals, "treatment", row) as TreatmentKind];
    const other = others.get(row);
    if (rule !== undefined && other === undefined) left.cannotChange++;
    if (minutes === 0 && planned === 0) continue;
    work.push({
      district,
      place: places[row]!,
      minutes,
      cost: Number.isNaN(planned) ? [] : partOf(costs[row]!, planned === 0 ? 0 : toSpend / wholeCost[row]!),
      change:
        rule === undefined || other === undefined || Number.isNaN(planned)
          ? null
          : {
              chance: rule.chance,
              minutes: other.minutes,
              cost: [changedCost(rule, Math.max(0, other.cost - already), priceClasses)],
            },
    });
  }
  return { districts, priceClasses, laterals: work, held, plannedCost, plannedMinutes, left };
}

/** Minutes of visits that are over, at a lateral whose work has begun. */
const minutesOver = ({ laterals, materials }: PlannedProgram, row: number): number =>
  crewKinds
    .filter((crew) => isVisitOver(laterals, row, crew))
    .reduce((sum, crew) => sum + numberAt(materials, visitKeys(crew).whole, row), 0);

/** The part of a cost that is still to be spent: as uncertain as the whole was. */
const partOf = (parts: readonly CostPart[], part: number): readonly CostPart[] =>
  part === 1
    ? parts
    : parts.map(({ priceClass, fixed, byLength, beyond }) => ({
        priceClass,
        fixed: part * fixed,
        byLength: part * byLength,
        beyond: beyond === null ? null : { ...beyond, centsPerUnit: part * beyond.centsPerUnit },
      }));

const changedCost = (rule: ChangeOnOpening, cost: number, classes: readonly string[]): CostPart => ({
  priceClass: classes.indexOf(rule.prices),
  fixed: rule.byLength ? 0 : cost,
  byLength: rule.byLength ? cost : 0,
  beyond: null,
});

/** Place of each row among the ids. */
function placesById(ids: readonly string[]): readonly number[] {
  const order = ids.map((_, row) => row).sort((a, b) => (ids[a]! < ids[b]! ? -1 : 1));
  const places: number[] = [];
  order.forEach((row, place) => {
    places[row] = place;
  });
  return places;
}

interface OtherOffer {
  readonly cost: number;
  readonly minutes: number;
}

/**
 * The priced offer of what each lateral's treatment may turn out to be: among its offers, or where it is not offered for what the
 * survey saw, as the plan would offer it for the grade that opening finds.
 */
function otherOffers(program: PlannedProgram, { changes }: Uncertainty): ReadonlyMap<number, OtherOffer> {
  const { laterals, offers, tables, basis } = program;
  const ruleAt = (row: number) => changes.on[textAt(laterals, "treatment", row) as TreatmentKind];
  const found = new Map<number, OtherOffer>();
  for (let at = 0; at < offers.rows; at++) {
    const row = numberAt(offers, "lateral_row", at);
    const cost = numberAt(offers, "cost", at);
    if (textAt(offers, "treatment", at) !== ruleAt(row)?.to || Number.isNaN(cost)) continue;
    found.set(row, { cost, minutes: numberAt(offers, "crew_minutes", at) });
  }
  for (let row = 0; row < laterals.rows; row++) {
    const rule = ruleAt(row);
    if (rule === undefined || found.has(row) || !isOpen(standingAt(laterals, row))) continue;
    const lateral = lateralAt(tables, row);
    const structuralGrade = stated(rule.foundGrade, "assumed", "found on opening");
    const opened = planLateral({ ...lateral, decided: { ...lateral.decided, structuralGrade } }, basis);
    const other = opened.offers.find(({ treatment }) => treatment === rule.to);
    if (other === undefined) continue;
    const cost = countedOffer(other, basis.budgetPays);
    if (cost !== null) found.set(row, { cost, minutes: other.crewTime.total });
  }
  return found;
}

/** The class whose prices move together that an item belongs to; items named by no class are other work. */
const priceClassOf = ({ price }: Uncertainty, item: string): string =>
  Object.entries(price.classes).find(([, items]) => (items as readonly string[]).includes(item))?.[0] ??
  OTHER_WORK;

const OTHER_WORK = "other work";

/** Items with an included length, each with the item that pays what is beyond it. */
const beyondOf: ReadonlyMap<string, BidItemKey> = new Map<BidItemKey, BidItemKey>([
  ["full-length liner", "additional liner length"],
  ["one-piece liner", "additional one-piece length"],
]);
const paysBeyond: ReadonlySet<string> = new Set(beyondOf.values());

/** Each lateral's bid lines as parts of its cost, by class of prices. */
function costsByRow(program: PlannedProgram, classes: readonly string[]): readonly (readonly CostPart[])[] {
  const { laterals, lines, basis } = program;
  const units = new Map(basis.bidItems.items.map(({ key, unit }) => [key as string, unit]));
  const costs = Array.from({ length: laterals.rows }, () => new Map<number, CostPart>());
  for (let at = 0; at < lines.rows; at++) {
    const row = numberAt(lines, "lateral_row", at);
    const [item = "", variant = ""] = textAt(lines, "line", at).split(" | ");
    const cents = numberAt(lines, "extension", at);
    if (Number.isNaN(cents)) continue;
    const priceClass = classes.indexOf(priceClassOf(basis.uncertainty, item));
    const part = costs[row]!.get(priceClass) ?? { priceClass, fixed: 0, byLength: 0, beyond: null };
    const unit = units.get(item);
    const beyond = beyondOf.get(item);
    costs[row]!.set(priceClass, {
      ...part,
      // Paid beyond the included length: reckoned from the length itself, below.
      ...(paysBeyond.has(item)
        ? {}
        : unit === "length" || unit === "area"
          ? { byLength: part.byLength + cents }
          : { fixed: part.fixed + cents }),
      ...(beyond === undefined
        ? {}
        : { beyond: beyondIncluded(numberAt(laterals, "host_length", row), beyond, variant, basis) }),
    });
  }
  return costs.map((parts) => [...parts.values()]);
}

/** In the bid's unit of length. Null where nobody prices the additional length or nobody knows it. */
function beyondIncluded(
  hostLength: number,
  item: BidItemKey,
  variant: string,
  basis: Basis,
): CostPart["beyond"] {
  const { prices, bidItems, program } = basis;
  // Length is paid by the lateral's diameter alone.
  const [diameter = ""] = variant.split(", ");
  const price = prices[`${item} | ${diameter}`] ?? prices[item];
  if (price === undefined || Number.isNaN(hostLength)) return null;
  return {
    centsPerUnit: price,
    length: lengthHundredths(metres(hostLength), program.units) / 100,
    included: bidItems.includedLength[program.units],
  };
}

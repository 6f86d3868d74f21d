import { type CrewKind, crewKinds, type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import { lengthHundredths } from "../plan/bid-lines.ts";
import type { Cents } from "../quantity/si.ts";
import { cents, metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { numberAt, numbersOf, type Table, textAt } from "../sheet/table.ts";
import type { PlannedSheet } from "./plan-sheet.ts";
import { visitKeys } from "./visit-keys.ts";

/**
 * What a district, or the whole program, comes to. Every figure is a whole number (hundredths, millilitres, minutes,
 * cents), so districts add up to the program exactly.
 */
export interface Totals {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  laterals: number;
  readonly byTreatment: Record<TreatmentKind, number>;
  /** Hundredths of the bid length unit of liner in the host, by stocked diameter in mm. Full-length and sectional. */
  readonly linerLengthByDiameter: Map<number, number>;
  /** Liners by stocked wall in mm; each section counts. */
  readonly linersByWall: Map<number, number>;
  resinMillilitres: number;
  connectionLiners: number;
  endSeals: number;
  crewMinutes: number;
  crewDayHundredths: number;
  /** The same by kind of crew. */
  readonly crewDayHundredthsByCrew: Record<CrewKind, number>;
  /** Laterals whose treatment has an item without a price; they are not in the cost. */
  unpriced: number;
  cost: Cents;
  /** What the city and the other owners pay of it; the rest is `undivided`, of laterals whose owners are not stated. */
  cityCost: Cents;
  ownerCost: Cents;
  undivided: Cents;
  /** Laterals by whether their work may be put on a calendar. */
  readonly schedule: { may: number; mayNot: number; notKnown: number };
  /** Hundredths of each bid line, by bidLineKey. */
  readonly bidLines: Map<string, number>;
}

export interface ProgramTotals {
  /** In the order of the district names. */
  readonly districts: readonly Totals[];
  readonly program: Totals;
}

/** Totals per district and of the program, from the planned sheet. */
export function totalByDistrict(
  { laterals, lines, materials, seconds }: PlannedSheet,
  basis: Basis,
): ProgramTotals {
  const districts = new Map<string, Totals>();
  const program = noTotals("");
  const both: Totals[] = [program, program];
  const totalsOf = (row: number): readonly Totals[] => {
    const name = textAt(laterals, "district", row);
    let totals = districts.get(name);
    if (totals === undefined) {
      totals = noTotals(name);
      districts.set(name, totals);
    }
    both[1] = totals;
    return both;
  };

  const summed = openSummed(laterals, materials);
  for (let row = 0; row < laterals.rows; row++) addLateral(totalsOf(row), summed, row, basis);
  const ofLine = { row: numbersOf(lines, "lateral_row"), hundredths: numbersOf(lines, "hundredths") };
  for (let at = 0; at < lines.rows; at++) {
    const key = textAt(lines, "line", at);
    for (const totals of totalsOf(ofLine.row[at]!)) add(totals.bidLines, key, ofLine.hundredths[at]!);
  }
  for (let at = 0; at < seconds.rows; at++)
    for (const totals of totalsOf(numberAt(seconds, "lateral_row", at))) addSecond(totals, seconds, at);
  const names = [...districts.keys()].sort((a, b) => (a < b ? -1 : 1));
  return { districts: names.map((name) => districts.get(name)!), program };
}

/**
 * Totals after some laterals have changed: without what they added before, with what they add now. Every figure is a
 * whole number, so this is exact however often it is done.
 */
export function movedTotals(
  totals: ProgramTotals,
  before: ProgramTotals,
  after: ProgramTotals,
): ProgramTotals {
  const find = ({ districts }: ProgramTotals, name: string) =>
    districts.find(({ district }) => district === name) ?? noTotals(name);
  return {
    districts: totals.districts.map((each) =>
      added(added(each, find(before, each.district), -1), find(after, each.district), 1),
    ),
    program: added(added(totals.program, before.program, -1), after.program, 1),
  };
}

/** Figure by figure. An entry of a map that comes to nothing is as if it had never been. */
function added(to: Totals, more: Totals, sign: 1 | -1): Totals {
  const sum = (a: unknown, b: unknown): unknown => {
    if (typeof a === "number" && typeof b === "number") return a + sign * b;
    if (a instanceof Map && b instanceof Map) {
      const both = new Map<unknown, unknown>(a);
      for (const [key, value] of b) {
        const now = sum(both.get(key) ?? 0, value);
        if (now === 0) both.delete(key);
        else both.set(key, now);
      }
      return both;
    }
    if (typeof a === "object" && a !== null && typeof b === "object" && b !== null)
      return Object.fromEntries(
        Object.entries(a).map(([key, value]) => [key, sum(value, (b as Record<string, unknown>)[key])]),
      );
    if (a === b) return a;
    throw new RangeError(`movedTotals: ${String(a)} and ${String(b)} cannot be added`);
  };
  return { ...(sum({ ...to, district: "" }, { ...more, district: "" }) as Totals), district: to.district };
}

/** The columns that are summed, found once: cell by cell they took half of the time of all that follows a plan. */
const openSummed = (laterals: Table, materials: Table) => ({
  laterals,
  cost: numbersOf(laterals, "cost"),
  wall: numbersOf(laterals, "wall"),
  length: numbersOf(laterals, "liner_length"),
  city: numbersOf(laterals, "city_cost"),
  owner: numbersOf(laterals, "owner_cost"),
  may: numbersOf(laterals, "may_be_scheduled"),
  crewMinutes: numbersOf(laterals, "crew_minutes"),
  diameter: numbersOf(materials, "nominal_diameter"),
  crewDays: numbersOf(materials, "crew_day_hundredths"),
  crewDaysBy: crewKinds.map((crew) => ({
    crew,
    days: numbersOf(materials, visitKeys(crew).crewDayHundredths),
  })),
  resin: numbersOf(materials, "resin_ml"),
  endSeals: numbersOf(materials, "end_seals"),
  liners: numbersOf(materials, "liners"),
});

function addLateral(
  into: readonly Totals[],
  summed: ReturnType<typeof openSummed>,
  row: number,
  basis: Basis,
): void {
  const treatment = textAt(summed.laterals, "treatment", row) as TreatmentKind;
  const cost = summed.cost[row]!;
  const wall = summed.wall[row]!;
  const length = summed.length[row]!;
  const city = summed.city[row]!;
  const may = summed.may[row]!;
  const diameter = summed.diameter[row]!;
  for (const totals of into) {
    totals.laterals++;
    totals.byTreatment[treatment]++;
    totals.crewMinutes += summed.crewMinutes[row]!;
    totals.crewDayHundredths += summed.crewDays[row]!;
    for (const { crew, days } of summed.crewDaysBy) totals.crewDayHundredthsByCrew[crew] += days[row]!;
    totals.resinMillilitres += summed.resin[row]!;
    totals.endSeals += summed.endSeals[row]!;
    if (treatment === "connection liner") totals.connectionLiners++;
    else if (!Number.isNaN(length)) {
      add(totals.linerLengthByDiameter, diameter, lengthHundredths(metres(length), basis.program.units));
    }
    if (!Number.isNaN(wall)) add(totals.linersByWall, wall, summed.liners[row]!);
    if (Number.isNaN(cost)) totals.unpriced++;
    else {
      totals.cost = cents(totals.cost + cost);
      if (Number.isNaN(city)) totals.undivided = cents(totals.undivided + cost);
      else {
        totals.cityCost = cents(totals.cityCost + city);
        totals.ownerCost = cents(totals.ownerCost + summed.owner[row]!);
      }
    }
    totals.schedule[Number.isNaN(may) ? "notKnown" : may === 1 ? "may" : "mayNot"]++;
  }
}

/** The second liner of a combination is at the connection. */
function addSecond(totals: Totals, seconds: Table, at: number): void {
  totals.resinMillilitres += numberAt(seconds, "resin_ml", at);
  totals.endSeals += numberAt(seconds, "end_seals", at);
  totals.connectionLiners++;
  add(totals.linersByWall, numberAt(seconds, "wall", at), 1);
}

const add = <Key>(into: Map<Key, number>, key: Key, amount: number): void => {
  into.set(key, (into.get(key) ?? 0) + amount);
};

function noTotals(district: string): Totals {
  return {
    district,
    laterals: 0,
    byTreatment: Object.fromEntries(treatmentKinds.map((kind) => [kind, 0])) as Record<TreatmentKind, number>,
    linerLengthByDiameter: new Map(),
    linersByWall: new Map(),
    resinMillilitres: 0,
    connectionLiners: 0,
    endSeals: 0,
    crewMinutes: 0,
    crewDayHundredths: 0,
    crewDayHundredthsByCrew: Object.fromEntries(crewKinds.map((crew) => [crew, 0])) as Record<
      CrewKind,
      number
    >,
    unpriced: 0,
    cost: cents(0),
    cityCost: cents(0),
    ownerCost: cents(0),
    undivided: cents(0),
    schedule: { may: 0, mayNot: 0, notKnown: 0 },
    bidLines: new Map(),
  };
}

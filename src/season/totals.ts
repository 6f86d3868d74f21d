import { type CrewKind, crewKinds, type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import { lengthHundredths } from "../plan/bid-lines.ts";
import type { Cents } from "../quantity/si.ts";
import { cents, metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { type CodeColumn, numbersOf, type Table } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";
import { PairSums } from "./pair-sums.ts";
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
  /** Liners by stocked wall in the lateral, in mm; each section counts. */
  readonly linersByWall: Map<number, number>;
  resinMillilitres: number;
  connectionLiners: number;
  endSeals: number;
  crewMinutes: number;
  /** The same by kind of crew. */
  readonly crewMinutesByCrew: Record<CrewKind, number>;
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

/** What the laterals come to without their bid lines and second liners, by code of the district. Data only, so that another thread can sum them. */
export type DistrictSums = readonly (Totals | undefined)[];

/** @param laterals the plan's columns, with the city's or without */
export function sumLaterals(
  laterals: Table,
  materials: Table,
  { codes, words }: CodeColumn,
  basis: SummingBasis,
): DistrictSums {
  const summed = openSummed(laterals, materials);
  /** Of the districts with a lateral. */
  const sums: Totals[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    const code = codes[row]!;
    sums[code] ??= noTotals(words[code]!);
    addLateral(sums[code], summed, row, basis);
  }
  for (const { crew, minutes } of summed.minutesBy) {
    const ofCrew = sumByCode(codes, minutes, words.length);
    sums.forEach(({ crewMinutesByCrew }, code) => {
      crewMinutesByCrew[crew] = ofCrew[code]!;
    });
  }
  return sums;
}

type SummingBasis = Pick<Basis, "program">;

/** Totals per district and of the program, from the planned sheet. */
export function totalByDistrict(sheet: PlannedSheet, basis: Basis): ProgramTotals {
  const { laterals, materials } = sheet;
  const districts = wordCodesOf(laterals, "district");
  return finishTotals(sumLaterals(laterals, materials, districts, basis), sheet);
}

/** The totals of summed laterals: with their bid lines and second liners, in order, and of the program. */
export function finishTotals(
  sums: DistrictSums,
  { laterals, lines, seconds }: Pick<PlannedSheet, "laterals" | "lines" | "seconds">,
): ProgramTotals {
  const { codes } = wordCodesOf(laterals, "district");
  // Of the program: bid lines are put there in the order they are first met; all else is the sum of the districts.
  const met = noTotals("");
  const ofLine = wordCodesOf(lines, "line");
  for (const [code, line, hundredths] of sumLines(lines, codes)) {
    const name = ofLine.words[line]!;
    add(sums[code]!.bidLines, name, hundredths);
    if (!met.bidLines.has(name)) met.bidLines.set(name, 0);
  }
  addSeconds((row) => sums[codes[row]!]!, seconds);
  const inOrder = Object.values(sums)
    .flatMap((totals) => (totals === undefined ? [] : bySize(totals)))
    .sort((a, b) => (a.district < b.district ? -1 : 1));
  return {
    districts: inOrder,
    program: bySize(inOrder.reduce((sum, each) => added(sum, each, 1), met)),
  };
}

/** Diameters and walls in order, the smaller before. */
const bySize = (totals: Totals): Totals => ({
  ...totals,
  linerLengthByDiameter: new Map([...totals.linerLengthByDiameter].sort(([a], [b]) => a - b)),
  linersByWall: new Map([...totals.linersByWall].sort(([a], [b]) => a - b)),
});

function sumLines(lines: Table, codes: Uint32Array): PairSums {
  const rows = numbersOf(lines, "lateral_row");
  const line = wordCodesOf(lines, "line");
  const hundredths = numbersOf(lines, "hundredths");
  const sums = new PairSums();
  for (let at = 0; at < lines.rows; at++) sums.add(codes[rows[at]!]!, line.codes[at]!, hundredths[at]!);
  return sums;
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

/** Figure by figure. An entry of a map of which nothing is left is as if it had never been. */
function added(to: Totals, more: Totals, sign: 1 | -1): Totals {
  const sum = (a: unknown, b: unknown): unknown => {
    if (typeof a === "number" && typeof b === "number") return a + sign * b;
    if (a instanceof Map && b instanceof Map) {
      const both = new Map<unknown, unknown>(a);
      for (const [key, value] of b) {
        const now = sum(both.get(key) ?? 0, value);
        if (now === 0 && sign < 0) both.delete(key);
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
  treatment: wordCodesOf(laterals, "treatment"),
  cost: numbersOf(laterals, "cost"),
  wall: numbersOf(laterals, "wall"),
  length: numbersOf(laterals, "liner_length"),
  city: numbersOf(laterals, "city_cost"),
  owner: numbersOf(laterals, "owner_cost"),
  may: numbersOf(laterals, "may_be_scheduled"),
  crewMinutes: numbersOf(laterals, "crew_minutes"),
  diameter: numbersOf(materials, "nominal_diameter"),
  minutesBy: crewKinds.map((crew) => ({ crew, minutes: numbersOf(materials, visitKeys(crew).whole) })),
  resin: numbersOf(materials, "resin_ml"),
  endSeals: numbersOf(materials, "end_seals"),
  liners: numbersOf(materials, "liners"),
});

function addLateral(
  totals: Totals,
  summed: ReturnType<typeof openSummed>,
  row: number,
  basis: SummingBasis,
): void {
  const treatment = summed.treatment.words[summed.treatment.codes[row]!] as TreatmentKind;
  const cost = summed.cost[row]!;
  const wall = summed.wall[row]!;
  const length = summed.length[row]!;
  const city = summed.city[row]!;
  const may = summed.may[row]!;
  totals.laterals++;
  totals.byTreatment[treatment]++;
  totals.crewMinutes += summed.crewMinutes[row]!;
  totals.resinMillilitres += summed.resin[row]!;
  totals.endSeals += summed.endSeals[row]!;
  if (treatment === "connection liner") totals.connectionLiners++;
  if (!Number.isNaN(length)) {
    const hundredths = lengthHundredths(metres(length), basis.program.units);
    add(totals.linerLengthByDiameter, summed.diameter[row]!, hundredths);
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

/** The second liner of a combination is at the connection. */
function addSeconds(totalsOf: (row: number) => Totals, seconds: Table): void {
  const rows = numbersOf(seconds, "lateral_row");
  const resin = numbersOf(seconds, "resin_ml");
  const endSeals = numbersOf(seconds, "end_seals");
  const wall = numbersOf(seconds, "wall");
  for (let at = 0; at < seconds.rows; at++) {
    const totals = totalsOf(rows[at]!);
    totals.resinMillilitres += resin[at]!;
    totals.endSeals += endSeals[at]!;
    totals.connectionLiners++;
    add(totals.linersByWall, wall[at]!, 1);
  }
}

function sumByCode(codes: Uint32Array, values: Float64Array, words: number): Float64Array {
  const sums = new Float64Array(words);
  for (let row = 0; row < codes.length; row++) sums[codes[row]!]! += values[row]!;
  return sums;
}

function add<Key>(into: Map<Key, number>, key: Key, amount: number): void {
  into.set(key, (into.get(key) ?? 0) + amount);
}

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
    crewMinutesByCrew: Object.fromEntries(crewKinds.map((crew) => [crew, 0])) as Record<CrewKind, number>,
    unpriced: 0,
    cost: cents(0),
    cityCost: cents(0),
    ownerCost: cents(0),
    undivided: cents(0),
    schedule: { may: 0, mayNot: 0, notKnown: 0 },
    bidLines: new Map(),
  };
}

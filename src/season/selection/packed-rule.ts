import type { CrewKind } from "../../columns/plan-columns.ts";
import { paceOf } from "../../engineering/crew-cycle.ts";
import { type Day, day, minutes } from "../../quantity/si.ts";
import type { SeasonCalendar, SeasonDays } from "../../reference/season-days.ts";
import { planCalendar } from "../calendar.ts";
import { type CrewWork, type DistrictWork, type Drive, laterOf, packCrew } from "../day-packing.ts";
import { EXPECTED } from "../work-days.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/**
 * What it takes to pack the visits of a choice into crew-days: flat arrays and plain data, so that it goes to a thread. Lists by
 * crew are in the order of the problem's minutes.
 */
export interface PackedRule {
  readonly crews: readonly CrewKind[];
  /** Whole crew-days each kind has, mobilisation counted in; Infinity where nobody limits it. */
  readonly crewDays: readonly number[];
  /** Minutes of each offer's visit, by crew; 0 where the crew does not come. */
  readonly whole: readonly Float64Array[];
  readonly handsOn: readonly Float64Array[];
  readonly shift: number;
  /** Inflation sets each kind of crew has people for. */
  readonly sets: readonly number[];
  readonly drive: Drive;
  /** By lateral, in the city's own unit; NaN where not known. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly mobilisationDays: number;
  /** Of the search for fewer days, see packBins; undefined is that of the calendar. */
  readonly effort?: number | undefined;
  readonly districtNames: readonly string[];
  /** By offer: the day until which its work waits for the main; NaN where it does not. */
  readonly notBefore: Float64Array;
  /** Visits that are over, of laterals done or begun: their days are gone, and no visit of the rest is dated before them. */
  readonly done: readonly DoneVisits[];
  /** Dates the work has to end by, in the expected weather; null where the program has none. */
  readonly dates: { readonly calendar: SeasonCalendar; readonly table: SeasonDays } | null;
}

/** What the crews have done at a lateral, by crew. */
export interface DoneVisits {
  readonly lateral: number;
  readonly whole: readonly number[];
  readonly handsOn: readonly number[];
}

/** A choice as its crews work it, by crew; crew-days are whole. */
export interface PackedDays {
  readonly packed: readonly number[];
  /** One crew's days of mobilisation for each district it works in. */
  readonly mobilized: readonly number[];
  /** Crew-days not done when the season ends. */
  readonly late: readonly number[];
  /** Work by district of the problem; what is done is in it. */
  readonly work: readonly (readonly CrewWork[])[];
}

/** From so many visits on, a crew's tour through a district is not looked for on every trial. */
const LONG_TOUR = 100;

/**
 * Packs a choice as the calendar does.
 *
 * @param known work of districts that have not changed since
 * @param before work of all districts before a small change: of many visits the way is taken from there, which is a guess
 */
export function packChosen(
  problem: SelectionProblem,
  rule: PackedRule,
  chosen: Chosen,
  known: readonly (readonly CrewWork[] | null)[] = [],
  before: readonly (readonly CrewWork[])[] = [],
): PackedDays {
  const members: number[][] = Array.from({ length: problem.districts }, () => []);
  const done = new Map(rule.done.map((each) => [each.lateral, each]));
  for (let l = 0; l < lateralsOf(problem); l++)
    if (chosen[l]! >= 0 || done.has(l)) members[problem.district[l]!]!.push(l);
  const packAll = (isDoneIn: boolean) =>
    members.map((laterals, d) => {
      const ready = known[d];
      if (ready != null && (isDoneIn || rule.done.length === 0)) return ready;
      const minutesOf = (l: number, crew: number, of: "whole" | "handsOn"): number => {
        const j = chosen[l]!;
        // Of one that has begun, no offer has a visit that is over.
        return (j < 0 ? 0 : rule[of][crew]![j]!) + ((isDoneIn && done.get(l)?.[of][crew]) || 0);
      };
      return packDistrict(
        rule,
        laterals,
        (l, crew) => ({ whole: minutesOf(l, crew, "whole"), handsOn: minutesOf(l, crew, "handsOn") }),
        before[d],
      );
    });
  const work = packAll(true);
  const sum = (of: (each: CrewWork) => number) =>
    rule.crews.map((crew) =>
      work.flat().reduce((total, each) => total + (each.crew === crew ? of(each) : 0), 0),
    );
  return {
    work,
    packed: sum(({ crewDays }) => crewDays),
    mobilized: sum(() => rule.mobilisationDays),
    late: lateDays(
      rule,
      rule.dates === null || rule.done.length === 0 ? work : packAll(false),
      waitsOf(problem, rule, chosen),
    ),
  };
}

/** For packing on trial: a short search never finds fewer days than that of the calendar, so what fits by it fits. */
export const onTrial = (rule: PackedRule): PackedRule => ({ ...rule, effort: 20_000 });

/** Crew-days over what there is, by crew: over the crew-days, or not done by the last day. All 0: it fits. */
export const excessOf = ({ crewDays }: PackedRule, { packed, mobilized, late }: PackedDays): number[] =>
  crewDays.map((has, crew) => Math.max(0, packed[crew]! + mobilized[crew]! - has, late[crew]!));

function packDistrict(
  rule: PackedRule,
  laterals: readonly number[],
  timeOf: (lateral: number, crew: number) => { readonly whole: number; readonly handsOn: number },
  before: readonly CrewWork[] = [],
): readonly CrewWork[] {
  return rule.crews.flatMap((crew, c) => {
    const visits = laterals
      .map((row) => {
        const { whole, handsOn } = timeOf(row, c);
        return { row, whole: minutes(whole), handsOn: minutes(handsOn) };
      })
      .filter(({ whole }) => whole > 0);
    if (visits.length === 0) return [];
    const guess = before.find((each) => each.crew === crew);
    const places = visits.map(({ row }) => [rule.x[row]!, rule.y[row]!] as const);
    return [
      packCrew(crew, visits, places, {
        shift: minutes(rule.shift),
        sets: rule.sets[c]!,
        effort: rule.effort,
        known: guess !== undefined && guess.visits >= LONG_TOUR ? guess : undefined,
        ...rule.drive,
      }),
    ];
  });
}

/** The day until which each district waits for the mains of what is chosen in it. */
function waitsOf(
  problem: SelectionProblem,
  { notBefore }: PackedRule,
  chosen: Chosen,
): readonly (Day | null)[] {
  const waits = new Array<Day | null>(problem.districts).fill(null);
  for (const [l, j] of chosen.entries()) {
    if (j < 0 || Number.isNaN(notBefore[j]!)) continue;
    waits[problem.district[l]!] = laterOf(waits[problem.district[l]!]!, day(notBefore[j]!));
  }
  return waits;
}

function lateDays(
  { crews, dates, districtNames }: PackedRule,
  work: PackedDays["work"],
  waits: readonly (Day | null)[],
): readonly number[] {
  if (dates === null) return crews.map(() => 0);
  const districts = work.flatMap((own, d): DistrictWork[] =>
    own.length === 0 ? [] : [{ district: districtNames[d]!, crews: own, notBefore: waits[d]! }],
  );
  const spans = planCalendar(districts, dates.calendar, dates.table, EXPECTED).districts.flatMap(
    (each) => each.crews,
  );
  return crews.map((crew) => spans.reduce((sum, span) => sum + (span.crew === crew ? span.left : 0), 0));
}

/** The pace of an offer's visit in minutes, which every packing spends on it at the least. */
export const paceAt = (rule: PackedRule, crew: number, whole: number, handsOn: number): number =>
  whole === 0 ? 0 : paceOf({ whole: minutes(whole), handsOn: minutes(handsOn) }, rule.sets[crew]!);

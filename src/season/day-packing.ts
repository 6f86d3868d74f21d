import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { packBins } from "../engineering/bin-packing.ts";
import { paceOf, tailOf, type VisitTime } from "../engineering/crew-cycle.ts";
import { findTour, tourLength } from "../engineering/tour.ts";
import { type Day, day, type Minutes, minutes } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { SeasonDays } from "../reference/season-days.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { waitForMain } from "./main-first.ts";
import { permissionEndAt, soonestFirst } from "./permission-ends.ts";
import type { PlannedSheet } from "./plan-sheet.ts";
import { visitKeys } from "./visit-keys.ts";

/** One visit of a crew to a lateral. */
export interface Visit extends VisitTime {
  /** Row of the lateral in the planned table. */
  readonly row: number;
}

/** What one crew does in a day, or over the days of one visit that is longer than a shift. */
export interface PackedDay {
  /** Rows of the laterals, in the order they are visited. */
  readonly rows: readonly number[];
  /** Crew-days it takes: 1, or the shifts of a long visit. */
  readonly days: number;
  /** The day on which the first of the owners' permissions ends; absent where none does. */
  readonly ends?: Day;
}

export interface PackedVisits {
  readonly days: readonly PackedDay[];
  readonly visits: number;
  /** Crew-days as packed. */
  readonly crewDays: number;
  /** No packing of these visits has fewer crew-days. */
  readonly lowerBound: number;
  readonly exact: boolean;
  /** Of the visits themselves: what it would take were they split over days and travel nothing. */
  readonly visitMinutes: number;
  /** Rows whose visit is longer than a shift. */
  readonly longVisits: readonly number[];
}

/**
 * Packs visits, in the order they are driven, into shifts of one crew.
 *
 *   a day holds visits while Σ (pace + travel) ≤ shift + travel − longest tail
 *
 * Pace and tail are those of engineering/crew-cycle.ts; one travel less than visits, because the day's first is driven to
 * before the productive shift. A visit longer than a shift is not split among others: it begins a day and takes
 * ⌈whole / shift⌉ days of its crew by itself. The bound is that of these rules.
 *
 * @param travel minutes from one lateral to the next
 */
export function packVisits(
  visits: readonly Visit[],
  crew: {
    readonly shift: Minutes;
    readonly sets: number;
    readonly travel: Minutes;
    readonly effort?: number | undefined;
  },
): PackedVisits {
  const { shift, sets, travel, effort } = crew;
  const long = visits.filter(({ whole }) => whole > shift);
  const short = visits.filter(({ whole }) => whole <= shift);
  const tail = Math.max(0, ...short.map((visit) => tailOf(visit, sets)));
  const room = Math.floor(shift + travel - tail);
  // One that fits a shift alone, but not beside the longest tail of the others, has a day of its own.
  const sizes = short.map((visit) => Math.max(1, Math.min(room, Math.ceil(paceOf(visit, sets) + travel))));
  const { bins, lowerBound, exact } = packBins(sizes, Math.max(1, room), effort);
  const longDays = long.map(({ row, whole }) => ({ rows: [row], days: Math.ceil(whole / shift) }));
  const extra = longDays.reduce((sum, { days }) => sum + days, 0);
  return {
    days: [
      ...longDays,
      ...bins.map((bin) => ({
        rows: [...bin].sort((a, b) => a - b).map((item) => short[item]!.row),
        days: 1,
      })),
    ],
    visits: visits.length,
    crewDays: bins.length + extra,
    lowerBound: lowerBound + extra,
    exact,
    visitMinutes: visits.reduce((sum, { whole }) => sum + whole, 0),
    longVisits: long.map(({ row }) => row),
  };
}

/** The work of one kind of crew in one district. */
export interface CrewWork extends PackedVisits {
  readonly crew: CrewKind;
  /** Minutes from one lateral to the next, as packed. */
  readonly travel: Minutes;
  /** Whether visits follow a tour through their coordinates; otherwise they are in the order of the city's list. */
  readonly byCoordinates: boolean;
}

export interface DistrictWork {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  readonly crews: readonly CrewWork[];
  /** The day until which the work waits for the last of its mains to be lined; null where it waits for none. */
  readonly notBefore: Day | null;
}

/** The later of two days to wait until. */
export const laterOf = (one: Day | null, other: Day | null): Day | null =>
  one === null ? other : other === null ? one : day(Math.max(one, other));

/**
 * Crew-days of each district: the visits of these laterals, ordered and packed, days before the end of a permission first.
 *
 * @param rows of the laterals to be worked on
 * @param sets inflation sets that a kind of crew has people for
 * @param isOver whether a crew has been there and comes no more
 */
export function packDistricts(
  { laterals, materials }: Pick<PlannedSheet, "laterals" | "materials">,
  rows: readonly number[],
  basis: Basis,
  sets: (crew: CrewKind) => number,
  isOver: (row: number, crew: CrewKind) => boolean = () => false,
): readonly DistrictWork[] {
  const byDistrict = new Map<string, number[]>();
  for (const row of rows) {
    const district = textAt(laterals, "district", row);
    const own = byDistrict.get(district);
    if (own === undefined) byDistrict.set(district, [row]);
    else own.push(row);
  }
  const shift = minutes(basis.steps.shiftMinutes);
  const mainDay = (row: number): Day | null => {
    const wait = waitForMain(laterals, row, textAt(laterals, "treatment", row), basis);
    return wait.kind === "until" ? wait.day : null;
  };
  const permissionEnd = (row: number) => permissionEndAt(laterals, row, textAt(laterals, "treatment", row));
  return [...byDistrict]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([district, own]) => ({
      district,
      notBefore: own.reduce((latest: Day | null, row) => laterOf(latest, mainDay(row)), null),
      crews: crewKinds.flatMap((crew): CrewWork[] => {
        const keys = visitKeys(crew);
        const visits = own
          .filter((row) => !isOver(row, crew))
          .map((row) => ({
            row,
            whole: minutes(numberAt(materials, keys.whole, row)),
            handsOn: minutes(numberAt(materials, keys.handsOn, row)),
          }))
          .filter(({ whole }) => whole > 0);
        if (visits.length === 0) return [];
        const places = visits.map(
          ({ row }) => [numberAt(laterals, "x", row), numberAt(laterals, "y", row)] as const,
        );
        const packed = packCrew(crew, visits, places, { shift, sets: sets(crew), ...driveOf(basis) });
        return [{ ...packed, days: soonestFirst(packed.days, permissionEnd) }];
      }),
    }));
}

/** What driving between visits takes, and the unit of their coordinates in m; null where the program does not say. */
export interface Drive {
  readonly betweenVisits: SeasonDays["betweenVisits"];
  readonly coordinateMetres: number | null;
}

export const driveOf = ({ seasonDays, calendar }: Pick<Basis, "seasonDays" | "calendar">): Drive => ({
  betweenVisits: seasonDays.betweenVisits,
  coordinateMetres: calendar?.coordinateMetres ?? null,
});

export type Place = readonly [x: number, y: number];

/** Orders and packs the visits of one kind of crew in one district. */
export function packCrew(
  crew: CrewKind,
  visits: readonly Visit[],
  places: readonly Place[],
  given: {
    readonly shift: Minutes;
    readonly sets: number;
    /** Of the search for fewer days; less of it never finds fewer. */
    readonly effort?: number | undefined;
    /** A way already known of about the same visits: then they are not ordered again. */
    readonly known?: Pick<CrewWork, "travel" | "byCoordinates"> | undefined;
  } & Drive,
): CrewWork {
  const { shift, sets, effort, known } = given;
  if (known !== undefined) {
    const { travel, byCoordinates } = known;
    return { crew, travel, byCoordinates, ...packVisits(visits, { shift, sets, travel, effort }) };
  }
  const { order, leg } = orderVisits(visits, places);
  const travel = travelBetween(leg, given);
  return { crew, travel, byCoordinates: leg !== null, ...packVisits(order, { shift, sets, travel, effort }) };
}

/** Visits along a tour, and its mean leg in the coordinates' own unit; as they come where one has no coordinates. */
function orderVisits(
  visits: readonly Visit[],
  places: readonly Place[],
): { readonly order: readonly Visit[]; readonly leg: number | null } {
  if (places.some(([x, y]) => Number.isNaN(x) || Number.isNaN(y))) return { order: visits, leg: null };
  const xs = Float64Array.from(places, ([x]) => x);
  const ys = Float64Array.from(places, ([, y]) => y);
  // Not Math.hypot: it takes ten times as long, and no city is so large or small that squares overflow or vanish.
  const distance = (a: number, b: number) => Math.sqrt((xs[a]! - xs[b]!) ** 2 + (ys[a]! - ys[b]!) ** 2);
  const tour = findTour(visits.length, distance);
  return {
    order: tour.map((place) => visits[place]!),
    leg: tourLength(tour, distance) / visits.length,
  };
}

/** Whole minutes from one lateral to the next: by the mean leg where its unit is known, else the stated average. */
function travelBetween(leg: number | null, { betweenVisits, coordinateMetres: unit }: Drive): Minutes {
  const { averageMinutes, parkMinutes, detour, kilometresPerHour } = betweenVisits;
  if (leg === null || unit === null) return minutes(averageMinutes);
  const METRES_PER_KILOMETRE = 1000;
  const MINUTES_PER_HOUR = 60;
  return minutes(
    Math.ceil(
      parkMinutes + ((leg * unit * detour) / (kilometresPerHour * METRES_PER_KILOMETRE)) * MINUTES_PER_HOUR,
    ),
  );
}

/** The least that {@link packCrew} ever takes for the way from one visit to the next. */
export const leastTravel = ({ betweenVisits, coordinateMetres }: Drive): number =>
  coordinateMetres === null
    ? betweenVisits.averageMinutes
    : Math.min(betweenVisits.averageMinutes, betweenVisits.parkMinutes);

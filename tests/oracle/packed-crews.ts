import { fewestBins } from "./fewest-bins.ts";
import { shortestByTrying } from "./shortest-tour.ts";

/** A small season of several crews: every choice is tried, every tour and every packing. */
export interface PlainCrewSeason {
  /** By lateral: its alternatives, each with whole and hands-on minutes of each crew's visit. */
  readonly laterals: readonly {
    readonly district: number;
    readonly x: number;
    readonly y: number;
    readonly offers: readonly PlainOffer[];
  }[];
  readonly money: number;
  readonly mobilization: readonly number[];
  readonly crews: readonly { readonly days: number; readonly sets: number }[];
  readonly shift: number;
  readonly mobilisationDays: number;
  /** Metres a unit of the coordinates; null: every way takes the average. */
  readonly metres: number | null;
  readonly average: number;
  readonly park: number;
  readonly kilometresPerHour: number;
  /** Laterals that are done with their first offer: no choice any more, their days are gone. */
  readonly done: readonly number[];
  readonly must: readonly number[];
  readonly needs: readonly (readonly [number, number])[];
}

export interface PlainOffer {
  readonly worth: number;
  readonly cost: number;
  readonly visits: readonly { readonly whole: number; readonly handsOn: number }[];
}

/** Days of one crew in one district, coming to it counted: 0 where it has no visit. */
function daysThere(s: PlainCrewSeason, crew: number, district: number, picked: readonly number[]): number {
  const here = s.laterals.flatMap(({ district: d, x, y, offers }, l) => {
    const k = s.done.includes(l) ? 0 : picked[l]!;
    if (d !== district || k < 0) return [];
    const { whole, handsOn } = offers[k]!.visits[crew]!;
    return whole > 0 ? [{ x, y, whole, handsOn }] : [];
  });
  if (here.length === 0) return 0;
  const { sets } = s.crews[crew]!;
  const isKnown = here.every(({ x, y }) => !Number.isNaN(x) && !Number.isNaN(y));
  const apart = (a: number, b: number) => Math.hypot(here[a]!.x - here[b]!.x, here[a]!.y - here[b]!.y);
  const way =
    s.metres === null || !isKnown
      ? s.average
      : Math.ceil(
          s.park +
            ((shortestByTrying(here.length, apart) / here.length) * s.metres) /
              ((s.kilometresPerHour * 1000) / 60),
        );
  const long = here.filter(({ whole }) => whole > s.shift);
  const short = here.filter(({ whole }) => whole <= s.shift);
  const pace = ({ whole, handsOn }: { whole: number; handsOn: number }) => Math.max(handsOn, whole / sets);
  const room = Math.floor(s.shift + way - Math.max(0, ...short.map((each) => each.whole - pace(each))));
  const sizes = short.map((each) => Math.max(1, Math.min(room, Math.ceil(pace(each) + way))));
  return (
    s.mobilisationDays +
    long.reduce((sum, { whole }) => sum + Math.ceil(whole / s.shift), 0) +
    (sizes.length === 0 ? 0 : fewestBins(sizes, room))
  );
}

/** The worth of a choice that keeps every rule, or null. @param more crew-days added to each crew */
export function packedWorth(
  s: PlainCrewSeason,
  picked: readonly number[],
  more: readonly number[] = s.crews.map(() => 0),
): number | null {
  const done = picked.flatMap((k, l) => (k < 0 ? [] : [{ l, ...s.laterals[l]!.offers[k]! }]));
  if (done.some(({ l }) => s.done.includes(l))) return null;
  const opened = new Set(done.map(({ l }) => s.laterals[l]!.district));
  const opening = [...opened].reduce((sum, d) => sum + s.mobilization[d]!, 0);
  if (done.reduce((sum, { cost }) => sum + cost, opening) > s.money) return null;
  if (s.must.some((l) => picked[l]! < 0)) return null;
  if (s.needs.some(([l, needed]) => picked[l]! >= 0 && picked[needed]! < 0)) return null;
  const districts = s.mobilization.map((_, d) => d);
  const fits = s.crews.every(
    ({ days }, crew) =>
      districts.reduce((sum, d) => sum + daysThere(s, crew, d, picked), 0) <= days + more[crew]!,
  );
  return fits ? done.reduce((sum, { worth }) => sum + worth, 0) : null;
}

/** The best worth of all choices, or null where none keeps the rules. */
export function bestOfCrews(s: PlainCrewSeason, more?: readonly number[]): number | null {
  let best: number | null = null;
  const picked: number[] = [];
  const go = (l: number): void => {
    if (l === s.laterals.length) {
      const worth = packedWorth(s, picked, more);
      if (worth !== null && (best === null || worth > best)) best = worth;
      return;
    }
    for (let k = -1; k < s.laterals[l]!.offers.length; k++) {
      picked[l] = k;
      go(l + 1);
    }
  };
  go(0);
  return best;
}

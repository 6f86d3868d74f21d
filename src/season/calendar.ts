import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { isoDate } from "../quantity/calendar.ts";
import { type Day, day } from "../quantity/si.ts";
import type { SeasonCalendar, SeasonDays } from "../reference/season-days.ts";
import type { DistrictWork, PackedDay } from "./day-packing.ts";
import { type Weather, workDays } from "./work-days.ts";

/** A packed day of a crew on the calendar. */
export interface DatedDay {
  /** Rows of the laterals, in the order they are visited. */
  readonly rows: readonly number[];
  readonly from: Day;
  /** The day it ends: another one where a visit takes several shifts; null when the season ends first. */
  readonly to: Day | null;
}

/** What one kind of crew does in one district, day by day. */
export interface CrewSpan {
  readonly crew: CrewKind;
  /** Days spent on mobilisation. */
  readonly mobilized: readonly Day[];
  /** Crews at work on each day on which any is. */
  readonly worked: ReadonlyMap<Day, number>;
  /** What is begun in the season, in the order it is begun. */
  readonly dated: readonly DatedDay[];
  /** The day the last visit ends; null when the season ends first. */
  readonly finish: Day | null;
  /** Crew-days not done when the season ends. */
  readonly left: number;
}

export interface DistrictSpan {
  readonly district: string;
  readonly crews: readonly CrewSpan[];
  readonly finish: Day | null;
}

export interface CrewCalendar {
  readonly districts: readonly DistrictSpan[];
  /** The day the last district is finished; null when the season ends first. */
  readonly finish: Day | null;
  /** Days of the working week that are no holiday, and how many of them weather is expected to take. */
  readonly days: number;
  readonly lost: number;
}

/** Which kinds of crew must have left a district before another begins there. */
const follows: Readonly<Record<CrewKind, readonly CrewKind[]>> = {
  preparation: [],
  lining: ["preparation"],
  dig: ["preparation"],
  restoration: ["lining", "dig"],
};

/**
 * The calendar of the crews. Rules: districts are worked in order; all crews of a kind work in one district at a time and go
 * to the next when it is done; a kind begins in a district on the working day after those it follows have finished there;
 * where some of it waits for mains to be lined, the district waits for the last of them, and comes after those that wait for none or
 * less, unless the order says so;
 * it mobilizes first; on each working day that weather does not take each crew does one packed day, a long visit keeping
 * its crew and not lying open over days without work where it need not ({@link workThrough}). A blackout of a district stops its work there only.
 */
export function planCalendar(
  work: readonly DistrictWork[],
  calendar: SeasonCalendar,
  table: SeasonDays,
  weather: Weather,
): CrewCalendar {
  const all = workDays(calendar, table, weather);
  const days = all.filter(({ lost }) => !lost).map((each) => each.day);
  /** Index into `days` from which a kind of crew is free. */
  const free = new Map<CrewKind, number>();
  const districts = inOrder(work, calendar.districtOrder).map(
    ({ district, crews, notBefore }): DistrictSpan => {
      const earliest = notBefore === null ? 0 : days.filter((each) => each < notBefore).length;
      const done = new Map<CrewKind, number>();
      const spans = crewKinds.flatMap((kind): CrewSpan[] => {
        const own = crews.find(({ crew }) => crew === kind);
        if (own === undefined) return [];
        const from = Math.max(
          earliest,
          free.get(kind) ?? 0,
          ...follows[kind].map((before) => done.get(before) ?? 0),
        );
        const { span, next } = workThrough({
          crew: kind,
          district,
          packed: own.days,
          from,
          days,
          calendar,
          table,
        });
        free.set(kind, next);
        done.set(kind, next);
        return [span];
      });
      return { district, crews: spans, finish: latest(spans.map(({ finish }) => finish)) };
    },
  );
  return {
    districts,
    finish: latest(districts.map(({ finish }) => finish)),
    days: all.length,
    lost: all.length - days.length,
  };
}

/** Districts named in the order come first, in it. */
function inOrder(work: readonly DistrictWork[], order: readonly string[]): readonly DistrictWork[] {
  const place = (district: string): number => {
    const at = order.indexOf(district);
    return at < 0 ? order.length : at;
  };
  return [...work].sort(
    (a, b) =>
      place(a.district) - place(b.district) ||
      (a.notBefore ?? 0) - (b.notBefore ?? 0) ||
      (a.district < b.district ? -1 : 1),
  );
}

/** What a kind of crew has to do in a district, and when it may. */
interface Errand {
  readonly crew: CrewKind;
  readonly district: string;
  readonly packed: readonly PackedDay[];
  /** Index into the days from which it is free. */
  readonly from: number;
  readonly days: readonly Day[];
  readonly calendar: SeasonCalendar;
  readonly table: SeasonDays;
}

interface Worked {
  readonly span: CrewSpan;
  /** Index into the days from which the crews are free again. */
  readonly next: number;
  /** Days without work on which a visit is begun and not ended. */
  readonly idle: number;
  /** What ends after a permission for it has. */
  readonly unpermitted: number;
}

/**
 * A long visit that began before a weekend, a holiday or a blackout would lie open over it. It waits for a later day, other work being done
 * meanwhile, where that leaves fewer such days. That may break no permission, and moves neither the crews' last day nor what is left undone:
 * selections and uncertainty rest on these. In Quennock Falls 20 such visits lie open over 23 nights, and not 31.
 */
function workThrough(errand: Errand): Worked {
  const atOnce = workInOrder(errand, () => false);
  if (atOnce.idle === 0) return atOnce;
  const waiting = workInOrder(errand, (long, at, singles) => waits(errand, long, at, singles));
  const changesNoMore =
    waiting.next === atOnce.next &&
    waiting.span.left === atOnce.span.left &&
    waiting.unpermitted <= atOnce.unpermitted;
  return changesNoMore && waiting.idle < atOnce.idle ? waiting : atOnce;
}

/** @param waiting whether a long visit waits on a day, by its index, with so many days of other work to do instead */
function workInOrder(
  { crew, district, packed, from, days, calendar, table }: Errand,
  waiting: (long: PackedDay, at: number, singles: number) => boolean,
): Worked {
  // Longest first, so that a long visit does not begin last; days of one length stay in the order they were packed.
  const left = [...packed].sort((a, b) => b.days - a.days);
  let singles = left.filter(isSingle).length;
  const mobilized: Day[] = [];
  const worked = new Map<Day, number>();
  const dated: Dated[] = [];
  /** What each crew at work has begun and not ended. */
  let begun: Dated[] = [];
  let at = from;
  for (; at < days.length && (left.length > 0 || begun.length > 0); at++) {
    const today = days[at]!;
    const crews = crewsAt(crew, district, today, calendar);
    if (crews === 0) continue;
    if (mobilized.length < table.mobilisationDays) {
      mobilized.push(today);
      continue;
    }
    // Fewer crews than yesterday: what was begun and has no crew today waits.
    while (begun.length < crews && left.length > 0) {
      const first = left.findIndex((each) => isSingle(each) || singles === 0 || !waiting(each, at, singles));
      const [taken] = left.splice(first, 1);
      if (isSingle(taken!)) singles--;
      const begins: Dated = { of: taken!, from: today, to: null, shifts: taken!.days };
      begun.push(begins);
      dated.push(begins);
    }
    const busy = begun.slice(0, crews);
    for (const each of busy) if (--each.shifts === 0) each.to = today;
    begun = begun.filter(({ shifts }) => shifts > 0);
    worked.set(today, busy.length);
  }
  const rest =
    left.reduce((sum, { days: shifts }) => sum + shifts, 0) +
    begun.reduce((sum, { shifts }) => sum + shifts, 0);
  const finish = rest > 0 ? null : ([...worked.keys()].at(-1) ?? null);
  return {
    span: {
      crew,
      mobilized,
      worked,
      dated: dated.map(({ of: { rows }, from: first, to }) => ({ rows, from: first, to })),
      finish,
      left: rest,
    },
    // What is not finished holds everything that follows it.
    next: rest > 0 ? days.length : at,
    unpermitted: dated.filter(({ of: { ends }, to }) => ends !== undefined && (to === null || to > ends))
      .length,
    idle: dated.reduce(
      (sum, { of, from: first, to }) => sum + (to === null ? 0 : to - first + 1 - of.days),
      0,
    ),
  };
}

const isSingle = ({ days }: PackedDay): boolean => days === 1;

/** Whether a later day, with other work to do until then, leaves a long visit open over fewer days without work, its owner permitting. */
function waits(errand: Errand, long: PackedDay, at: number, singles: number): boolean {
  const { crew, district, days, calendar } = errand;
  const now = idleFrom(errand, at, long);
  let meanwhile = singles;
  for (let on = at; now > 0 && meanwhile > 0 && on + 1 < days.length; on++) {
    meanwhile -= crewsAt(crew, district, days[on]!, calendar);
    if (idleFrom(errand, on + 1, long) < now) return true;
  }
  return false;
}

/** Days without work in a visit that begins as soon as it may from a day: for ever where season or permission ends before it does. */
function idleFrom(
  { crew, district, days, calendar }: Errand,
  at: number,
  { days: shifts, ends }: PackedDay,
): number {
  let left = shifts;
  let first: Day | null = null;
  for (let on = at; on < days.length && (ends === undefined || days[on]! <= ends); on++) {
    if (crewsAt(crew, district, days[on]!, calendar) === 0) continue;
    first ??= days[on]!;
    if (--left === 0) return days[on]! - first + 1 - shifts;
  }
  return Number.POSITIVE_INFINITY;
}

/** Crews of a kind at work in a district on a day. */
const crewsAt = (crew: CrewKind, district: string, today: Day, calendar: SeasonCalendar): number =>
  isBlackedOut(district, today, calendar) ? 0 : crewsOn(crew, today, calendar);

/** A packed day that has begun, and how many shifts of it are still to do. */
interface Dated {
  readonly of: PackedDay;
  readonly from: Day;
  to: Day | null;
  shifts: number;
}

/** Crews of a kind at work on a day. */
export function crewsOn(crew: CrewKind, today: Day, { crews }: SeasonCalendar): number {
  const own = crews[crew];
  if (own === undefined) throw new RangeError(`planCalendar: no number of ${crew} crews`);
  const iso = isoDate(today);
  return own.changes.findLast(({ from, to }) => from <= iso && iso <= to)?.count ?? own.count;
}

const isBlackedOut = (district: string, today: Day, { blackouts }: SeasonCalendar): boolean => {
  const iso = isoDate(today);
  return blackouts.some(
    (each) =>
      each.from <= iso && iso <= each.to && (each.district === undefined || each.district === district),
  );
};

/** Null where one of them is. */
const latest = (days: readonly (Day | null)[]): Day | null =>
  days.some((each) => each === null) || days.length === 0
    ? null
    : day(Math.max(...days.map((each) => each as Day)));

/** Seasons small enough to try every choice, and to pack every choice by trying every place of every visit. */
export interface PlainPackedSeason {
  /** By lateral: worth, cents, minutes of one crew's visit. */
  readonly offers: readonly { readonly worth: number; readonly cost: number; readonly whole: number }[];
  readonly district: readonly number[];
  readonly money: number;
  readonly days: number;
  readonly shift: number;
  /** Minutes from one visit to the next; the first of a day is driven to before the shift. */
  readonly travel: number;
  readonly mobilisation: number;
  readonly must: readonly number[];
}

/** Least days for visits by one crew: each visit goes into a day begun or a new one, all ways are tried. */
export function fewestDays(visits: readonly number[], shift: number, travel: number): number {
  let best =
    visits.length + visits.filter((v) => v > shift).reduce((sum, v) => sum + Math.ceil(v / shift) - 1, 0);
  const alone = visits.filter((v) => v > shift).reduce((sum, v) => sum + Math.ceil(v / shift), 0);
  const short = visits.filter((v) => v <= shift);
  const days: number[] = [];
  const place = (i: number): void => {
    if (alone + days.length >= best) return;
    if (i === short.length) {
      best = alone + days.length;
      return;
    }
    for (let d = 0; d < days.length; d++) {
      const with_ = days[d]! + travel + short[i]!;
      if (with_ > shift) continue;
      const before = days[d]!;
      days[d] = with_;
      place(i + 1);
      days[d] = before;
    }
    days.push(short[i]!);
    place(i + 1);
    days.pop();
  };
  place(0);
  return best;
}

/** Crew-days of a choice, mobilisation of each district in it with them. */
export function daysOf(s: PlainPackedSeason, isIn: readonly boolean[]): number {
  let days = 0;
  for (const d of new Set(s.district)) {
    const visits = s.offers.flatMap(({ whole }, l) =>
      isIn[l] && s.district[l] === d && whole > 0 ? [whole] : [],
    );
    if (visits.length > 0) days += fewestDays(visits, s.shift, s.travel) + s.mobilisation;
  }
  return days;
}

/** The best worth of all choices that fit, or null. */
export function bestPacked(s: PlainPackedSeason): number | null {
  const n = s.offers.length;
  let best: number | null = null;
  for (let bits = 0; bits < 2 ** n; bits++) {
    const isIn = Array.from({ length: n }, (_, l) => ((bits >> l) & 1) === 1);
    if (s.must.some((l) => !isIn[l])) continue;
    const sum = (key: "worth" | "cost") =>
      s.offers.reduce((all, each, l) => all + (isIn[l] ? each[key] : 0), 0);
    if (sum("cost") > s.money || daysOf(s, isIn) > s.days) continue;
    best = best === null ? sum("worth") : Math.max(best, sum("worth"));
  }
  return best;
}

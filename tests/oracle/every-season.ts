/** Every choice of a small season, one after another: the best worth by plain counting, or null where none keeps the rules. */
export interface PlainSeason {
  readonly offers: readonly (readonly {
    readonly worth: number;
    readonly cost: number;
    readonly minutes: readonly number[];
  }[])[];
  readonly district: readonly number[];
  readonly money: number;
  readonly crewMinutes: readonly number[];
  readonly mobilization: readonly number[];
  readonly leastLaterals: readonly number[];
  readonly mostLaterals: readonly number[];
  readonly leastMoney: readonly number[];
  readonly must: readonly number[];
  readonly needs: readonly (readonly [number, number])[];
}

export function bestByCounting(season: PlainSeason): number | null {
  let best: number | null = null;
  const picked: number[] = [];
  const visit = (lateral: number): void => {
    if (lateral === season.offers.length) {
      const worth = worthIfAllowed(season, picked);
      if (worth !== null && (best === null || worth > best)) best = worth;
      return;
    }
    for (let k = -1; k < season.offers[lateral]!.length; k++) {
      picked[lateral] = k;
      visit(lateral + 1);
    }
  };
  visit(0);
  return best;
}

export function worthIfAllowed(s: PlainSeason, picked: readonly number[]): number | null {
  const done = picked.flatMap((k, lateral) => (k < 0 ? [] : [{ lateral, ...s.offers[lateral]![k]! }]));
  const isDone = (lateral: number) => picked[lateral]! >= 0;
  const districts = new Set(done.map(({ lateral }) => s.district[lateral]!));
  const opening = [...districts].reduce((sum, d) => sum + s.mobilization[d]!, 0);
  if (done.reduce((sum, { cost }) => sum + cost, opening) > s.money) return null;
  if (s.crewMinutes.some((most, crew) => done.reduce((sum, each) => sum + each.minutes[crew]!, 0) > most))
    return null;
  for (const [d, least] of s.leastLaterals.entries()) {
    const here = done.filter(({ lateral }) => s.district[lateral] === d);
    if (here.length < least || here.length > s.mostLaterals[d]!) return null;
    if (here.reduce((sum, { cost }) => sum + cost, 0) < s.leastMoney[d]!) return null;
  }
  if (s.must.some((lateral) => !isDone(lateral))) return null;
  if (s.needs.some(([lateral, needed]) => isDone(lateral) && !isDone(needed))) return null;
  return done.reduce((sum, { worth }) => sum + worth, 0);
}

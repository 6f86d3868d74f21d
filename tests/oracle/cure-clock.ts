export interface Leg {
  readonly to: number;
  readonly leastMinutes: number;
  /** °C per hour; Infinity where only the time counts. */
  readonly degreesPerHour: number;
}

/** Minutes of a cure by watching a clock in ticks of a hundredth of a minute: no faster than the rate, no shorter than the time. */
export function watchCure(start: number, legs: readonly Leg[]): number {
  const tick = 0.01;
  let temperature = start;
  let ticks = 0;
  for (const leg of legs) {
    let here = 0;
    const most = (leg.degreesPerHour / 60) * tick;
    while (Math.abs(leg.to - temperature) > 1e-9 || here * tick < leg.leastMinutes - 1e-9) {
      const gap = leg.to - temperature;
      temperature += Math.sign(gap) * Math.min(Math.abs(gap), most);
      here++;
    }
    ticks += here;
  }
  return ticks * tick;
}

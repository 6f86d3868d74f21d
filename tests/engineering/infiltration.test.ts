import fc from "fast-check";
import { describe, expect, it } from "vitest";
import modes from "../../shared/failure-modes.json" with { type: "json" };
import {
  factorsToMean,
  judgeRemoval,
  LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE,
  peakFlow,
  removalBySewershed,
  type SeasonalFlow,
  screenInfiltration,
  screenInflow,
  seasonalFlow,
  seasonalOfLateral,
  treatmentPerYear,
  yearlyMean,
  yearlyVolume,
} from "../../src/engineering/infiltration.ts";
import { fraction, litresPerSecond, metres, millimetres } from "../../src/quantity/si.ts";
import { convert } from "../../src/quantity/units.ts";

const gpm = (n: number) => litresPerSecond(convert(n, "gpm", "L_per_s"));
const gpd = (n: number) => gpm(n / 1440);
const sure = (p: number) => ({ least: p, best: p, most: p });

describe("infiltration of one lateral", () => {
  it("is its share of a unit rate by diameter and length", () => {
    // Haverhill MA 2011: 2,832 gal/day per inch and mile over the year. A 4 in lateral of 91.04 ft (Ross Valley CA, 12,473 ft in 137
    // projects): 2832 × 4 × 91.04/5280 = 195.32 gal/day.
    const rate = 2832 * LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE;
    const flow = seasonalOfLateral(rate, millimetres(4 * 25.4), metres(91.04 * 0.3048), 1);
    expect(flow / gpd(1)).toBeCloseTo(195.32, 2);
  });

  it("goes with the factor, and is none where the sewershed or the lateral takes none", () => {
    // 0.002 L/s a mm and m × 100 mm × 20 m = 4 L/s; at half the mean 2.
    const flow = (rate: number, factor: number) =>
      seasonalOfLateral(rate, millimetres(100), metres(20), factor);
    expect(flow(0.002, 1)).toBeCloseTo(4, 12);
    expect(flow(0.002, 0.5)).toBeCloseTo(2, 12);
    expect([flow(0, 1), flow(0.002, 0)]).toEqual([0, 0]);
    expect(() => flow(-0.002, 1)).toThrow(RangeError);
    expect(() => flow(0.002, -1)).toThrow(RangeError);
    expect(() => seasonalOfLateral(0.002, millimetres(0), metres(20), 1)).toThrow(RangeError);
    expect(() => seasonalOfLateral(0.002, millimetres(100), metres(0), 1)).toThrow(RangeError);
  });

  it("scaled by factors leaves the sewershed's total as it was measured", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0, max: 20, noNaN: true }), fc.integer({ min: 1, max: 9000 })), {
          minLength: 1,
          maxLength: 30,
        }),
        (pairs) => {
          const weights = pairs.map(([, w]) => w);
          const factors = factorsToMean(
            pairs.map(([f]) => f),
            weights,
          );
          if (factors === null) {
            expect(pairs.every(([f]) => f === 0)).toBe(true);
            return;
          }
          const sum = factors.reduce((total, f, i) => total + f * weights[i]!, 0);
          expect(sum / weights.reduce((total, w) => total + w, 0)).toBeCloseTo(1, 10);
        },
      ),
    );
  });
});

describe("seasons, years and peaks", () => {
  it("make Haverhill's year of 2,832 from 3,693 wet and 2,209 dry with 153 wet days", () => {
    // Published rates in gal/day per inch and mile; the days follow: (2832 − 2209)/(3693 − 2209) × 365 = 153.2.
    const year = yearlyMean([
      { flow: seasonalFlow(gpd(3693)), days: 153.2 },
      { flow: seasonalFlow(gpd(2209)), days: 211.8 },
    ]);
    // The days are rounded to a tenth: 0.05 × 1484/365 = 0.2.
    expect(Math.abs(year / gpd(1) - 2832)).toBeLessThan(0.2);
  });

  it("refuse to make a year of part of it", () => {
    expect(() => yearlyMean([{ flow: seasonalFlow(gpd(100)), days: 120 }])).toThrow("got 120");
  });

  it("price 1,000 gallons a day at $3 per 1,000 gallons with $1,095 a year", () => {
    // q·365·u/1000 = 1000 × 365 × 3/1000.
    const year = yearlyMean([{ flow: seasonalFlow(gpd(1000)), days: 365 }]);
    const perCubicMetre = 300 / convert(1000, "gal", "m3");
    expect(treatmentPerYear(year, perCubicMetre)).toBeCloseTo(109_500, 6);
    expect(yearlyVolume(year)).toBeCloseTo(convert(365_000, "gal", "L"), 5);
  });

  it("keep a peak out of a year: the compiler refuses it", () => {
    const peak = peakFlow(gpm(3));
    // Wauwatosa WI: 3 gpm of one lateral under rain is 4,320 gal/day while it lasts and says nothing of a year.
    // @ts-expect-error a peak has no yearly volume
    const volume = () => yearlyVolume(peak);
    // @ts-expect-error a peak is no season
    const year = () => yearlyMean([{ flow: peak, days: 365 }]);
    // @ts-expect-error a season is no year before its days are counted
    const cost = () => treatmentPerYear(seasonalFlow(gpm(1)), 79);
    // @ts-expect-error a flow without a time is neither
    const plain: SeasonalFlow = gpm(1);
    expect([volume, year, cost, plain]).toHaveLength(4);
    expect(peak / gpd(1)).toBeCloseTo(4320, 6);
  });
});

describe("removal by treatment", () => {
  it("of Wauwatosa's pilot is 67 to 75 % of the peak of a lateral", () => {
    // Conference abstract 2013: 3 to 4 gpm before, about 1 gpm after: (3 − 1)/3 and (4 − 1)/4. One gpm is 1,440 gal/day.
    const sealed = modes.infiltration.sealed;
    expect(sealed.least).toBeCloseTo(2 / 3, 2);
    expect(sealed.most).toBe(3 / 4);
    const [shed] = removalBySewershed([{ sewershed: "A", before: peakFlow(gpm(4)), sealed }], sure(0));
    expect(shed!.stopped.most / gpm(1)).toBeCloseTo(3, 12);
    expect(gpm(1) / gpd(1)).toBeCloseTo(1440, 9);
  });

  it("is reported by sewershed, less what migrates", () => {
    const lateral = (sewershed: string, flow: number) => ({
      sewershed,
      before: seasonalFlow(gpd(flow)),
      sealed: { least: 0.5, best: 0.6, most: 0.8 },
    });
    const sheds = removalBySewershed([lateral("B", 100), lateral("A", 200), lateral("B", 300)], {
      least: 0,
      best: 0.25,
      most: 0.5,
    });
    expect(sheds.map(({ sewershed, laterals }) => [sewershed, laterals])).toEqual([
      ["A", 1],
      ["B", 2],
    ]);
    // B: 400 gal/day; stopped 200, 240, 320; removed 200 × 0.5, 240 × 0.75, 320 × 1.
    const { before, stopped, removed } = sheds[1]!;
    expect(before / gpd(1)).toBeCloseTo(400, 9);
    expect([stopped.least, stopped.best, stopped.most].map((q) => Math.round(q / gpd(1)))).toEqual([
      200, 240, 320,
    ]);
    expect([removed.least, removed.best, removed.most].map((q) => Math.round(q / gpd(1)))).toEqual([
      100, 180, 320,
    ]);
  });

  it("refuses a part that is no part of one, or out of order", () => {
    const of = (sealed: number, migrates: number) =>
      removalBySewershed(
        [{ sewershed: "A", before: peakFlow(gpm(4)), sealed: sure(sealed) }],
        sure(migrates),
      );
    expect(() => of(1.01, 0)).toThrow("seals");
    expect(() => of(0.5, -0.01)).toThrow("migration");
    const turned = { least: 0.5, best: 0.4, most: 0.6 };
    expect(() => removalBySewershed([], turned)).toThrow("migration");
  });

  it("is never more than was there, nor more than was stopped", () => {
    const part = fc
      .tuple(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
      )
      .map((three) => {
        const [least, best, most] = three.toSorted((a, b) => a - b) as [number, number, number];
        return { least, best, most };
      });
    fc.assert(
      fc.property(part, part, fc.double({ min: 0, max: 10, noNaN: true }), (sealed, migration, flow) => {
        const before = seasonalFlow(litresPerSecond(flow));
        const [{ stopped, removed } = expect.unreachable()] = removalBySewershed(
          [{ sewershed: "A", before, sealed }],
          migration,
        );
        for (const bound of ["least", "best", "most"] as const) {
          expect(removed[bound]).toBeGreaterThanOrEqual(0);
          expect(removed[bound]).toBeLessThanOrEqual(stopped[bound]);
          expect(stopped[bound]).toBeLessThanOrEqual(before);
        }
        expect(removed.least).toBeLessThanOrEqual(removed.best);
        expect(removed.best).toBeLessThanOrEqual(removed.most);
      }),
    );
  });
});

describe("the published limits per head", () => {
  const town = { population: 10_000 };

  it("ask for analysis of 1.30 million gallons a day from 10,000 people", () => {
    // 40 CFR 35.2120: 120 gal per head and day; 1,300,000/10,000 = 130.
    const found = screenInfiltration(town, seasonalFlow(gpd(1_300_000)));
    expect(found.gpcd).toBeCloseTo(130, 9);
    expect(found.exceeds).toBe(true);
  });

  it("are not exceeded by the limit itself", () => {
    for (const population of [1, 15, 57, 190, 10_000, 123_457]) {
      expect(screenInfiltration({ population }, seasonalFlow(gpd(120 * population))).exceeds).toBe(false);
      expect(screenInflow({ population }, peakFlow(gpd(275 * population))).exceeds).toBe(false);
      expect(screenInflow({ population }, peakFlow(gpd(275.01 * population))).exceeds).toBe(true);
    }
  });

  it("do not take a lateral's flow: they ask for a population, and each for its own kind of flow", () => {
    // @ts-expect-error the storm limit is for a peak
    expect(() => screenInflow({ population: 0 }, seasonalFlow(gpd(1)))).toThrow("got 0");
    // @ts-expect-error the infiltration limit is for a season
    expect(() => screenInfiltration({ population: 2.5 }, peakFlow(gpd(1)))).toThrow("got 2.5");
  });
});

describe("whether to remove or to treat", () => {
  it("in Haverhill: $24.5 million at 2 % over 20 years is $1.50 million a year against $95,569: treat", () => {
    // City of Haverhill MA, annual infiltration report 2011: "over $1.4 million per year", infiltration judged not excessive. Dollars;
    // 24.5e6·(A/P, 2 %, 20) = 1,498,339.59, ratio 15.68, worth of the treatment 1,562,690.13.
    const found = judgeRemoval(24.5e6, 95_569, fraction(0.02), 20);
    expect(found.programPerYear).toBeCloseTo(1_498_339.59, 2);
    expect(found.ratio).toBeCloseTo(15.68, 2);
    expect(found.breakEven).toBeCloseTo(1_562_690.13, 2);
    expect(found.verdict).toBe("cheaper to transport and treat");
  });

  it("at other rates and for the largest program", () => {
    // Worked out independently from the same report: 4 %, 5 %, and $104.2 million at 2 %.
    const yearly = (cost: number, rate: number) =>
      judgeRemoval(cost, 95_569, fraction(rate), 20).programPerYear;
    expect(yearly(24.5e6, 0.04)).toBeCloseTo(1_802_752.88, 2);
    expect(yearly(24.5e6, 0.05)).toBeCloseTo(1_965_943.39, 2);
    expect(yearly(104.2e6, 0.02)).toBeCloseTo(6_372_530.03, 2);
  });

  it("turns at the break-even, and nothing saved is never worth a program", () => {
    const { breakEven } = judgeRemoval(1, 5000, fraction(0.04), 20);
    expect(judgeRemoval(breakEven * 0.999, 5000, fraction(0.04), 20).verdict).toBe("cheaper to remove");
    expect(judgeRemoval(breakEven * 1.001, 5000, fraction(0.04), 20).verdict).toBe(
      "cheaper to transport and treat",
    );
    expect(judgeRemoval(1000, 0, fraction(0.04), 20)).toMatchObject({
      ratio: Infinity,
      verdict: "cheaper to transport and treat",
    });
  });
});

import fc from "fast-check";
import { holdFixed } from "../../../src/season/selection/hold-fixed.ts";
import type { PackedRule } from "../../../src/season/selection/packed-rule.ts";
import type { SelectionProblem } from "../../../src/season/selection/selection-problem.ts";
import type { PlainCrewSeason } from "../../oracle/packed-crews.ts";

/** The season and its packing of a plain one. */
export function packedFromPlain(s: PlainCrewSeason): { problem: SelectionProblem; rule: PackedRule } {
  const firstOffer = new Uint32Array(s.laterals.length + 1);
  for (const [l, { offers }] of s.laterals.entries()) firstOffer[l + 1] = firstOffer[l]! + offers.length;
  const offers = s.laterals.flatMap((each) => each.offers);
  const districts = s.mobilization.length;
  const whole = s.crews.map((_, crew) => Float64Array.from(offers, ({ visits }) => visits[crew]!.whole));
  const handsOn = s.crews.map((_, crew) => Float64Array.from(offers, ({ visits }) => visits[crew]!.handsOn));
  const none = () => new Float64Array(districts).fill(Infinity);
  const free: SelectionProblem = {
    firstOffer,
    district: Uint32Array.from(s.laterals, ({ district }) => district),
    districts,
    worth: Float64Array.from(offers, ({ worth }) => worth),
    cost: Float64Array.from(offers, ({ cost }) => cost),
    minutes: whole.map((each, crew) => each.map((minutes) => Math.floor(minutes / s.crews[crew]!.sets))),
    money: s.money,
    crewMinutes: s.crews.map(({ days }) => days * s.shift),
    mobilization: Float64Array.from(s.mobilization),
    least: { laterals: new Float64Array(districts), money: new Float64Array(districts) },
    most: { laterals: none(), money: none() },
    must: Uint8Array.from(s.laterals, (_, l) => (s.must.includes(l) ? 1 : 0)),
    mustNot: new Uint8Array(s.laterals.length),
    needs: s.needs,
  };
  // What is done has cost nothing here, so that the oracle's money is the season's: only its days are gone.
  const held = holdFixed(
    free,
    s.done.map((lateral) => ({
      lateral,
      standing: "refused" as const,
      spent: 0,
      opened: false,
      minutes: s.crews.map(() => 0),
    })),
  );
  return {
    problem: held,
    rule: {
      crews: (["preparation", "lining", "dig"] as const).slice(0, s.crews.length),
      crewDays: s.crews.map(({ days }) => days),
      whole,
      handsOn,
      shift: s.shift,
      sets: s.crews.map(({ sets }) => sets),
      drive: {
        betweenVisits: {
          averageMinutes: s.average,
          parkMinutes: s.park,
          detour: 1,
          kilometresPerHour: s.kilometresPerHour,
        },
        coordinateMetres: s.metres,
      },
      x: Float64Array.from(s.laterals, ({ x }) => x),
      y: Float64Array.from(s.laterals, ({ y }) => y),
      mobilisationDays: s.mobilisationDays,
      notBefore: new Float64Array(offers.length).fill(Number.NaN),
      districtNames: s.mobilization.map((_, d) => `D${d}`),
      done: s.done.map((lateral) => ({
        lateral,
        whole: s.laterals[lateral]!.offers[0]!.visits.map((each) => each.whole),
        handsOn: s.laterals[lateral]!.offers[0]!.visits.map((each) => each.handsOn),
      })),
      dates: null,
    },
  };
}

const visit = fc
  .record({
    whole: fc.constantFrom(0, 0, 90, 160, 200, 243, 265, 330, 470, 480, 600),
    part: fc.constantFrom(0.4, 0.7, 1),
  })
  .map(({ whole, part }) => ({ whole, handsOn: Math.ceil(whole * part) }));

/** Seasons of two crews, one of them with one or two sets, in two districts; some visits at one place, some nobody knows where. */
export const plainCrewSeason: fc.Arbitrary<PlainCrewSeason> = fc
  .record({
    laterals: fc.array(
      fc.record({
        district: fc.integer({ min: 0, max: 1 }),
        x: fc.constantFrom(0, 0, 300, 900, 2500, Number.NaN),
        y: fc.constantFrom(0, 0, 400),
        offers: fc.array(
          fc.record({
            worth: fc.integer({ min: 1, max: 100 }),
            cost: fc.integer({ min: 1, max: 50 }),
            visits: fc.tuple(visit, visit),
          }),
          { minLength: 1, maxLength: 2 },
        ),
      }),
      { minLength: 3, maxLength: 6 },
    ),
    money: fc.integer({ min: 50, max: 250 }),
    mobilization: fc.tuple(fc.constantFrom(0, 15), fc.constantFrom(0, 30)),
    crews: fc.tuple(
      fc.record({ days: fc.integer({ min: 1, max: 6 }), sets: fc.constant(1) }),
      fc.record({ days: fc.integer({ min: 1, max: 6 }), sets: fc.constantFrom(1, 2) }),
    ),
    mobilisationDays: fc.constantFrom(0, 1, 1),
    metres: fc.constantFrom(null, 1),
    average: fc.constantFrom(5, 12),
    park: fc.constantFrom(0, 5),
    done: fc.constantFrom<readonly number[]>([], [], [2]),
    must: fc.constantFrom<readonly number[]>([], [], [0]),
    needs: fc.constantFrom<readonly (readonly [number, number])[]>([], [], [[0, 1]]),
  })
  .map((rest) => ({ ...rest, shift: 480, kilometresPerHour: 30 }));

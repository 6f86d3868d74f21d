import type { SelectionProblem } from "../../../src/season/selection/selection-problem.ts";
import type { PlainSeason } from "../../oracle/every-season.ts";

/** The season of a plain one, written apart from the oracle. */
export function seasonFromPlain(plain: PlainSeason): SelectionProblem {
  const all = plain.offers.flat();
  const firstOffer = new Uint32Array(plain.offers.length + 1);
  plain.offers.forEach((offers, l) => {
    firstOffer[l + 1] = firstOffer[l]! + offers.length;
  });
  return {
    firstOffer,
    district: Uint32Array.from(plain.district),
    districts: plain.mobilization.length,
    worth: Float64Array.from(all, ({ worth }) => worth),
    cost: Float64Array.from(all, ({ cost }) => cost),
    minutes: plain.crewMinutes.map((_, crew) => Float64Array.from(all, ({ minutes }) => minutes[crew]!)),
    money: plain.money,
    crewMinutes: plain.crewMinutes,
    mobilization: Float64Array.from(plain.mobilization),
    least: { laterals: Float64Array.from(plain.leastLaterals), money: Float64Array.from(plain.leastMoney) },
    most: {
      laterals: Float64Array.from(plain.mostLaterals),
      money: new Float64Array(plain.mobilization.length).fill(Infinity),
    },
    must: Uint8Array.from(plain.offers, (_, l) => (plain.must.includes(l) ? 1 : 0)),
    mustNot: new Uint8Array(plain.offers.length),
    needs: plain.needs,
  };
}

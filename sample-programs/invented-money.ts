import type { City } from "./city-model.ts";
import type { SampleStyle } from "./city-spec.ts";

/** Failure costs of the SI sample in its own currency: without them it would have no money at risk. Invented. */
const euros = {
  source: "Invented costs for the demonstration; not for use",
  currency: "EUR",
  dig_up: { street: 11_000, alley: 8_000, driveway: 7_500, sidewalk: 7_000, yard: 5_500, railway: 28_000 },
  backup_claim: 6_500,
  spill: 2_200,
  clearing: 350,
  treatment_per_cubic_metre: 1.1,
} as const;

/** People of a lateral, and flows for each of them in gallons a day: in high groundwater and in a storm. Invented. */
const PEOPLE_A_LATERAL = 2.6;
const perPerson: Readonly<Record<string, readonly [highGroundwater: number, storm: number]>> = {
  "LS-03": [172, 430],
  "LS-07": [138, 315],
  "LS-11": [121, 290],
  "LS-14": [109, 262],
  "LS-19": [96, 205],
  "LS-22": [88, 170],
};
const MINUTES_PER_DAY = 1440;

/** People and flows of each district that has laterals. */
function sewershedsOf({ spec, starts }: City) {
  return Object.fromEntries(
    spec.districts.flatMap(({ name }, i) => {
      const population = Math.round((starts[i + 1]! - starts[i]!) * PEOPLE_A_LATERAL);
      const flows = perPerson[name];
      if (flows === undefined) throw new RangeError(`sewershedsOf: no flow for ${name}`);
      if (population === 0) return [];
      const [high, storm] = flows.map((gpcd) => `${((gpcd * population) / MINUTES_PER_DAY).toFixed(2)} gpm`);
      const source = "Invented figures for the demonstration; not for use";
      return [[name, { source, population, high_groundwater_flow: high, storm_flow: storm }]];
    }),
  );
}

/** What program.json says of money and sewersheds. */
export const moneyCriteria = (style: SampleStyle, city: City) =>
  style === "us" ? { sewersheds: sewershedsOf(city) } : { failure_costs: euros };

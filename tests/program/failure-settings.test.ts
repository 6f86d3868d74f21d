import { describe, expect, it } from "vitest";
import { treatmentKinds } from "../../src/columns/plan-columns.ts";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { houseDeterioration } from "../../src/reference/deterioration.ts";
import { houseFailureCosts } from "../../src/reference/failure-costs.ts";
import { houseFailureModes } from "../../src/reference/failure-modes.ts";
import { houseRankSpreads } from "../../src/reference/rank-spreads.ts";
import { allBasisRows } from "../../src/workbook/basis-rows.ts";
import { UNIT_NOT_KNOWN } from "../../src/workbook/table-rows.ts";
import { usBasis } from "../plan/examples.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

const readingOf = (criteria: unknown, differs: Partial<Settings>) =>
  readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, ...differs, criteria }, null, 2)));
const basisWith = (criteria: unknown, differs: Partial<Settings> = {}) => {
  const reading = readingOf(criteria, differs);
  if (!reading.ok) throw new Error(reading.problems.map(describeProblem).join("\n"));
  return basisForSettings(reading.settings);
};
const saidOf = (criteria: unknown, differs: Partial<Settings> = {}) => {
  const reading = readingOf(criteria, differs);
  return reading.ok ? [] : reading.problems.map(({ column, expected }) => `${column}: ${expected}`);
};

const euros = {
  source: "The town's insurer, 2025",
  currency: "EUR",
  dig_up: { street: 9000, alley: 8000, driveway: 7000, sidewalk: 6000, yard: 5000, railway: 25_000 },
  backup_claim: 6500.5,
  spill: 2000,
  clearing: 300,
  treatment_per_cubic_metre: 1.1,
} as const;
const inEuros = { currency: "EUR" } as const;

describe("failure costs in program.json", () => {
  it("are the table's where the program says nothing, and none in another currency", () => {
    expect(basisWith({}).failureCosts).toBe(houseFailureCosts);
    expect(basisWith({}, inEuros).failureCosts).toBeNull();
  });

  it("of a program in another currency give it money at risk, in whole cents, with their source", () => {
    const { failureCosts } = basisWith({ failure_costs: euros }, inEuros);
    expect(failureCosts?.currency).toBe("EUR");
    expect(failureCosts?.digUp.bySurface.street).toBe(900_000);
    expect(failureCosts?.backupClaim.cents).toBe(650_050);
    expect(failureCosts?.treatment.centsPerCubicMetre).toBeCloseTo(110, 9);
    expect(failureCosts?.backupClaim.source).toMatchObject({
      document: "program.json",
      at: "criteria.failure_costs.backup_claim",
      note: expect.stringContaining("The town's insurer, 2025"),
    });
    // The edition is that of the published costs which these replace, not of the city's own.
    expect(houseFailureCosts.digUp.source.edition).toBe("2013");
    expect(failureCosts?.digUp.source.edition).toBeUndefined();
    // Chances have no currency: the table's stand.
    expect(failureCosts?.backsUp).toEqual(houseFailureCosts.backsUp);
  });

  it("in the table's currency change what they name and leave the rest", () => {
    const { failureCosts } = basisWith({
      failure_costs: {
        source: "City accounts 2025",
        currency: "USD",
        dig_up: { street: 15_000 },
        treatment_per_1000_gallons: 4,
        backs_up: { blockage: "60 %" },
      },
    });
    expect(failureCosts?.digUp.bySurface).toEqual({
      ...houseFailureCosts.digUp.bySurface,
      street: 1_500_000,
    });
    expect(failureCosts?.clearing).toEqual(houseFailureCosts.clearing);
    expect(failureCosts?.backsUp).toMatchObject({ structural: 0.4, blockage: 0.6 });
    // 1,000 gal = 3.785411784 m³, so 4 USD are 400 ¢/3.785411784 m³.
    expect(failureCosts?.treatment.centsPerCubicMetre).toBeCloseTo(105.668821, 5);
  });

  it("are refused at the key: another currency, an amount that is missing, one that is none", () => {
    expect(saidOf({ failure_costs: { ...euros, currency: "USD" } }, inEuros)).toEqual([
      'criteria.failure_costs.currency: "EUR", the currency of the program',
    ]);
    const { spill: _, ...without } = euros;
    expect(saidOf({ failure_costs: without }, inEuros)[0]).toMatch(
      /^criteria\.failure_costs\.spill: an amount in EUR: .* in USD, so every amount is needed/,
    );
    const odd = { ...euros, dig_up: { ...euros.dig_up, yard: -5 }, clearing: 1.234 };
    expect(saidOf({ failure_costs: odd }, inEuros)).toEqual([
      expect.stringMatching(/^criteria\.failure_costs\.dig_up\.yard: an amount of nothing or more/),
      expect.stringMatching(/^criteria\.failure_costs\.clearing: an amount of nothing or more/),
    ]);
    expect(saidOf({ failure_costs: { ...euros, treatment_per_1000_gallons: 4 } }, inEuros)[0]).toContain(
      "criteria.failure_costs.treatment_per_1000_gallons: nothing",
    );
    expect(saidOf({ failure_costs: { ...euros, digup: 1 } }, inEuros)[0]).toMatch(
      /^criteria\.failure_costs\.digup: one of the keys .*dig_up/,
    );
    expect(saidOf({ failure_costs: { ...euros, backs_up: { blockage: 1.5 } } }, inEuros)).toEqual([
      "criteria.failure_costs.backs_up.blockage: at most 1",
    ]);
  });
});

describe("failure modes in program.json", () => {
  it("change chances by grade, the reading of surveys, blockage and infiltration, each with its source", () => {
    const { failureModes } = basisWith({
      failure_modes: {
        reading: { poor_found: "90 %", missed: 0.1 },
        blockage: { call_share: 0.5 },
        infiltration: {
          sealed: { least: 0.5, best: 0.6, most: 0.7 },
          unit_rate: { source: "Flow study, basin 3, 2024", high_season_gpd_per_inch_mile: 5000 },
        },
      },
    });
    expect(failureModes.reading).toMatchObject({ poorFound: 0.9, missed: 0.1, falsePoor: 0.15, poorFrom: 4 });
    expect(failureModes.reading.poorFromSource).toEqual(houseFailureModes.reading.poorFromSource);
    expect(failureModes.blockage.callShareSource.at).toBe("criteria.failure_modes.blockage.call_share");
    expect(failureModes.blockage.source).toEqual(houseFailureModes.blockage.source);
    expect(failureModes.infiltration.sealed).toMatchObject({ least: 0.5, best: 0.6, most: 0.7 });
    expect(failureModes.infiltration.unitRate).toMatchObject({
      highSeasonGpdPerInchMile: 5000,
      lowSeasonGpdPerInchMile: 2209,
      source: { note: expect.stringContaining("Flow study, basin 3, 2024") },
    });
    expect(failureModes.structural).toEqual(houseFailureModes.structural);
  });

  it("never let a worse grade be the better one", () => {
    const chance = { least: 0.1, best: 0.2, most: 0.3 };
    const by_grade = [20, 20, 20, 20, 10, 20].map((within_years) => ({ within_years, chance }));
    expect(saidOf({ failure_modes: { structural: { by_grade } } })).toEqual([
      "criteria.failure_modes.structural.by_grade: chances with which a worse grade fails no less often, for least, best and most",
    ]);
    const rising = [100, 50, 20, 20, 10, 5].map((within_years) => ({ within_years, chance }));
    expect(
      basisWith({ failure_modes: { structural: { by_grade: rising } } }).failureModes.structural.byGrade,
    ).toEqual(rising.map(({ within_years, chance: same }) => ({ withinYears: within_years, chance: same })));
    const leaks_by_grade = [0, 0, 0, 0, 0.5, 0.4].map((p) => ({ least: p, best: p, most: p }));
    expect(saidOf({ failure_modes: { infiltration: { leaks_by_grade } } })[0]).toContain(
      "leaks no less often",
    );
    expect(saidOf({ failure_modes: { structural: { by_grade: rising.slice(1) } } })[0]).toContain("6 values");
    expect(saidOf({ failure_modes: { reading: { poor_found: 0.9 } } })[0]).toContain("add up to 1");
  });
});

describe("deterioration in program.json", () => {
  const rows = [
    [0.9, 0.1, 0, 0, 0],
    [0, 0.9, 0.1, 0, 0],
    [0, 0, 0.9, 0.1, 0],
    [0, 0, 0, 0.9, 0.1],
    [0, 0, 0, 0, 1],
  ];
  const chains = { our_mains: { source: "Fitted by the city, 2025", rows } };

  it("takes the city's own chain, under the name the city gives it", () => {
    const { deterioration } = basisWith({
      deterioration: {
        chains,
        chosen: "our_mains",
        years_per_step: 2,
        new_stays: "97 %",
        useless_after_years: 200,
      },
    });
    expect(deterioration.chosen).toBe("our_mains");
    expect(deterioration.chains["our_mains"]).toEqual({
      rows,
      source: {
        document: "program.json",
        at: "criteria.deterioration.chains.our_mains",
        note: "Fitted by the city, 2025",
      },
    });
    expect(deterioration.yearsPerStep.value).toBe(2);
    expect(deterioration.newStays.value).toBe(0.97);
    expect(deterioration.uselessAfterYears.value).toBe(200);
    expect(deterioration.eraStarts).toEqual(houseDeterioration.eraStarts);
  });

  it("is refused at the key: a chain that mends itself, rows that are no chances, a name nobody has", () => {
    const mending = [[0.9, 0.1, 0, 0, 0], [0.1, 0.9, 0, 0, 0], ...rows.slice(2)];
    expect(saidOf({ deterioration: { chains: { ours: { source: "x", rows: mending } } } })).toEqual([
      "criteria.deterioration.chains.ours.rows: no repair: a grade never gets better",
    ]);
    const short = [[0.9, 0.05, 0, 0, 0], ...rows.slice(1)];
    expect(saidOf({ deterioration: { chains: { ours: { source: "x", rows: short } } } })).toEqual([
      "criteria.deterioration.chains.ours.rows.0: a row adds up to 1",
    ]);
    expect(saidOf({ deterioration: { chosen: "ours" } })).toEqual([
      'criteria.deterioration.chosen: one of "one grade at a time", "any grade at once"',
    ]);
    expect(saidOf({ deterioration: { years_per_step: 0 } })).toEqual([
      "criteria.deterioration.years_per_step: above 0",
    ]);
    expect(saidOf({ deterioration: { renewal: { "sectional liner": { pipes: 1.2 } } } })).toEqual([
      "criteria.deterioration.renewal.sectional liner.pipes: at most 1",
    ]);
  });

  it("says for every treatment what it renews", () => {
    const { byTreatment } = houseDeterioration.renewal;
    expect(treatmentKinds.filter((kind) => byTreatment[kind] === undefined)).toEqual([]);
    const { renewal } = basisWith({
      deterioration: { renewal: { "sectional liner": { pipes: "25 %", to_grade: 1 } } },
    }).deterioration;
    expect(renewal.byTreatment["sectional liner"]).toEqual({ pipes: 0.25, toGrade: 1 });
    expect(renewal.byTreatment["full-length liner"]).toEqual(byTreatment["full-length liner"]);
    expect(renewal.source.at).toBe("criteria.deterioration.renewal");
  });
});

describe("spreads and sewersheds in program.json", () => {
  it("change how far the order is drawn", () => {
    const { rankSpreads } = basisWith({ rank_spreads: { surveyed: 0.25, weights: "10 %" } });
    expect(rankSpreads).toMatchObject({
      surveyed: 0.25,
      notSurveyed: houseRankSpreads.notSurveyed,
      weights: 0.1,
    });
    expect(rankSpreads.source.at).toBe("criteria.rank_spreads");
    expect(saidOf({ rank_spreads: { surveyed: 5 } })).toEqual(["criteria.rank_spreads.surveyed: at most 4"]);
    expect(saidOf({ rank_spreads: { weights: 1 } })).toEqual(["criteria.rank_spreads.weights: below 1"]);
  });

  it("give a district its people and its flows, each with a unit", () => {
    const { sewersheds } = basisWith({
      sewersheds: { "LS-03": { source: "Flow study", population: 10_000, high_groundwater_flow: "1.3 MGD" } },
    });
    // 1.3 million gallons of 3.785411784 L over 86,400 s.
    expect(sewersheds["LS-03"]?.highGroundwaterFlow).toBeCloseTo(56.956427, 5);
    expect(sewersheds["LS-03"]?.stormFlow).toBeNull();
    expect(saidOf({ sewersheds: { A: { source: "x", population: 100 } } })).toEqual([
      "criteria.sewersheds.A: a flow of the sewershed",
    ]);
    expect(saidOf({ sewersheds: { A: { source: "x", population: 0, storm_flow: "3 gpm" } } })).toEqual([
      "criteria.sewersheds.A.population: above 0",
    ]);
    expect(saidOf({ sewersheds: { A: { source: "x", population: 9, storm_flow: 3 } } })[0]).toMatch(
      /^criteria\.sewersheds\.A\.storm_flow: a number with its unit/,
    );
    expect(saidOf({ sewersheds: { A: { source: "x", population: 9, storm_flow: "-3 gpm" } } })).toEqual([
      "criteria.sewersheds.A.storm_flow: above 0 L/s",
    ]);
  });

  it("stand on the basis sheet, every number with its unit", () => {
    const given = basisWith({
      failure_costs: { source: "City accounts", currency: "USD", clearing: 555 },
      sewersheds: {
        "LS-03": {
          source: "Flow study",
          population: 10_000,
          high_groundwater_flow: "1.3 MGD",
          storm_flow: "3 MGD",
        },
      },
    });
    const rows = allBasisRows({ ...usBasis, ...given });
    expect(rows.filter(({ unit }) => unit === UNIT_NOT_KNOWN)).toEqual([]);
    const shown = (group: string) =>
      rows.filter((row) => row.group === group).map(({ what, unit }) => [what, unit]);
    expect(shown("Sewersheds")).toEqual([
      ["LS-03, population", "people"],
      ["LS-03, high groundwater flow", "gpm"],
      ["LS-03, storm flow", "gpm"],
    ]);
    expect(shown("Rank spreads")).toEqual([
      ["Surveyed", "points"],
      ["Not surveyed", "points"],
      ["Assumed points", "points"],
      ["Weights", "%"],
    ]);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { priceInCents } from "../../src/program/unit-prices.ts";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { houseAssumptions } from "../../src/reference/assumptions.ts";
import { listChosen } from "../../src/reference/basis.ts";
import { designCriteriaSets } from "../../src/reference/design-criteria.ts";
import { linerSystems } from "../../src/reference/liner-systems.ts";
import { houseRiskTables } from "../../src/reference/risk-tables.ts";
import { houseTreatmentRules } from "../../src/reference/treatment-rules.ts";
import { houseWorkSteps } from "../../src/reference/work-steps.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

const basisWith = (changes: Partial<Settings>) => {
  const reading = readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, ...changes })));
  if (!reading.ok) throw new Error(reading.problems.map(describeProblem).join("\n"));
  return basisForSettings(reading.settings);
};

describe("the basis of a program", () => {
  it("is the reference tables when the program changes nothing", () => {
    const basis = basisWith({});
    expect(basis.criteria).toBe(designCriteriaSets[0]);
    expect(listChosen(basis.liners).map(({ system }) => system)).toEqual(Array(3).fill(linerSystems[0]));
    expect(basis.liners["one-piece"]).toBeNull();
    expect(basis.risk).toEqual(houseRiskTables);
    expect(basis.treatments).toEqual(houseTreatmentRules);
    expect(basis.steps).toEqual(houseWorkSteps);
    expect(basis.assumptions).toEqual(houseAssumptions);
    expect(basis.program).toEqual({
      name: "Alder Basin laterals",
      asOf: dayFromIso("2026-03-01"),
      units: "us",
      currency: "USD",
      // Nothing is said of print: letter goes with US units, and dates are ISO.
      print: { paper: "letter", dates: "ISO" },
    });
    expect(basis.prices).toEqual({});
    expect(basis.priceSource).toBe("no unit prices in program.json");
  });

  it("has the paper of its units and ISO dates unless others are named, and refuses what it cannot print", () => {
    expect(basisWith({ units: "si", currency: "EUR" }).program.print).toEqual({ paper: "A4", dates: "ISO" });
    const print = { paper: "letter", dates: "day month year" } as const;
    expect(basisWith({ units: "si", currency: "EUR", print }).program.print).toEqual(print);
    const reading = readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, print: { paper: "A5" } })));
    expect(reading.ok ? [] : reading.problems.map(describeProblem)).toEqual([
      expect.stringContaining('key "print.paper": found "A5", expected one of "letter", "A4"'),
    ]);
  });

  it("can be cloned to a worker", () => {
    const basis = basisWith({});
    expect(structuredClone(basis)).toEqual(basis);
  });

  it("takes the set and the system that are named", () => {
    const basis = basisWith({ criteria: { design: "H-20, thicker minimum", liner_system: "felt, epoxy" } });
    expect(basis.criteria.key).toBe("H-20, thicker minimum");
    for (const { system, resin } of listChosen(basis.liners)) {
      expect(system.key).toBe("felt, epoxy");
      expect(resin.key).toBe(system.resin);
    }
  });

  it("has one-piece liners only where their system is named, with its own cure and way of placing", () => {
    const named = { liner_systems: { "one-piece": "one-piece, felt, polyester" } };
    const { liners } = basisWith({ criteria: { liner_system: "felt, epoxy", ...named } });
    expect(liners["full-length"].system.key).toBe("felt, epoxy");
    expect(liners["one-piece"]?.system.key).toBe("one-piece, felt, polyester");
    // Hot water: no schedule of the house hardens polyester at ambient temperature.
    expect(liners["one-piece"]?.cure.key).toBe("hot water");
    expect(liners["one-piece"]?.placing.key).toBe("launched from the main");
    const changed = { "one-piece": { excess: "8 %" } };
    const own = basisWith({
      criteria: { ...named, liner_systems_changes: changed, cure: { "one-piece": "steam" } },
    });
    expect(own.liners["one-piece"]?.system.excess).toBeCloseTo(0.08, 12);
    expect(own.liners["one-piece"]?.cure.key).toBe("steam");
    expect(own.liners.connection.cure.key).toBe("hot water");
  });

  it("never lets a changed set pass for the published one", () => {
    const { criteria } = basisWith({
      criteria: { design_changes: { soil_modulus: "1000 psi", safety_factor: 2.5 } },
    });
    // 1 psi = 0.45359237 × 9.80665 N / (0.0254 m)² = 6894.757 Pa (NIST SP 811, B.8).
    expect(criteria.soilModulus).toBeCloseTo(6.894757, 6);
    expect(criteria.safetyFactor).toBe(2.5);
    expect(criteria.enhancement).toBe(designCriteriaSets[0]?.enhancement);
    expect(criteria.key).toBe("HS-20, water at surface, changed");
    expect(criteria.source).toMatchObject({ document: "program.json", at: "criteria.design_changes" });
    expect(criteria.source.note).toContain("Changes safety_factor, soil_modulus of the set");
    expect(criteria.source.note).toContain("City of Nashua NH");
  });

  it("changes the source of a liner's properties and of its stock apart", () => {
    const { liners } = basisWith({
      criteria: { liner_system_changes: { stocked_diameters: ["3 in", "4 in"], void_ratio: "85 %" } },
    });
    const { system } = liners.section;
    expect(system.stockedDiameters[0]).toBeCloseTo(76.2, 9); // 3 × 25.4 mm, exact by definition of the inch
    expect(system.stockedDiameters[1]).toBeCloseTo(101.6, 9);
    expect(system.tube).toEqual({ kind: "felt", voidRatio: 0.85 });
    expect(system.stockSource.document).toBe("program.json");
    expect(system.propertySource).toEqual(linerSystems[0]?.propertySource);
  });

  it("takes a system of its own for a use, and changes it apart from the others", () => {
    const { liners } = basisWith({
      criteria: {
        liner_system: "felt, epoxy",
        liner_systems: { "full-length": "glass, light cure" },
        liner_systems_changes: {
          "full-length": {
            modulus_retention: "50 %",
            strength_retention: 0.5,
            long_term_modulus_at: [{ temperature: "122 °F", modulus: "1000 MPa", strength: "20 MPa" }],
          },
        },
      },
    });
    expect(liners.section.system).toBe(liners.connection.system);
    expect(liners.section.system.key).toBe("felt, epoxy");
    const { system } = liners["full-length"];
    expect(system.key).toBe("glass, light cure, changed");
    expect(system.modulusRetention).toBeCloseTo(0.5, 12);
    // (122 − 32) × 5/9 = 50 °C.
    expect(system.longTermModulusAt[0]?.temperature).toBeCloseTo(50, 9);
    expect(system.longTermModulusAt[0]).toMatchObject({ modulus: 1000, strength: 20 });
    expect(system.propertySource.document).toBe("program.json");
    expect(system.temperatureSource.document).toBe("program.json");
    expect(system.reachSource.document).toBe("Assumption");
  });

  it("reads the soil modulus of a class and compaction, and says that it is from memory", () => {
    const { criteria } = basisWith({ criteria: { soil: { class: "clean coarse", compaction: "moderate" } } });
    // 2,000 psi × 0.006894757 = 13.789515 MPa.
    expect(criteria.soilModulus).toBeCloseTo(13.789515, 5);
    expect(criteria.soil).toEqual({ class: "clean coarse", compaction: "moderate" });
    expect(criteria.source.note).toContain("From memory");
  });

  it("takes the connection liner and the discharge limit of the program", () => {
    const { treatments, effluents } = basisWith({
      criteria: {
        connection: { main_each_side: "12 in", junction: "wye", junction_angle: 45 },
        effluent: { discharge_limit: "140 °F" },
      },
    });
    expect(treatments.connection.mainEachSide).toBeCloseTo(0.3048, 12);
    expect(treatments.connection).toMatchObject({
      junction: "wye",
      junctionAngle: 45,
      mainPart: "full circle",
    });
    expect(treatments.connection.source.document).toBe("program.json");
    expect(effluents.dischargeLimit.celsius).toBeCloseTo(60, 9);
  });

  it("states a live load with the engineer who says so", () => {
    const { criteria } = basisWith({
      criteria: {
        design_changes: { wheel: "rail", stated_live_load: "10 psi", stated_live_load_by: "A. Engineer" },
      },
    });
    expect(criteria.statedLiveLoad).toBeCloseTo(68.94757, 5);
    expect(criteria.wheel).toBe("rail");
  });

  it("converts the assumed water table and the assumed effluent", () => {
    const { assumptions } = basisWith({
      criteria: {
        assumptions: { water_table_depth: "3 ft", effluent: "grease", effluent_temperature: "104 °F" },
      },
    });
    expect(assumptions.water_table_depth.value).toBeCloseTo(0.9144, 12);
    expect(assumptions.effluent.value).toBe("grease");
    expect(assumptions.effluent_temperature.value).toBeCloseTo(40, 9);
  });

  it("converts an assumption and names the key it came from", () => {
    const { assumptions } = basisWith({
      criteria: { assumptions: { cover: "8 ft", ovality: 0.03, surface: "yard" } },
    });
    expect(assumptions.cover.value).toBeCloseTo(2.4384, 12); // 8 × 0.3048 m, exact
    expect(assumptions.cover.source).toMatchObject({
      document: "program.json",
      at: "criteria.assumptions.cover",
    });
    expect(assumptions.ovality.value).toBe(0.03);
    expect(assumptions.surface.value).toBe("yard");
    expect(assumptions.building).toEqual(houseAssumptions.building);
  });

  it("merges risk points deeply and marks only the tables it changes", () => {
    const { risk } = basisWith({
      criteria: {
        risk: {
          likelihood: { om: [1, 1, 2, 2, 3, 3] },
          uninspected: {
            bands: [
              { from_age_years: 0, points: 2 },
              { from_age_years: 40, points: 5 },
            ],
          },
          consequence: { building: { hospital: 4 } },
        },
      },
    });
    expect(risk.likelihood.om).toEqual([1, 1, 2, 2, 3, 3]);
    expect(risk.likelihood.omSource.document).toBe("program.json");
    expect(risk.likelihood.source).toEqual(houseRiskTables.likelihood.source);
    expect(risk.uninspected.bands).toEqual([
      { fromAge: 0, points: 2 },
      { fromAge: 40, points: 5 },
    ]);
    expect(risk.consequence.building).toEqual({ ...houseRiskTables.consequence.building, hospital: 4 });
  });

  it("changes thresholds, the order and the shift", () => {
    const order = [...houseTreatmentRules.order].reverse();
    const { treatments, steps } = basisWith({
      criteria: {
        treatments: { thresholds: { line_from_structural: 3, greatest_ovality: "8 %" }, order },
        work_steps: {
          shift_minutes: 420,
          crews: { lining: { sets: 2 } },
          steps: {
            "new cleanout": [
              {
                step: "dig",
                position: "yard",
                crew: "preparation",
                people: 2,
                minutes: 90,
                minutes_per_metre: 2,
                after: [],
              },
            ],
          },
        },
      },
    });
    expect(treatments.thresholds.lineFromStructural).toBe(3);
    expect(treatments.thresholds.greatestOvality).toBeCloseTo(0.08, 12);
    expect(treatments.thresholdSources["lineFromStructural"]?.at).toBe(
      "criteria.treatments.thresholds.line_from_structural",
    );
    expect(treatments.order).toEqual(order);
    expect(steps.shiftMinutes).toBe(420);
    expect(steps.shiftSource.document).toBe("program.json");
    expect(steps.crews.lining).toEqual({ people: houseWorkSteps.crews.lining.people, sets: 2 });
    expect(steps.crewsSource.at).toBe("criteria.work_steps.crews");
    expect(steps.outageSource).toEqual(houseWorkSteps.outageSource);
    expect(steps.steps["new cleanout"]).toEqual([
      {
        step: "dig",
        position: "yard",
        crew: "preparation",
        people: 2,
        minutes: 90,
        perMetre: 2,
        after: [],
      },
    ]);
    expect(steps.steps["sectional liner"]).toEqual(houseWorkSteps.steps["sectional liner"]);
  });

  it("throws on settings nobody has checked", () => {
    expect(() => basisForSettings({ ...smallSettings, criteria: { design: "none such" } })).toThrow(
      RangeError,
    );
  });
});

describe("unit prices", () => {
  it("are keyed by item, or by item and size as written", () => {
    const { prices, priceSource } = basisWith({
      unit_prices: {
        source: "bids of 2025, low three",
        items: { "camera inspection": 350, "full-length liner": { "4 in": 4200, "6 in": 4900.5 } },
      },
    });
    expect(prices).toEqual({
      "camera inspection": 35_000,
      "full-length liner | 4 in": 420_000,
      "full-length liner | 6 in": 490_050,
    });
    expect(priceSource).toBe("bids of 2025, low three");
  });

  it.each([
    [{ "camera inspection": 350.005 }, "at most two decimals"],
    [{ "camera inspection": -1 }, "at most two decimals"],
    [{ "camera inspection": 1e21 }, "at most two decimals"],
    [{ "camera inspection": { "4 in": 3 } }, "one price: this item has no sizes"],
    [{ "full-length liner": 4200 }, "a price for each diameter"],
    [{ "camera inspection": "350" }, "a price such as 350.00"],
    [{ "camara inspection": 350 }, 'Write "camera inspection".'],
  ])("refuses %j", (items, said) => {
    const settings = { ...smallSettings, unit_prices: { source: "x", items } };
    const reading = readSettingsText(bytesOf(JSON.stringify(settings)));
    expect(reading.ok ? "" : reading.problems.map(describeProblem).join()).toContain(said);
  });

  it("are the cents that were typed, to the last one", () => {
    // The other road: the cents are known first, and their decimal text is parsed as JSON does.
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999_999_999_999 }), (wanted) => {
        const text = `${Math.floor(wanted / 100)}.${String(wanted % 100).padStart(2, "0")}`;
        expect(priceInCents(JSON.parse(text) as number)).toBe(wanted);
      }),
      { numRuns: 2000, examples: [[29], [115], [101], [1_005], [999_999_999_999_999]] },
    );
  });

  it("refuse every third decimal that is not nought", () => {
    fc.assert(
      fc.property(fc.nat(99_999_999), fc.integer({ min: 1, max: 9 }), (hundredths, digit) => {
        const text = `${Math.floor(hundredths / 100)}.${String(hundredths % 100).padStart(2, "0")}${digit}`;
        expect(priceInCents(Number(text))).toBeNull();
      }),
    );
  });
});

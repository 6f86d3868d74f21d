import { describe, expect, it } from "vitest";
import { planCure } from "../../src/plan/cure.ts";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import { listChosen } from "../../src/reference/basis.ts";
import { houseHosts } from "../../src/reference/hosts.ts";
import { housePlacing } from "../../src/reference/placing-methods.ts";
import { houseWetOutRules } from "../../src/reference/wet-out-rules.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

type Criteria = NonNullable<Settings["criteria"]>;

const basisWith = (criteria: Criteria) => {
  const reading = readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, criteria })));
  if (!reading.ok) throw new Error(reading.problems.map(describeProblem).join("\n"));
  return basisForSettings(reading.settings);
};
const saidOf = (criteria: unknown) => {
  const reading = readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, criteria })));
  return reading.ok ? "" : reading.problems.map(describeProblem).join("\n");
};

const thickTube = {
  source: "City of South Bend IN, public record 383937 p. 55",
  start: "60 °F",
  steps: [
    { heat_to: "155 °F", minutes: 120 },
    { hold_minutes: 240 },
    { heat_to: "175 °F", minutes: 60 },
    { hold_minutes: 480 },
    { cool_to: "100 °F", fahrenheit_per_hour: 20 },
  ],
};

describe("how liners are cured, in the settings", () => {
  it("is the first way of each system where the program says nothing", () => {
    const { liners } = basisWith({});
    expect(listChosen(liners).map(({ cure, system }) => [cure.key, system.cures[0]])).toEqual([
      ["hot water", "hot water"],
      ["hot water", "hot water"],
      ["hot water", "hot water"],
    ]);
  });

  it("is one word for all liners, or one for each use", () => {
    expect(basisWith({ cure: "steam" }).liners.section.cure.key).toBe("steam");
    const { liners } = basisWith({ cure: { section: "steam" } });
    expect([liners.section.cure.key, liners["full-length"].cure.key]).toEqual(["steam", "hot water"]);
  });

  it("is refused where the liner system has no such cure", () => {
    expect(saidOf({ cure: "light" })).toContain('one of "hot water", "steam"');
    expect(saidOf({ cure: "steem" })).toContain('"hot water"');
  });

  it("takes a resin supplier's schedule: the published one of a thick tube is 18.75 h", () => {
    // 2 + 4 + 1 + 8 + (175 − 100)/20 h.
    const { liners, ...basis } = basisWith({ cure_schedules: { "hot water": thickTube } });
    const { cure } = liners["full-length"];
    expect(cure.kind === "stated" && cure.source.note).toContain("City of South Bend");
    const liner = {
      kind: "full length" as const,
      nominalDiameter: millimetres(100),
      wall: millimetres(4.5),
      installedLength: metres(12),
      cutLength: metres(13.2),
      endSeals: 2,
    };
    expect(planCure(liner, liners["full-length"]).total / 60).toBeCloseTo(18.75, 9);
    expect(structuredClone(basis)).toEqual(basis);
  });

  it("refuses a schedule that ends hot, goes the wrong way, or has a step of two kinds", () => {
    const with_ = (steps: readonly object[]) =>
      saidOf({ cure_schedules: { "hot water": { ...thickTube, steps } } });
    expect(with_(thickTube.steps.slice(0, 4))).toContain("a last step that cools to 37.8 °C or less");
    expect(with_([{ cool_to: "175 °F", minutes: 10 }])).toContain("temperatures in order");
    expect(with_([{ heat_to: "175 °F", hold_minutes: 10 }])).toContain("a rise such as");
    expect(with_([{ heat_to: "175 °F" }])).toContain("a rise such as");
    expect(with_([{ heat_to: "175", minutes: 5 }])).toContain('"175 °F" or "175 °C"');
  });

  it("changes start and release temperatures, and says whose they were", () => {
    const { liners } = basisWith({
      cure: "steam",
      cure_changes: { steam: { release_temperature: "100 °F" } },
    });
    const { cure } = liners["full-length"];
    if (cure.kind !== "heated") throw new Error(cure.kind);
    expect(cure.release.value).toBeCloseTo(37.7778, 4); // (100 − 32) × 5/9
    expect(cure.release.source.note).toContain("ASTM F1216");
    expect(saidOf({ cure_changes: { ambient: { release_temperature: "100 °F" } } })).toContain(
      "nothing is heated",
    );
  });
});

describe("how liners are placed, in the settings", () => {
  it("is as usual for each use, else the system's first", () => {
    const { liners } = basisWith({});
    expect(listChosen(liners).map(({ placing }) => placing.key)).toEqual([
      "inverted",
      "pushed or pulled section",
      "launched from the main",
    ]);
  });

  it("must be among the system's", () => {
    const pulled = { "full-length": "pulled in and inflated" } as const;
    expect(basisWith({ placing: pulled }).liners["full-length"].placing.key).toBe("pulled in and inflated");
    const glass = {
      liner_systems: { "full-length": "glass, epoxy" },
      liner_system_changes: {},
      placing: { "full-length": "inverted" },
    };
    expect(saidOf(glass)).toContain('one of "pulled in and inflated", "pushed or pulled section"');
  });

  it("takes the crew's own rate, friction and limits, in their units", () => {
    const { placing, liners } = basisWith({
      placing: { "full-length": "pulled in and inflated" },
      placing_changes: {
        insertion_rate: "6 ft/min",
        friction: 0.3,
        tube_limit: "500 lbf",
        path: { slope: "2 %" },
        inflation: { bladder: "12 psi", building: "open" },
      },
    });
    expect(placing.insertionRate.slowest).toBeCloseTo(1.8288, 9); // 6 × 0.3048 m
    expect(liners["full-length"].placing.pull).toMatchObject({ friction: 0.3, ropeFriction: 0.3 });
    expect(liners["full-length"].placing.pull?.tubeLimit).toBeCloseTo(2224.11, 2); // 500 × 4.4482216 N
    expect(placing.path.slope).toBeCloseTo(0.02, 12);
    expect(placing.inflation.bladder).toBeCloseTo(82.737, 3); // 12 × 6.894757 kPa
    expect(placing.inflation.building).toBe("open");
    expect(placing.inflation.host).toBe(housePlacing.inflation.host);
    expect(placing.path.source.document).toBe("program.json");
    expect(saidOf({ placing_changes: { friction: -1 } })).toContain("at least 0");
  });
});

describe("hosts and flow, in the settings", () => {
  it("change what a host bears and its roughness, and nothing else", () => {
    const { hosts } = basisWith({
      hosts: { PVC: { bears: "150 °F", roughness: { least: 0.009, most: 0.011 } } },
    });
    expect(hosts.values.PVC.bears).toBeCloseTo(65.5556, 4); // (150 − 32) × 5/9
    expect(hosts.values.PVC.worn).toMatchObject({ least: 0.009, most: 0.011 });
    expect(hosts.values.PVC.bearsSource.note).toContain("140 °F");
    expect(hosts.values.clay).toEqual(houseHosts.values.clay);
    expect(saidOf({ hosts: { PVC: { roughness: { least: 0.02, most: 0.01 } } } })).toContain("program.json");
  });

  it("name a code of least slopes, the velocity and a design flow", () => {
    const { drainFlow } = basisWith({
      flow: { minimum_slopes: "1/4 for all", self_cleansing: "2 ft/s", design_flow: "10 gpm" },
    });
    expect(drainFlow.leastSlopes?.key).toBe("1/4 for all");
    expect(drainFlow.selfCleansing.velocity).toBeCloseTo(0.6096, 9); // 2 × 0.3048
    expect(drainFlow.designFlow).toBeCloseTo(0.630902, 6); // 10 × 3.785411784/60
    expect(basisWith({}).drainFlow.leastSlopes).toBeNull();
    expect(saidOf({ flow: { minimum_slopes: "1/3 for all" } })).toContain('Write "1/4 for all"');
    expect(saidOf({ flow: { self_cleansing: "0 ft/s" } })).toContain("above 0");
  });
});

describe("wetting out, in the settings", () => {
  it("takes forecast, scale, containers and a kit, each in its unit", () => {
    const { wetOut, potLifeMargin } = basisWith({
      wet_out: {
        forecast_temperature: "90 °F",
        scale_step: "0.1 lb",
        containers: { resin: "450 lb" },
        kit: { base: "16 lb", hardener: "4 lb" },
        waste: "3 %",
        pot_life_margin: 0.6,
      },
    });
    expect(wetOut.forecastTemperature.value).toBeCloseTo(32.2222, 4);
    expect(wetOut.scale.step).toBeCloseTo(0.045359237, 9);
    expect(wetOut.containers.resin).toBeCloseTo(204.1166, 4); // 450 × 0.45359237
    expect(wetOut.containers.kit?.hardener).toBeCloseTo(1.81437, 5);
    expect(wetOut.containers.base).toBe(houseWetOutRules.containers.base);
    expect(wetOut.containers.waste).toBeCloseTo(0.03, 12);
    expect(potLifeMargin.used).toBe(0.6);
    expect(saidOf({ wet_out: { pot_life_margin: 1.2 } })).toContain("at most 1");
  });

  it("refuses a mix ratio that does not say by weight or by volume", () => {
    expect(saidOf({ wet_out: { mix: { base: 4, hardener: 1 } } })).toContain(
      'one of "by weight", "by volume"',
    );
    expect(saidOf({ wet_out: { mix: { base: 4, hardener: 1, basis: "" } } })).toContain('"by volume"');
    const { liners } = basisWith({
      liner_system: "felt, epoxy",
      wet_out: {
        mix: { base: 4, hardener: 1, basis: "by volume", hardener_density: "8.4 lb/gal" },
        pot_life: { minutes: 60, at: "77 °F" },
      },
    });
    const { mix, potLife } = liners["full-length"].resin;
    expect(mix).toMatchObject({ base: 4, hardener: 1, basis: "by volume", baseDensity: 1.15 });
    expect(mix?.hardenerDensity).toBeCloseTo(1.006542, 5); // 8.4 × 0.45359237/3.785411784
    expect(potLife).toMatchObject({ minutes: 60, factorPerTenDegrees: 2 });
    expect(potLife?.atCelsius).toBeCloseTo(25, 9);
  });

  it("adds a calibration tube that stays in the pipe", () => {
    const { liners } = basisWith({
      liner_system_changes: { calibration_tube: { thickness: "1 mm", void_ratio: "87 %" } },
    });
    expect(liners["full-length"].system.calibrationTube).toMatchObject({ thickness: 1, voidRatio: 0.87 });
    expect(saidOf({ liner_system_changes: { calibration_tube: { thickness: "1 mm" } } })).toContain(
      "void_ratio",
    );
  });

  it("puts the shop's chart to the stocked sizes, and refuses a size that is not stocked", () => {
    const { shopChart } = basisWith({
      shop_chart: { "4 in x 4.5 mm": "0.8 lb/ft", "150 mm x 6 mm": "3 kg/m" },
    });
    expect(shopChart?.rows).toEqual([
      { diameter: 100, wall: 4.5, kilogramsPerMetre: expect.closeTo(1.190531, 5) }, // 0.8 × 0.45359237/0.3048
      { diameter: 150, wall: 6, kilogramsPerMetre: 3 },
    ]);
    expect(saidOf({ shop_chart: { "4 in x 5 mm": "0.8 lb/ft" } })).toContain("a stocked size and wall");
    expect(saidOf({ shop_chart: { "4 x 4.5": "0.8 lb/ft" } })).toContain("a stocked size and wall");
    expect(saidOf({ shop_chart: { "4 in x 4.5 mm": "0.8" } })).toContain('"0.8 lb/ft" or "0.8 kg/m"');
    expect(saidOf({ shop_chart: { "4 in x 4.5 mm": "0 lb/ft" } })).toContain("above 0");
  });
});

describe("the steps of a crew, in the settings", () => {
  const step = {
    step: "wait",
    position: "house" as const,
    crew: "lining" as const,
    people: 1,
    minutes: 30,
    after: [] as string[],
  };

  it("may wait for the liner's own times, and only a liner's may", () => {
    const { steps } = basisWith({
      work_steps: { steps: { "sectional liner": [{ ...step, plus: ["cure", "cool-down"] }] } },
    });
    expect(steps.steps["sectional liner"]).toEqual([{ ...step, plus: ["cure", "cool-down"] }]);
    expect(
      saidOf({ work_steps: { steps: { "clean and cut roots": [{ ...step, plus: ["cure"] }] } } }),
    ).toContain("nothing else is inserted or cured");
  });
});

describe("how long works last, in the settings", () => {
  it("is from a month or so to a thousand years: renewals of less are never summed up", () => {
    const lasting = (years: number) => ({ design_life: { years: { "one-piece liner": years } } });
    for (const years of [0.1, 50, 1_000])
      expect(basisWith(lasting(years)).life.years["one-piece liner"]).toBe(years);
    for (const years of [5e-324, 0, -3, 0.09])
      expect(saidOf(lasting(years))).toContain("expected at least 0.1");
    expect(saidOf(lasting(1_001))).toContain("expected at most 1000");
    expect(
      basisWith({ design_life: { years: { "one-piece liner": null } } }).life.years["one-piece liner"],
    ).toBeNull();
  });
});

import { describe, expect, it } from "vitest";
import { blockagePrior, fitBlockages } from "../../src/cohort/blockage-cohorts.ts";
import { fitBlocking } from "../../src/cohort/blockage-tables.ts";
import { priorOfCohort } from "../../src/engineering/gamma-poisson.ts";
import { fraction } from "../../src/quantity/si.ts";

/** Sixty laterals of each material; clay blocks twice as often as the table says, PVC as often. */
const clay = Array.from({ length: 60 }, (_, i) => ({
  material: 1,
  events: i % 5 === 0 ? 1 : 0,
  expected: 0.1,
}));
const pvc = Array.from({ length: 60 }, (_, i) => ({
  material: 0,
  events: i % 5 === 0 ? 2 : 0,
  expected: 0.4,
}));
const unknown = Array.from({ length: 60 }, () => ({ material: 2, events: 1, expected: 0.1 }));

const columns = (list: readonly { material: number; events: number; expected: number }[]) => ({
  materials: ["PVC", "clay", "", "brick"],
  material: Uint8Array.from(list, ({ material }) => material),
  events: Float64Array.from(list, ({ events }) => events),
  expected: Float64Array.from(list, ({ expected }) => expected),
});

const priorOf = (list: readonly { events: number; expected: number }[]) =>
  priorOfCohort(
    list.map(({ events }) => events),
    list.map(({ expected }) => expected),
  );

describe("blockage cohorts of a city", () => {
  const mixed = clay.flatMap((lateral, i) => [lateral, pvc[i]!, unknown[i]!]);

  it("are each material's own record, by name, and all; an unknown material is in that of all only", () => {
    expect(fitBlockages(columns(mixed))).toEqual([
      { by: "material", material: "PVC", fit: priorOf(pvc) },
      { by: "material", material: "clay", fit: priorOf(clay) },
      { by: "all", material: "", fit: priorOf(mixed) },
    ]);
    const [first, second] = fitBlockages(columns(mixed));
    // 24 seen and 24 expected; 12 seen and 6 expected.
    expect(first?.fit).toMatchObject({ events: 24, prior: { factor: expect.closeTo(1, 9) } });
    expect(second?.fit).toMatchObject({ events: 12, prior: { factor: expect.closeTo(2, 9) } });
  });

  it("are none but that of all, which says so, where nothing is recorded", () => {
    expect(fitBlockages(columns([]))).toEqual([
      { by: "all", material: "", fit: { kind: "too little", laterals: 0, events: 0, expected: 0 } },
    ]);
  });
});

describe("what is believed of a lateral before its own record", () => {
  const cohorts = fitBlockages(columns([...clay, ...pvc]));

  it("is its material's factor of the table's rate, worth what was expected of it in years of that rate", () => {
    // Clay: 12 of 6. Σ(n − 0.2)² = 12·0.64 + 48·0.04 = 9.6 is less than 12, so s = 6: at 0.02 a year 6/0.02 = 300 years.
    const found = blockagePrior("clay", 0.02, cohorts);
    expect(found?.prior.mean).toBeCloseTo(0.04, 12);
    expect(found?.prior.strengthYears).toBeCloseTo(300, 9);
    expect(found?.cohort).toMatchObject({ by: "material", material: "clay" });
  });

  it("is that of all where its material is unknown or has no record of its own", () => {
    // 36 of 30.
    for (const material of ["brick", ""]) {
      const found = blockagePrior(material, 0.02, cohorts);
      expect(found?.prior.mean).toBeCloseTo(1.2 * 0.02, 12);
      expect(found?.cohort.by).toBe("all");
    }
  });

  it("is nothing of the city's where not even all laterals say enough", () => {
    expect(blockagePrior("clay", 0.02, fitBlockages(columns(clay.slice(0, 29))))).toBeNull();
  });
});

describe("chances of a blockage by material, grade and backups", () => {
  const tables = {
    blockage: {
      ratePerYear: [0.02, 0.1],
      rateNotGraded: 0.05,
      strengthYears: 10,
      callShare: fraction(0.3),
      level: fraction(0.9),
    },
    materials: ["clay", "brick"],
  };

  it("are 1 − (r/(r + 1))^a, with the backups of five years added to what was believed", () => {
    const { blocked } = fitBlocking(columns([...clay, ...pvc]), tables);
    const ofClay = blocked["clay"]!;
    expect(ofClay.fromCity).toBe(true);
    // Believed: 12 blockages in 300 years. With 0 and 3 backups: 12 and 15 in 305.
    expect(ofClay.unrecorded[0]!.best).toBeCloseTo(1 - (300 / 301) ** 12, 12);
    expect(ofClay.chances[0]![0]!.best).toBeCloseTo(1 - (305 / 306) ** 12, 12);
    expect(ofClay.chances[0]![3]!.best).toBeCloseTo(1 - (305 / 306) ** 15, 12);
    // The last entry is of laterals not graded: 12 in 6/0.05 = 120 years.
    expect(ofClay.unrecorded.map(({ best }) => best).at(-1)).toBeCloseTo(1 - (120 / 121) ** 12, 12);
    expect(blocked["brick"]).toBe(blocked[""]);
  });

  it("are the table's own where the city's record says too little", () => {
    const { blocked } = fitBlocking(columns([]), tables);
    const [first] = blocked["clay"]!.priors;
    expect(blocked["clay"]!.fromCity).toBe(false);
    expect(first).toEqual({ mean: 0.02, strengthYears: 10 });
    // 0.2 blockages in 10 years.
    expect(blocked["clay"]!.unrecorded[0]!.best).toBeCloseTo(1 - (10 / 11) ** 0.2, 12);
  });
});

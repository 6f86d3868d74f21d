import { describe, expect, it } from "vitest";
import { fitBlockages } from "../../src/cohort/blockage-cohorts.ts";
import { priorOfCohort } from "../../src/engineering/gamma-poisson.ts";

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

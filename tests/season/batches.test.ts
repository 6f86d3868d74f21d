import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { type BatchComponent, batchOfAll, type DistrictBatches } from "../../src/season/batches.ts";
import type { FittedBasis } from "../../src/season/fits.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { chosenLiner, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

const epoxy: FittedBasis = {
  ...usBasis,
  liners: { ...usBasis.liners, "full-length": chosenLiner("felt, epoxy", "inverted") },
};
const nothingFound = { problems: [], tallies: [] };
const plan = (
  lengths: readonly { readonly district: string; readonly length: number }[],
  basis: FittedBasis,
) => {
  const laterals = lengths.map(({ district, length }, i) =>
    lateralRow(`L${i}`, { district, host_length: length }),
  );
  const surveys = laterals.map((row) =>
    surveyRow(String(row["lateral"]), 4, 1, { structural_quick: "4332" }),
  );
  return planProgram(programTables(laterals, surveys), basis, nothingFound);
};

describe("batches by district", () => {
  it("are one a liner, each weighed up to the scale, and what the district buys", () => {
    const two = plan(
      [
        { district: "LS-14", length: 12.192 },
        { district: "LS-14", length: 12.192 },
      ],
      epoxy,
    );
    // 4.5 mm wall, 13.392 m cut: 17.5930 L × 1.12636841678 = 19.8162 kg; 100 : 25 → 15.8530 + 3.9632 kg, up to 10 g:
    // 15.86 + 3.97 kg a batch. Two batches: 31.72 kg base × 1.05 = 33.306 in pails of 20 kg → 2, 6.694 kg left;
    // 7.94 kg hardener × 1.05 = 8.337 in 5 kg → 2, 1.663 kg left.
    expect(two.batches).toEqual([
      {
        district: "LS-14",
        resin: "epoxy",
        batches: 2,
        tooSlow: 2,
        notComputed: 0,
        components: [
          { component: "base", grams: 31_720, containers: 2, leftoverGrams: 6694 },
          { component: "hardener", grams: 7940, containers: 2, leftoverGrams: 1663 },
        ],
        inKits: false,
      },
    ]);
  });

  it("come in kits when the resin does: the part that runs out first asks for them", () => {
    const { containers } = usBasis.wetOut;
    const kits: FittedBasis = {
      ...epoxy,
      wetOut: {
        ...usBasis.wetOut,
        containers: { ...containers, waste: 0.1, kit: { base: 8, hardener: 2.1 } },
      },
    };
    const [district] = plan([{ district: "", length: 12.192 }], kits).batches;
    // 15.86 × 1.1/8 = 2.18 → 3 by base, 3.97 × 1.1/2.1 = 2.08 → 3 by hardener; left 24 − 17.446 and 6.3 − 4.367 kg.
    expect(district).toMatchObject({
      inKits: true,
      components: [
        { component: "base", containers: 3, leftoverGrams: 6554 },
        { component: "hardener", containers: 3, leftoverGrams: 1933 },
      ],
    });
  });

  it("of a resin used as supplied are its mass, and its time is the supplier's", () => {
    const [district] = plan([{ district: "LS-14", length: 12.192 }], usBasis).batches;
    // 17.5930 L × 1.125 kg/L = 19.792 kg; one pail holds 20 kg but not 19.792 × 1.05 = 20.7816, 20,782 whole grams.
    expect(district).toMatchObject({
      resin: "polyester",
      notComputed: 1,
      tooSlow: 0,
      components: [{ component: "resin", grams: 19_792, containers: 2, leftoverGrams: 19_218 }],
    });
  });

  it("never pour two resins together", () => {
    const vinyl = {
      ...usBasis.liners,
      section: chosenLiner("felt, vinyl ester", "pushed or pulled section"),
    };
    const rows = [lateralRow("A1"), lateralRow("A2")];
    // One defect is a section, four are a full length.
    const surveys = [
      surveyRow("A1", 4, 1, { structural_quick: "4332" }),
      surveyRow("A2", 4, 1, { structural_quick: "4100" }),
    ];
    const planned = planProgram(programTables(rows, surveys), { ...usBasis, liners: vinyl }, nothingFound);
    expect(planned.batches.map(({ district, resin, batches }) => [district, resin, batches])).toEqual([
      ["LS-14", "polyester", 1],
      ["LS-14", "vinyl ester", 1],
    ]);
  });

  it("are none where nothing is lined", () => {
    const left = planProgram(programTables([lateralRow("A1")], [surveyRow("A1", 2)]), epoxy, {
      problems: [],
      tallies: [],
    });
    expect(left.batches).toEqual([]);
  });

  it("add up over the districts to the liners' own, and never hold less than is taken", () => {
    const row = fc.record({
      district: fc.constantFrom("LS-14", "Mill Creek", ""),
      length: fc.double({ min: 3, max: 40, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(row, { maxLength: 12 }), fc.constantFrom(epoxy, usBasis), (rows, basis) => {
        const planned = plan(rows, basis);
        const sums = [0, 0, 0];
        for (let at = 0; at < rows.length; at++) {
          const { wetOut } = planLateral(lateralAt(planned.tables, at), basis).chosen;
          if (wetOut === null) continue;
          const { components } = wetOut;
          if (components.kind === "two parts") {
            sums[0]! += Math.round(components.batch.base * 1000);
            sums[1]! += Math.round(components.batch.hardener * 1000);
          } else sums[2]! += Math.round(wetOut.mixed.mass * 1000);
        }
        const total = (component: BatchComponent) =>
          planned.batches
            .flatMap(({ components }) => components)
            .filter((each) => each.component === component)
            .reduce((sum, { grams }) => sum + grams, 0);
        expect([total("base"), total("hardener"), total("resin")]).toEqual(sums);
        for (const { components } of planned.batches)
          for (const { leftoverGrams } of components) expect(leftoverGrams).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 25 },
    );
  });
});

describe("batches of all districts", () => {
  const ofDistrict = (district: string, resin: string, masses: Partial<Record<BatchComponent, number>>) =>
    ({
      district,
      resin,
      batches: 2,
      tooSlow: 1,
      notComputed: 0,
      components: (Object.entries(masses) as [BatchComponent, number][]).map(([component, grams]) => ({
        component,
        grams,
        containers: 1,
        leftoverGrams: 0,
      })),
      inKits: false,
    }) satisfies DistrictBatches;

  it("are bought once: what is left of one district's pails serves the next, resin by resin", () => {
    const epoxies = ["A", "B", "C"].map((of) => ofDistrict(of, "epoxy", { base: 10_000, hardener: 2_500 }));
    const polyester = ofDistrict("B", "polyester", { resin: 15_000 });
    // 30 kg × 1.05 = 31.5 in pails of 20 kg: 2 for all, where each district by itself buys one; 7.5 × 1.05 = 7.875 in 5 kg: 2.
    expect(batchOfAll([polyester, ...epoxies], usBasis)).toEqual([
      {
        district: "",
        resin: "epoxy",
        batches: 6,
        tooSlow: 3,
        notComputed: 0,
        components: [
          { component: "base", grams: 30_000, containers: 2, leftoverGrams: 8_500 },
          { component: "hardener", grams: 7_500, containers: 2, leftoverGrams: 2_125 },
        ],
        inKits: false,
      },
      {
        district: "",
        resin: "polyester",
        batches: 2,
        tooSlow: 1,
        notComputed: 0,
        // 15 × 1.05 = 15.75 in one pail.
        components: [{ component: "resin", grams: 15_000, containers: 1, leftoverGrams: 4_250 }],
        inKits: false,
      },
    ]);
    expect(batchOfAll([], usBasis)).toEqual([]);
  });
});

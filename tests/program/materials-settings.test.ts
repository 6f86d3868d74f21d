import { expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { houseMaterials } from "../../src/reference/materials.ts";
import { smallSettings } from "./sample-settings.ts";

it("program.json changes rolls, seals and passes of the takeoff, and the source says so; the rest stays", () => {
  const materials = {
    rolls: { length: "100 ft" },
    seals: { waste: "10 %" },
    passes: { "full-length liner": { camera: 3 } },
  } as const;
  const found = basisForSettings({ ...smallSettings, criteria: { materials } }).materials;
  // 100 ft is 30.48 m.
  expect(found.rolls.length).toBeCloseTo(30.48, 9);
  expect(found.rolls.usableLeft).toBe(houseMaterials.rolls.usableLeft);
  expect(found.seals).toMatchObject({ box: houseMaterials.seals.box, waste: 0.1 });
  expect(found.passes.values["full-length liner"]).toMatchObject({ camera: 3, cleaning: 1 });
  expect(found.rolls.source).toMatchObject({ document: "program.json", at: "criteria.materials.rolls" });
  expect(found.grout).toEqual(houseMaterials.grout);
});

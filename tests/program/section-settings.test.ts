import { expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { houseTreatmentRules } from "../../src/reference/treatment-rules.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

const reading = (sectional: unknown) =>
  readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, criteria: { treatments: { sectional } } })));

it("lengths for placing sections may be a program's own, and its basis says so", () => {
  const read = reading({ overlap_each_side: "18 in", lap: "6 in" });
  if (!read.ok) throw new Error(read.problems.map(describeProblem).join("\n"));
  const { sectional } = basisForSettings(read.settings).treatments;
  // 1 in is 25.4 mm exactly: 18 in = 0.4572 m, 6 in = 0.1524 m.
  expect(sectional.overlapEachSide).toBeCloseTo(0.4572, 12);
  expect(sectional.lap).toBeCloseTo(0.1524, 12);
  expect(sectional.defectLength).toBe(houseTreatmentRules.sectional.defectLength);
  expect(sectional.source).not.toEqual(houseTreatmentRules.sectional.source);
});

it("an unknown word among them is refused", () => {
  const read = reading({ overlap: "18 in" });
  expect(read.ok ? "" : read.problems.map(describeProblem).join()).toContain("overlap");
});

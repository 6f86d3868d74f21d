import { expect, it } from "vitest";
import { treatmentKinds } from "../../src/columns/plan-columns.ts";
import { crewFor, crewTypes } from "../../src/reference/crew-types.ts";

it("every treatment has its crew; a treatment without one is refused", () => {
  for (const treatment of treatmentKinds) expect(crewTypes).toContain(crewFor(treatment));
  expect(() => crewFor("painting")).toThrow('no crew for "painting"');
});

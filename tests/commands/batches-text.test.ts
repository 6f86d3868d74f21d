import { describe, expect, it } from "vitest";
import { batchesText } from "../../src/commands/batches-text.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { chosenLiner, siBasis, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "../season/examples.ts";

const planned = (grade: number, basis: typeof usBasis) =>
  planProgram(
    programTables(
      [lateralRow("A1")],
      [surveyRow("A1", grade, 1, grade === 4 ? { structural_quick: "4332" } : {})],
    ),
    basis,
    { problems: [], tallies: [] },
  );

describe("the batches of a plan in text", () => {
  it("name each component with what is bought and what is left, in the program's units", () => {
    const liners = { ...siBasis.liners, "full-length": chosenLiner("felt, epoxy", "inverted") };
    const [text = ""] = batchesText(planned(4, { ...siBasis, liners }));
    // 15.86 kg of base in one pail of 20 kg, 3.97 kg of hardener in one of 5 kg: see tests/season/batches.test.ts.
    // With the 5 % that is wasted 16.653 and 4.169 kg: 3.347 and 0.831 kg are left.
    expect(text).toMatch(/LS-14 +1 +epoxy +base +15\.9 +1 +3\.3/);
    expect(text).toMatch(/LS-14 +1 +epoxy +hardener +4\.0 +1 +0\.8/);
    expect(text).toContain("1 batch(es) would thicken");
  });

  it("say whose the pot life is when it is not computed", () => {
    expect(batchesText(planned(4, usBasis)).join("\n")).toContain("Pot life of 1 batch(es) is not computed");
  });

  it("are nothing where nothing is lined", () => {
    expect(batchesText(planned(1, usBasis))).toEqual([]);
  });
});

import { expect, it } from "vitest";
import { explainLateral } from "../../src/plan/explain.ts";
import { explainLiners } from "../../src/plan/explain-liner.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { toShown } from "../../src/quantity/measure.ts";
import { chosenFor } from "../../src/reference/basis.ts";
import { planCells } from "../../src/season/plan-cells.ts";
import { lateral, survey, usBasis } from "./examples.ts";

const stagesOf = (connectionGrade: number) => {
  const inspections = [survey({ structuralGrade: 4, structuralQuick: "4433", connectionGrade })];
  const planned = planLateral(lateral({ inspections }), usBasis);
  const stages = explainLiners(planned.chosen, usBasis, usBasis.program);
  const saidOf = (label: string) =>
    stages.flatMap(({ lines }) => lines.flatMap((line) => (line.label === label ? [line.value] : [])));
  return { planned, stages, saidOf };
};

it("has the resin of both liners of a combination, each and together, as the sheet has it", () => {
  const { planned, stages, saidOf } = stagesOf(4);
  expect(planned.choice.treatment).toBe("full-length and connection liner");
  expect(stages.map(({ stage }) => stage)).toEqual(["Liner and resin", "Liner and resin, connection liner"]);
  const each = saidOf("mixed resin").map((text) => Number.parseFloat(text));
  expect(each).toHaveLength(2);
  const shown = toShown(planCells["resin"]!(planned) as number, "volume", "us");
  expect(saidOf("mixed resin, all liners")).toEqual([`${shown.toFixed(2)} gal`]);
  // Each of the two is rounded to hundredths where it is shown.
  expect(Math.abs(each[0]! + each[1]! - shown)).toBeLessThanOrEqual(0.015);
});

it("has the cure and the forces of both liners of a combination, each of its own system", () => {
  const { planned } = stagesOf(4);
  const stages = explainLateral(planned, usBasis).filter(({ stage }) => /^(Cure|Placing forces)/.test(stage));
  expect(stages.map(({ stage }) => stage)).toEqual([
    "Cure",
    "Placing forces",
    "Cure, connection liner",
    "Placing forces, connection liner",
  ]);
  const said = (stage: string, label: string) =>
    stages.find((each) => each.stage === stage)?.lines.find((each) => each.label === label)?.value;
  const { liners } = usBasis;
  for (const [of, use] of [
    ["", "full-length"],
    [", connection liner", "connection"],
  ] as const) {
    expect(said(`Cure${of}`, "method"), of).toBe(chosenFor(liners, use).cure.label);
    expect(said(`Placing forces${of}`, "method"), of).toBe(chosenFor(liners, use).placing.label);
  }
  expect(said("Placing forces", "method")).not.toBe(said("Placing forces, connection liner", "method"));
});

it("has no sum where there is one liner", () => {
  const { stages, saidOf } = stagesOf(1);
  expect(stages).toHaveLength(1);
  expect(saidOf("mixed resin, all liners")).toEqual([]);
});

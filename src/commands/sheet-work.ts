import type { ExplainedStage } from "../plan/explain.ts";
import { explainCure } from "../plan/explain-cure.ts";
import { explainFlow } from "../plan/explain-flow.ts";
import { explainForces } from "../plan/explain-forces.ts";
import { explainWetOut } from "../plan/explain-wet-out.ts";
import { type ExplainedLine, line } from "../plan/explained-line.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { chosenFor } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { exactly, workedLine } from "./sheet-lines.ts";
import type { SizedLiner } from "./size-liner.ts";
import { type Worked, workedText } from "./worked-equation.ts";
import { workCapacity, workInflation, workResin, workTube } from "./worked-placing.ts";

/** Resin, cure, forces and flow, each as far as the options go. */
export function workStages(sized: SizedLiner, style: NumberStyle): ExplainedStage[] {
  const { flow, basis, rings } = sized;
  const stages = [...placedStages(sized, style)];
  if (stages.length === 0 && rings.length > 0 && flow !== null)
    stages.push({
      stage: "Resin, cure, placing forces",
      lines: [line("not worked out", "give --length, the length of the host")],
    });
  const capacity = workCapacity(sized, style.units);
  if (flow !== null && capacity !== null)
    stages.push({
      stage: "Flow before and after",
      lines: withWorked(explainFlow(flow, basis, style), "full-pipe capacity on equal n", capacity),
    });
  return stages;
}

function placedStages(sized: SizedLiner, style: NumberStyle): ExplainedStage[] {
  const { placed, basis, use, pipe } = sized;
  const chosen = chosenFor(basis.liners, use);
  const host = pipe.lateral.hostDiameter?.value;
  if (placed === null || host === undefined) return [];
  const { liner, wetOut, cure, cureFit, forces } = placed;
  const [wallVolume, inTube] = workResin(placed, chosen, host, basis.shopChart, style.units);
  const resin = {
    stage: "Resin",
    lines: [
      line(
        "length cut",
        exactly(liner.cutLength, "length", style),
        "assumed",
        `${exactly(liner.installedLength, "length", style)} installed; ${liner.endSeals} end seals. ${describeSource(chosen.system.stockSource)}`,
      ),
      workedLine(wallVolume),
      ...withWorked(explainWetOut(wetOut, liner.kind, chosen, basis, style), "mixed resin", inTube),
    ],
  };
  const placing = {
    stage: "Placing forces",
    lines: withWorked(
      forces.pull === null
        ? explainForces(forces, basis, style)
        : withWorked(explainForces(forces, basis, style), "wet tube", workTube(placed, forces.pull)),
      "least pressure while curing",
      workInflation(placed, basis, style.units),
    ),
  };
  if (cure === null) return [resin, placing];
  const schedule = explainCure(cure, cureFit, chosen, style);
  return [resin, { stage: "Cure, to plan a crew's time", lines: schedule }, placing];
}

/**
 * The line of this label with its numbers put in, ahead of what its note says after the equation.
 *
 * @throws RangeError when the explanation has no such line
 */
function withWorked(lines: readonly ExplainedLine[], label: string, worked: Worked): ExplainedLine[] {
  const found = lines.find((candidate) => candidate.label === label);
  if (found === undefined) throw new RangeError(`withWorked: no line ${JSON.stringify(label)}`);
  const [, after] = /((?:; density|\. (?=Assumption)).*)$/s.exec(found.note ?? "") ?? [];
  const note = `${worked.symbol} = ${workedText(worked)}${after ?? ""}`;
  return lines.map((candidate) => (candidate === found ? { ...found, note } : candidate));
}

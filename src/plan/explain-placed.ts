import type { NumberStyle } from "../quantity/show-quantity.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import type { ExplainedStage } from "./explain.ts";
import { explainCure } from "./explain-cure.ts";
import { explainFlow } from "./explain-flow.ts";
import { explainForces } from "./explain-forces.ts";
import type { Offer } from "./plan-lateral.ts";

/** How each liner of an offer is cured and placed, and the flow after the first; nothing of a treatment without one. */
export function explainPlaced(
  { pieces, placed }: Offer,
  basis: Basis,
  style: NumberStyle,
): readonly ExplainedStage[] {
  if (placed === null) return [];
  const stages = pieces.flatMap(({ placed: { use, cure, cureFit, forces } }, i): ExplainedStage[] => {
    const of = i === 0 ? "" : `, ${use} liner`;
    return [
      { stage: `Cure${of}`, lines: explainCure(cure, cureFit, chosenFor(basis.liners, use), style) },
      { stage: `Placing forces${of}`, lines: explainForces(forces, basis, style) },
    ];
  });
  return [...stages, { stage: "Flow before and after", lines: explainFlow(placed.flow, basis, style) }];
}

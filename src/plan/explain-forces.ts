import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { InflationCheck, PlacingForces, PullCheck } from "./forces.ts";

/** Pull and pressures of placing, with what they were worked out from. Cautions, never a consent. */
export function explainForces(
  forces: PlacingForces,
  { placing }: Pick<Basis, "placing">,
  style: NumberStyle,
): ExplainedLine[] {
  const { method, pull, inflation } = forces;
  return [
    line("method", method.label, null, describeSource(method.source)),
    line("people at", method.ends.join(" and "), null, method.ends.length > 1 ? "both ends at once" : null),
    ...(pull === null || method.pull === null
      ? [line("pull", "nothing is pulled through the lateral")]
      : explainPull(pull, method.pull, placing, style)),
    ...explainInflation(inflation, placing.inflation, style),
  ];
}

function explainPull(
  check: PullCheck,
  given: NonNullable<PlacingForces["method"]["pull"]>,
  { path }: Basis["placing"],
  style: NumberStyle,
): ExplainedLine[] {
  const force = (newtons: number) => showQuantity(newtons, "force", style);
  const { pull, verdict } = check;
  return [
    line(
      "wet tube",
      `${check.newtonsPerMetre.toFixed(1)} N/m`,
      "estimated",
      "resin and dry tube over its length",
    ),
    line("bends", String(check.bends.value), check.bends.origin, check.bends.because),
    ...(check.bends.value === 0
      ? []
      : [
          line(
            "each turns",
            showQuantity(check.bendDegrees.value, "degrees", style),
            check.bendDegrees.origin,
          ),
        ]),
    line("slope", showQuantity(check.slope.value, "percent", style), check.slope.origin, check.slope.because),
    line("path", "all bends at the winch end", "assumed", describeSource(path.source)),
    line(
      "greatest pull at the winch",
      force(pull.atWinch),
      null,
      "straight T + w·L·(μ·cos θ + sin θ); bend w·R·sinh(μ·α + asinh(T/(w·R))), about T·e^(μα); rope T·e^(μ_rope·α)",
    ),
    line("greatest tension in the tube", force(pull.inTube)),
    line(
      "limits",
      `winch ${force(given.winchLimit)}, tube ${force(given.tubeLimit)}`,
      "assumed",
      `friction ${given.friction}, rope ${given.ropeFriction}. ${describeSource(given.source)}`,
    ),
    line(
      "verdict",
      verdict.kind === "within"
        ? "within the limits taken"
        : `over the ${verdict.limit}'s limit by ${force(verdict.by)}: grease, pull from the other end, or invert`,
    ),
  ];
}

function explainInflation(
  { window, groundwaterHead, trapSeal, isolated }: InflationCheck,
  given: Basis["placing"]["inflation"],
  style: NumberStyle,
): ExplainedLine[] {
  const pressure = (kilopascals: number) => showQuantity(kilopascals, "pressure", style);
  const head = (metres: number) => showQuantity(metres, "length", style);
  return [
    line("water over the invert, deepest end", head(groundwaterHead)),
    line(
      "least pressure while curing",
      pressure(window.least),
      "assumed",
      `p = γ_w·(groundwater + ${head(given.branchHead)} in branches) + ${pressure(given.margin)}. ${describeSource(given.source)}`,
    ),
    line(
      "most pressure",
      pressure(window.most),
      "assumed",
      isolated
        ? `the lower of host ${pressure(given.host)} and bladder ${pressure(given.bladder)}`
        : `the building is open to the lateral: its trap seals bear ${pressure(trapSeal)}`,
    ),
    line(
      "verdict",
      window.kind === "window"
        ? "there is a pressure between the two"
        : `no pressure is right: the ${window.limit} bears less than the water asks for; lower the groundwater or isolate the building`,
    ),
    line(
      "trap seals",
      `hold about ${pressure(trapSeal)}: air that escapes past the tube blows them`,
      "assumed",
      describeSource(given.buildingSource),
    ),
  ];
}

import type { FlowState } from "../engineering/flow.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import type { Roughness } from "../reference/hosts.ts";
import { describeSource } from "../reference/source.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { CapacityChange, DesignFlowCheck, FlowChange, SlopeCheck } from "./flow.ts";

/** What lining does to the flow, with both ratios: the smoother wall and the lost bore are shown apart. */
export function explainFlow(
  change: FlowChange,
  { hosts, drainFlow }: Pick<Basis, "hosts" | "drainFlow">,
  style: NumberStyle,
): ExplainedLine[] {
  return [
    line("bore after lining", showQuantity(change.bore, "diameter", style), null, "D − 2·t"),
    ...explainCapacity(change.capacity, hosts, style),
    ...explainDesign(change.design, drainFlow, style),
    slopeLine(change.slope, drainFlow, style),
  ];
}

function explainCapacity(
  { equalRoughness, ownRoughness, loses }: CapacityChange,
  hosts: Basis["hosts"],
  style: NumberStyle,
): ExplainedLine[] {
  const percent = (ratio: number) => showQuantity(ratio, "percent", style);
  const range = ({ least, most }: { least: number; most: number }) =>
    least === most ? least.toFixed(3) : `${least.toFixed(3)} to ${most.toFixed(3)}`;
  const read = ({ sources }: Roughness) => sources.map(describeSource).join("; ");
  return [
    line(
      "full-pipe capacity on equal n",
      percent(equalRoughness),
      null,
      "Q₂/Q₁ = ((D − 2t)/D)^(8/3): what the lost bore alone does",
    ),
    ownRoughness === null
      ? line("with the liner's smoother wall", "not known: host material not given")
      : line(
          "with the liner's smoother wall",
          ownRoughness.least === ownRoughness.most
            ? percent(ownRoughness.least)
            : `${percent(ownRoughness.least)} to ${percent(ownRoughness.most)}`,
          "estimated",
          `Q₂/Q₁ = (n₁/n₂)·((D − 2t)/D)^(8/3); host n ${range(ownRoughness.host)} (${ownRoughness.host.condition}), liner n ${range(hosts.liner)}, like ends together. ${read(ownRoughness.host)}`,
        ),
    ...(loses.evenSmoother === true
      ? [line("warning", "the lined pipe carries less than before, even counting its smoother wall")]
      : loses.onEqualRoughness
        ? [
            line(
              "warning",
              loses.evenSmoother === null
                ? "the bore lost takes capacity away; whether a smoother wall makes up for it is not known"
                : "only the smoother wall keeps the capacity: it is lost where the liner is as rough as the host was",
            ),
          ]
        : []),
  ];
}

function explainDesign(
  design: DesignFlowCheck,
  { selfCleansing, demand, capacity }: Basis["drainFlow"],
  style: NumberStyle,
): ExplainedLine[] {
  if (design.kind === "not computed")
    return [line("depth and velocity", `not computed: not given: ${design.missing.join(", ")}`)];
  const { before, after, units, cleansing } = design;
  const velocity = showQuantity(selfCleansing.velocity, "velocity", style);
  return [
    line(
      "design flow",
      showQuantity(design.flow.value, "flow", style),
      design.flow.origin,
      `${design.flow.because ?? ""}. ${describeSource(demand.source)}`,
    ),
    line(
      "before lining",
      describeState(before, style),
      null,
      "Manning on the circular segment, n at its rough end",
    ),
    line("after lining", describeState(after, style)),
    line(
      "self-cleansing",
      `${cleansing.before ? "yes" : "no"} before, ${cleansing.after ? "yes" : "no"} after`,
      "assumed",
      `velocity at the design flow of ${velocity} or more. ${describeSource(selfCleansing.source)}`,
    ),
    line(
      "slope that half full gives that velocity",
      showQuantity(design.cleansingSlope, "percent", style),
      null,
      "S = (V·n/(D/4)^(2/3))²",
    ),
    ...(units === null
      ? []
      : [
          line(
            "fixture units",
            `${units.given}; may carry ${units.before ?? "–"} before, ${units.after ?? "–"} read at the lined bore`,
            "assumed",
            describeSource(capacity.source),
          ),
          line(
            "by fixture units",
            units.adequate === null
              ? "the table does not reach this bore and slope"
              : units.adequate
                ? "adequate"
                : "not adequate at the lined bore: ask the plumbing official, who may read the table at the nominal size",
          ),
        ]),
  ];
}

function describeState(state: FlowState, style: NumberStyle): string {
  switch (state.kind) {
    case "part full":
      return `${showQuantity(state.depth, "diameter", style)} deep (${showQuantity(state.filling, "percent", style)}), ${showQuantity(state.velocity, "velocity", style)}`;
    case "beyond gravity flow":
      return `runs full under pressure: by gravity at most ${showQuantity(state.greatest, "flow", style)}`;
    default:
      return state satisfies never;
  }
}

function slopeLine(
  check: SlopeCheck | null,
  { leastSlopes }: Basis["drainFlow"],
  style: NumberStyle,
): ExplainedLine {
  const label = "least slope";
  if (leastSlopes === null)
    return line(label, "no code named", null, "name one in program.json under criteria.flow.minimum_slopes");
  if (check === null)
    return line(label, "the code says nothing of this size", null, describeSource(leastSlopes.source));
  const met = check.met === null ? "slope not given" : check.met ? "met" : "not met";
  return line(
    label,
    `${showQuantity(check.asked, "percent", style)}: ${met}`,
    null,
    describeSource(leastSlopes.source),
  );
}

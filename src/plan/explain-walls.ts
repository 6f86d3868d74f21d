import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { type Basis, listChosen } from "../reference/basis.ts";
import { isInMain, type PlannedUse, plannedUses } from "../reference/liner-systems.ts";
import { describeSource } from "../reference/source.ts";
import { sizeLabel } from "./bid-lines.ts";
import type { Effluent } from "./effluent.ts";
import { explainLiveLoad, explainWallDesign, explainWallInputs } from "./explain-wall.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { PlannedLateral } from "./plan-lateral.ts";
import { describeReason } from "./reason.ts";
import type { DesignedWall } from "./wall.ts";
import type { Wall, Walls } from "./walls.ts";

/** What the lateral carries, and what it asks of the resins chosen. */
export function explainEffluent(
  { effluent }: { readonly effluent: Effluent },
  { effluents, liners }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const { kind, temperature, notes } = effluent;
  const resins = new Map(listChosen(liners).map(({ resin }) => [resin.key, resin.label]));
  const entry = effluents.effluents.find(({ key }) => key === kind.value);
  return [
    line("effluent", kind.value, kind.origin, kind.because),
    line(
      "temperature",
      showQuantity(temperature.value, "temperature", style),
      temperature.origin,
      temperature.because,
    ),
    ...[...resins].map(([key, label]) => {
      const found = entry?.resins[key];
      const verdict = found === undefined ? "refused" : found.verdict;
      const because = found === undefined ? "not in the table" : found.because;
      return line(label, verdict, "assumed", `${because}. ${describeSource(effluents.source)}`);
    }),
    ...notes.map((note) => line("flag", describeReason(note, style))),
  ];
}

/** Every wall that was designed or refused, one heading a wall. */
export function explainWalls(
  { walls }: PlannedLateral,
  basis: Basis,
  style: NumberStyle,
): { readonly stage: string; readonly lines: readonly ExplainedLine[] }[] {
  const asked = plannedUses.filter((use) => walls[use].kind !== "not asked");
  if (asked.length === 0)
    return [{ stage: "Wall", lines: [line("no wall", "the surveys ask for no liner")] }];
  return asked.flatMap((use) => wallStages(use, walls, basis, style));
}

function wallStages(use: PlannedUse, walls: Walls, basis: Basis, style: NumberStyle) {
  const stage = `Wall, ${use === "section" ? "sectional" : use} liner`;
  if (!isInMain(use)) {
    const other = walls["full-length"];
    const same = use === "section" && sameDesign(walls.section, other);
    return [{ stage, lines: same ? sameLines(walls.section, style) : wallLines(walls[use], basis, style) }];
  }
  const both = walls[use];
  if (both.kind !== "designed") return [{ stage, lines: wallLines(both, basis, style) }];
  return [
    { stage: `${stage}, in the lateral`, lines: wallLines(both.lateralPart, basis, style) },
    { stage: `${stage}, in the main`, lines: wallLines(both.mainPart, basis, style) },
  ];
}

/** A section of the same system in the same host has the same design; only its notes may differ. */
const sameDesign = (section: Wall, other: Wall): boolean =>
  section.kind === "designed" && other.kind === "designed" && section.system === other.system;

function sameLines(wall: Wall, style: NumberStyle): ExplainedLine[] {
  if (wall.kind !== "designed") return [];
  return [
    line("wall", showQuantity(wall.specified.stocked, "wall", style), null, "as of the full-length liner"),
    ...noteLines(wall, style),
  ];
}

function wallLines(wall: Wall, basis: Basis, style: NumberStyle): ExplainedLine[] {
  if (wall.kind === "not asked") return [];
  if (wall.kind === "refused")
    return wall.reasons.map((reason) => line("no wall", describeReason(reason, style)));
  const { criteria } = basis;
  const { calculated, specifiedMinimum, stocked, governedBy } = wall.specified;
  return [
    ...explainWallInputs(wall.inputs, style),
    line("liner size", sizeLabel(wall.nominalDiameter, basis.program.units)),
    explainLiveLoad(wall.liveLoad, criteria, style),
    ...explainWallDesign(wall.worst, wall, criteria, style),
    line(
      "calculated wall",
      showQuantity(calculated, "wall", style),
      null,
      `DR ${wall.worst.design.dimensionRatio.toFixed(1)}`,
    ),
    line(
      "specified minimum",
      showQuantity(specifiedMinimum, "wall", style),
      null,
      describeSource(criteria.source),
    ),
    line(
      "wall",
      showQuantity(stocked, "wall", style),
      null,
      `DR ${wall.dimensionRatio.toFixed(1)}; next stocked; the ${governedBy === "calculation" ? "calculation" : "specified minimum"} decides. ${describeSource(wall.system.stockSource)}`,
    ),
    ...crossCheckLines(wall, style),
    ...noteLines(wall, style),
  ];
}

const noteLines = (wall: DesignedWall, style: NumberStyle): ExplainedLine[] =>
  wall.notes.map((note) => line("note", describeReason(note, style)));

/** Glock beside X1.1: by a formula from memory without a published check value, so never the design. */
export function crossCheckLines(
  { crossCheck }: Pick<DesignedWall, "crossCheck">,
  style: NumberStyle,
): ExplainedLine[] {
  if (crossCheck === null)
    return [line("second opinion", "none: no groundwater over the invert to buckle the liner")];
  return [
    line(
      "second opinion, close-fit buckling by Glock",
      showQuantity(crossCheck.glockWall, "wall", style),
      null,
      `unpublished-check cross-check: p = E_L/(1 − ν²)·(t/(D − t))^2.2·C/N, from memory; ${crossCheck.ratio.toFixed(2)} × the ${showQuantity(crossCheck.appendixWall, "wall", style)} of X1.1 under ${showQuantity(crossCheck.pressure, "pressure", style)}`,
    ),
    line(
      "enhancement K that Glock implies",
      `${crossCheck.impliedEnhancement.toFixed(1)} at DR ${crossCheck.dimensionRatio.toFixed(1)}, ${crossCheck.impliedAtOrdered.toFixed(1)} at DR ${crossCheck.orderedRatio.toFixed(1)} as ordered`,
      null,
      "K = ½·(DR − 1)^0.8, by dividing the two equations",
    ),
  ];
}

import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { cautionNamed } from "../reference/cautions.ts";
import { describeSource } from "../reference/source.ts";
import type { ExplainedStage } from "./explain.ts";
import { explainWetOut } from "./explain-wet-out.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import { type Liner, useOf } from "./liner.ts";
import { hasPartInMain } from "./part-in-main.ts";
import type { Offer } from "./plan-lateral.ts";

/** Every liner of an offer with its resin: a combination has one at the connection too, and its resin is the sum of both. */
export function explainLiners(
  { pieces, treatment }: Offer,
  basis: Basis,
  style: NumberStyle,
): readonly ExplainedStage[] {
  const stage = "Liner and resin";
  const [first, ...more] = pieces;
  if (first === undefined) return [{ stage, lines: [line("liner", `none: ${treatment}`)] }];
  return [
    { stage, lines: [...explainLiner(first, basis, style), ...resinOfAll(pieces, style)] },
    ...more.map((piece) => ({
      stage: `${stage}, ${useOf[piece.liner.kind]} liner`,
      lines: explainLiner(piece, basis, style),
    })),
  ];
}

/** Nothing of a single liner. */
function resinOfAll(pieces: Offer["pieces"], style: NumberStyle): ExplainedLine[] {
  if (pieces.length < 2) return [];
  const millilitres = pieces.reduce((sum, { placed }) => sum + placed.wetOut.millilitres, 0);
  return [
    line(
      "mixed resin, all liners",
      showQuantity(millilitres / 1000, "volume", style),
      "assumed",
      `with that ${pieces
        .slice(1)
        .map(({ liner }) => `of the ${useOf[liner.kind]} liner`)
        .join(" and ")} below: what the sheet and the totals count`,
    ),
  ];
}

function explainLiner(
  { liner, placed: { wetOut } }: Offer["pieces"][number],
  basis: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const chosen = chosenFor(basis.liners, useOf[liner.kind]);
  const { system } = chosen;
  return [
    line("liner", system.label),
    ...explainConnection(liner, basis, style),
    line("installed length", showQuantity(liner.installedLength, "length", style)),
    line(
      "length cut",
      showQuantity(liner.cutLength, "length", style),
      "assumed",
      describeSource(system.stockSource),
    ),
    line("end seals", String(liner.endSeals)),
    ...explainWetOut(wetOut, liner.kind, chosen, basis, style),
    line("before ordering", cautionNamed("field measure").text),
  ];
}

/** The part in the main and the joint; nothing of another liner. */
export function explainConnection(
  liner: NonNullable<Liner>,
  { treatments }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  if (!hasPartInMain(liner)) return [];
  const { connection } = treatments;
  const { mainSheet, lateralSheet } = liner.takeoff;
  const main =
    connection.mainPart === "brim"
      ? `brim of ${showQuantity(connection.brimWidth, "diameter", style)}`
      : `full circle, ${showQuantity(connection.mainEachSide, "length", style)} each side`;
  return [
    line("in the main", main, null, describeSource(connection.source)),
    line("junction", `${connection.junction}, ${connection.junctionAngle} degrees`),
    line("wall in the main", showQuantity(liner.mainWall, "wall", style)),
    line(
      "sheet, main and lateral",
      `${showQuantity(mainSheet, "area", style)}, ${showQuantity(lateralSheet, "area", style)}`,
    ),
  ];
}

import type { WallCheck } from "../engineering/liner-wall.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import { checkedAt } from "../plan/explain-wall.ts";
import { type ExplainedLine, line } from "../plan/explained-line.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { describeSource, type Source } from "../reference/source.ts";
import { exactly, statedLine, workedLine } from "./sheet-lines.ts";
import type { SizedRing } from "./size-liner.ts";
import { digits } from "./worked-equation.ts";
import { OVER_INVERT, workChecks, workLoads, workSecondOpinion } from "./worked-wall.ts";

/** Where the equations of the wall come from. */
export const HANDBOOK: Source = {
  document: "Trenchless Technology Piping: Installation and Inspection, McGraw-Hill/WEF/ASCE",
  edition: "2010",
  at: "p. 75-83",
  note: "Restates ASTM F1216-09, Appendix X1.",
};

export const OLDER_EDITION: Source = {
  document: "CIPP liner thickness changes under F1216-07b, No-Dig 2008",
  at: "abstract",
  note: "That the edition changed X1.3; its older form is from memory, unverified.",
};

export const GLOCK: Source = {
  document: "Glock, 1977, close-fit buckling",
  note: "Formula from memory; no published check value was read, so it is a cross-check and never the design. C and N are carried over from X1.1.",
};

export function ringStages(ring: SizedRing, isOneOfTwo: boolean, basis: Basis): ExplainedStage[] {
  const { criteria } = basis;
  const style: NumberStyle = basis.program;
  const of = isOneOfTwo ? `, part in the ${ring.part}` : "";
  const { worst, inputs } = ring;
  const along =
    inputs.coverAtHouse.value === inputs.coverAtMain.value
      ? ""
      : `, the worst along the pipe: ${showQuantity(worst.at, "percent", style)} of the way from house to main`;
  const where = `${exactly(worst.cover, "length", style)} of cover${along}`;
  /** Where the checks are not all under one cover, that of each. */
  const underOf = (check: WallCheck): string | null => {
    const { cover } = checkedAt(worst, check);
    return cover === null || worst.cover === worst.deepest.cover
      ? null
      : `under ${exactly(cover, "length", style)} of cover`;
  };
  const diameter =
    ring.part === "main"
      ? [
          line("inside diameter D", exactly(inputs.hostDiameter.value, "diameter", style)),
          statedLine("ovality q", exactly(inputs.ovality.value, "percent", style), inputs.ovality, basis),
          statedLine("surface", inputs.surface.value, inputs.surface, basis),
        ]
      : [];
  return [
    {
      stage: `Loads${of}, under ${where}`,
      lines: [
        ...diameter,
        ...workLoads(ring, criteria, style.units).map((worked) =>
          workedLine(
            worked,
            worked.symbol === "W_s"
              ? liveLoadNote(ring, basis)
              : worked.symbol === OVER_INVERT
                ? underOf("buckling")
                : null,
          ),
        ),
      ],
    },
    {
      stage: `Checks${of}: ASTM F1216 Appendix X1, solved for the wall t ${describeSource(HANDBOOK)}${criteria.edition === "before 2007b" ? ` ${describeSource(OLDER_EDITION)}` : ""}`,
      lines: [
        ...workChecks(ring, criteria, style.units).map((worked) =>
          workedLine(
            { ...worked, symbol: checkNames[worked.check] },
            [underOf(worked.check), worked.governs ? "◀ governs" : null]
              .filter((note) => note !== null)
              .join(" ") || null,
          ),
        ),
      ],
    },
    { stage: `Wall${of}`, lines: wallLines(ring, basis) },
    { stage: `Second opinion${of}`, lines: opinionLines(ring, basis) },
  ];
}

/** Short, for the column of labels. */
const checkNames: Readonly<Record<WallCheck, string>> = {
  buckling: "X1.1 buckling",
  bending: "X1.2 bending",
  "soil-buckling": "X1.3 soil and traffic",
  stiffness: "X1.4 stiffness",
  "largest-ratio": "greatest DR",
};

/** Which wheel and table, with its source. */
function liveLoadNote({ liveLoad }: SizedRing, { criteria }: Basis): string {
  switch (liveLoad.kind) {
    case "none":
      return "this surface carries no wheel, or the criteria none";
    case "stated":
      return `stated by ${criteria.statedLiveLoadBy}`;
    case "boussinesq": {
      const impact = liveLoads.impact[liveLoad.impact.name];
      return (
        `${liveLoad.wheel.name} wheel over the pipe, Boussinesq; I by Newmark's integral. ` +
        `${describeSource(liveLoads.wheelSource)} Impact ${liveLoad.impact.name}. ${impact === undefined ? "" : describeSource(impact.source)}`
      );
    }
    case "spread":
      return `${liveLoad.wheel.name} wheel spread through the soil, service load. ${describeSource(liveLoads.spreadSource)}`;
    case "depth table": {
      const table = liveLoads.depthTables[liveLoad.table.name];
      return `${liveLoad.table.name}. ${table === undefined ? "" : describeSource(table.source)}`;
    }
    default:
      return liveLoad satisfies never;
  }
}

const wall = (mm: number, { units }: NumberStyle): string =>
  units === "us" ? `${digits(mm / 25.4, 4)} in (${mm.toFixed(2)} mm)` : `${mm.toFixed(2)} mm`;

function wallLines({ worst, specified, inputs, system, part }: SizedRing, basis: Basis): ExplainedLine[] {
  const style: NumberStyle = basis.program;
  const { design } = worst;
  const ratio = (mm: number) => `DR ${(inputs.hostDiameter.value / mm).toFixed(1)}`;
  const minimum = basis.criteria.minimumWall;
  const stock = part === "main" && system.main !== null ? system.main.source : system.stockSource;
  return [
    line(
      "calculated",
      wall(design.wall, style),
      null,
      `${ratio(design.wall)}; ${checkNames[design.governing]} governs`,
    ),
    line("specified minimum", wall(minimum, style), null, describeSource(basis.criteria.source)),
    specified.kind === "refused"
      ? line(
          "stocked",
          `none so thick: ${wall(specified.needed, style)} asked for`,
          null,
          describeSource(stock),
        )
      : line(
          "stocked, to order",
          wall(specified.stocked, style),
          "assumed",
          `${ratio(specified.stocked)}; the ${specified.governedBy === "calculation" ? "calculation" : "specified minimum"} decides. ${describeSource(stock)}`,
        ),
  ];
}

function opinionLines(ring: SizedRing, basis: Basis): ExplainedLine[] {
  const style: NumberStyle = basis.program;
  if (ring.crossCheck === null)
    return [line("Glock", "none: no groundwater over the invert to buckle the liner")];
  const [slenderness, thickness, ...rest] = workSecondOpinion(ring, basis.criteria, style.units);
  if (slenderness === undefined || thickness === undefined)
    throw new RangeError("opinionLines: no second opinion of a ring under water");
  const { caution, impliedEnhancement, impliedAtOrdered, exceedsOrdered } = ring.crossCheck;
  const least = Math.min(impliedEnhancement, impliedAtOrdered);
  return [
    workedLine(
      slenderness,
      `under ${exactly(ring.crossCheck.pressure, "pressure", style)}, the deepest end. ${describeSource(GLOCK)}`,
    ),
    workedLine(thickness),
    ...rest.map((worked) => workedLine(worked)),
    line(
      "verdict",
      caution
        ? `CAUTION: K = ${basis.criteria.enhancement} is over the ${least.toFixed(1)} that Glock implies: not on the safe side here${exceedsOrdered ? ", and Glock asks for more than the wall ordered" : ""}`
        : `K = ${basis.criteria.enhancement} is not over what Glock implies`,
    ),
  ];
}

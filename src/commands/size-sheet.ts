import { type ExplainedStage, explainConnection } from "../plan/explain.ts";
import { explainCure } from "../plan/explain-cure.ts";
import { explainFlow } from "../plan/explain-flow.ts";
import { explainForces } from "../plan/explain-forces.ts";
import { wallEquations } from "../plan/explain-wall.ts";
import { explainEffluent } from "../plan/explain-walls.ts";
import { explainWetOut } from "../plan/explain-wet-out.ts";
import { type ExplainedLine, line } from "../plan/explained-line.ts";
import { describeReason } from "../plan/reason.ts";
import type { Stated } from "../plan/stated.ts";
import { SETTINGS_FILE } from "../program/program-files.ts";
import { type QuantityMeasure, toShown } from "../quantity/measure.ts";
import { type NumberStyle, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { cautionsFor } from "../reference/cautions.ts";
import { cureComparison } from "../reference/cure-methods.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { soilModuli } from "../reference/soil-moduli.ts";
import { describeSource, type Source } from "../reference/source.ts";
import { type SizedLiner, type SizedRing, treatmentOf } from "./size-liner.ts";
import { digits, type Worked, workedText } from "./worked-equation.ts";
import { workCapacity, workInflation, workResin } from "./worked-placing.ts";
import { workChecks, workLoads, workSecondOpinion } from "./worked-wall.ts";

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

const heading = (use: SizedLiner["use"]): string => (use === "section" ? "sectional" : use);

/** The calculation sheet, stage by stage; the text puts numbers of sources in the place of their names. */
export function sizeSheet(sized: SizedLiner): readonly ExplainedStage[] {
  const { basis, use, rings, placed, effluent } = sized;
  const style: NumberStyle = basis.program;
  const chosen = basis.liners[use];
  const only = { ...basis, liners: { "full-length": chosen, section: chosen, connection: chosen } };
  return [
    { stage: "Inputs", lines: inputLines(sized, style) },
    { stage: "Effluent", lines: explainEffluent({ effluent }, only, style) },
    ...rings.flatMap((ring) => ringStages(ring, rings.length > 1, basis)),
    ...(sized.against.length === 0 && sized.notes.length === 0
      ? []
      : [{ stage: "Scope and notes", lines: noteLines(sized, style) }]),
    ...(placed?.liner.kind === "connection"
      ? [{ stage: "Connection", lines: explainConnection(placed.liner, basis, style) }]
      : []),
    ...workStages(sized, style),
    { stage: "Cautions", lines: cautionLines(use) },
  ];
}

/** What the sheet is about, without a day: the same inputs give the same sheet. */
export function sizeTitle({ use, pipe, basis }: SizedLiner): string {
  const style: NumberStyle = basis.program;
  const host = pipe.lateral.hostDiameter?.value ?? Number.NaN;
  return `Calculation sheet: ${heading(use)} liner in a ${exactly(host, "diameter", style)} host, ${basis.liners[use].system.label}`;
}

/** Every digit that was typed, in the units of the sheet. */
function exactly(value: number, measure: QuantityMeasure, style: NumberStyle): string {
  const unit = unitLabel(measure, style);
  return `${digits(toShown(value, measure, style.units))}${unit === "" ? "" : ` ${unit}`}`;
}

/** An assumption's source stands behind its label. */
function statedLine(label: string, shown: string, { origin, because }: Stated<unknown>, basis: Basis) {
  if (origin === "decided") return line(label, shown, null, because);
  const assumption = Object.values(basis.assumptions).find(
    (found) => because !== null && because.startsWith(found.label),
  );
  const source = assumption === undefined ? "" : ` ${describeSource(assumption.source)}`;
  return line(label, shown, origin, because === null ? null : `${because}${source}`);
}

function inputLines(
  { inputs, basis, use, rings, pipe, effluent }: SizedLiner,
  style: NumberStyle,
): ExplainedLine[] {
  const { criteria } = basis;
  const { system, resin } = basis.liners[use];
  const material = rings[0]?.material ?? null;
  const amount = (label: string, value: Stated<number>, measure: QuantityMeasure) =>
    statedLine(label, exactly(value.value, measure, style), value, basis);
  const exact = (value: number, measure: QuantityMeasure) => exactly(value, measure, style);
  const short = criteria.strengthBasis === "short term";
  const { main, hostLength } = pipeLines(pipe, style, basis);
  return [
    ...(inputs === null
      ? []
      : [
          amount("host diameter D", inputs.hostDiameter, "diameter"),
          ...main,
          ...hostLength,
          amount("ovality q", inputs.ovality, "percent"),
          ...(inputs.coverAtHouse.value === inputs.coverAtMain.value &&
          inputs.coverAtHouse.because === inputs.coverAtMain.because
            ? [amount("cover over crown H", inputs.coverAtHouse, "length")]
            : [
                amount("cover at house", inputs.coverAtHouse, "length"),
                amount("cover at main", inputs.coverAtMain, "length"),
              ]),
          amount("water table below surface", inputs.waterTableDepth, "length"),
          statedLine("surface", inputs.surface.value, inputs.surface, basis),
        ]),
    line("design criteria", criteria.key, null, describeSource(criteria.source)),
    line(
      "host",
      `${criteria.deterioration} deteriorated`,
      null,
      criteria.deteriorationBy === ""
        ? "unless the specification or a named engineer says otherwise"
        : criteria.deteriorationBy,
    ),
    line("edition of X1.3", `ASTM F1216, ${criteria.edition}`),
    line("N, K, ν", `${criteria.safetyFactor}, ${criteria.enhancement}, ${criteria.poissonsRatio}`),
    line(
      "soil modulus E′_s, weight w",
      `${exact(criteria.soilModulus, "modulus")}, ${exact(criteria.soilUnitWeight, "unit_weight")}`,
      criteria.soil === null ? null : "assumed",
      criteria.soil === null
        ? null
        : `${soilModuli.classes[criteria.soil.class].label}, ${soilModuli.compactions[criteria.soil.compaction]}. ${describeSource(soilModuli.source)}`,
    ),
    line("liner", system.label, null, `${resin.label}. ${describeSource(system.propertySource)}`),
    line(
      "modulus E, E_L",
      material === null
        ? `${exact(system.shortTermModulus, "modulus")}, long term not known at ${exact(effluent.temperature.value, "temperature")}`
        : `${exact(material.shortTermModulus, "modulus")}, ${exact(material.longTermModulus, "modulus")}`,
      null,
      "short term, long term",
    ),
    ...(material === null
      ? []
      : [
          line(
            `strength σ, ${criteria.strengthBasis}`,
            exact(short ? material.shortTermStrength : material.longTermStrength, "modulus"),
            null,
            short
              ? "only to reproduce the handbook: the appendix means the long-term strength (from memory)"
              : null,
          ),
        ]),
  ];
}

function pipeLines({ lateral }: SizedLiner["pipe"], style: NumberStyle, basis: Basis) {
  const given = (label: string, value: Stated<number> | null, measure: QuantityMeasure) =>
    value === null ? [] : [statedLine(label, exactly(value.value, measure, style), value, basis)];
  return {
    main: given("diameter of the main", lateral.mainDiameter, "diameter"),
    hostLength: given("length of the host L", lateral.hostLength, "length"),
  };
}

function ringStages(ring: SizedRing, isOneOfTwo: boolean, basis: Basis): ExplainedStage[] {
  const { criteria } = basis;
  const style: NumberStyle = basis.program;
  const of = isOneOfTwo ? `, part in the ${ring.part}` : "";
  const { worst, inputs } = ring;
  const along =
    inputs.coverAtHouse.value === inputs.coverAtMain.value
      ? ""
      : `, ${showQuantity(worst.at, "percent", style)} of the way from house to main, the worst along it`;
  const where = `${exactly(worst.cover, "length", style)} of cover${along}`;
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
          workedLine(worked, worked.symbol === "W_s" ? liveLoadNote(ring, basis) : null),
        ),
      ],
    },
    {
      stage: `Checks${of}: ASTM F1216 Appendix X1, solved for the wall t`,
      lines: [
        ...workChecks(ring, criteria, style.units).map((worked) =>
          workedLine(
            { ...worked, symbol: wallEquations[worked.check].name },
            worked.governs ? "◀ governs" : null,
          ),
        ),
        line(
          "equations",
          describeSource(HANDBOOK),
          null,
          criteria.edition === "before 2007b" ? describeSource(OLDER_EDITION) : null,
        ),
      ],
    },
    { stage: `Wall${of}`, lines: wallLines(ring, basis) },
    { stage: `Second opinion${of}`, lines: opinionLines(ring, basis) },
  ];
}

const workedLine = (worked: Worked, note: string | null = null): ExplainedLine =>
  line(worked.symbol, workedText(worked), null, note);

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
      `${ratio(design.wall)}; ${wallEquations[design.governing].name} governs`,
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
  const { caution, impliedEnhancement, impliedAtOrdered } = ring.crossCheck;
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
        ? `CAUTION: K = ${basis.criteria.enhancement} is over the ${least.toFixed(1)} that Glock implies: not on the safe side here`
        : `K = ${basis.criteria.enhancement} is not over what Glock implies`,
    ),
  ];
}

function noteLines({ against, notes }: SizedLiner, style: NumberStyle): ExplainedLine[] {
  return [
    ...against.map((reason) => line("AGAINST", describeReason(reason, style))),
    ...notes.map((reason) => line("note", describeReason(reason, style))),
  ];
}

/** Resin, cure, forces and flow, each as far as the options go. */
function workStages(sized: SizedLiner, style: NumberStyle): ExplainedStage[] {
  const { placed, flow, basis, use, pipe, rings } = sized;
  const chosen = basis.liners[use];
  const host = pipe.lateral.hostDiameter?.value;
  const stages: ExplainedStage[] = [];
  if (placed !== null && host !== undefined) {
    const { liner, wetOut, cure, cureFit, forces } = placed;
    stages.push({
      stage: "Resin",
      lines: [
        line(
          "length cut",
          exactly(liner.cutLength, "length", style),
          "assumed",
          `${exactly(liner.installedLength, "length", style)} installed; ${liner.endSeals} end seals. ${describeSource(chosen.system.stockSource)}`,
        ),
        ...workResin(placed, chosen, host, basis.shopChart, style.units).map((worked) => workedLine(worked)),
        ...explainWetOut(wetOut, chosen, basis, style),
      ],
    });
    if (cure !== null)
      stages.push({
        stage: "Cure (for planning a crew's time)",
        lines: explainCure(cure, cureFit, chosen, style),
      });
    stages.push({
      stage: "Placing forces",
      lines: [...explainForces(forces, basis, style), workedLine(workInflation(placed, basis, style.units))],
    });
  } else if (rings.length > 0 && flow !== null) {
    stages.push({
      stage: "Resin, cure, placing forces",
      lines: [line("not worked out", "give --length, the length of the host")],
    });
  }
  if (flow !== null) {
    const worked = workCapacity(sized, style.units);
    stages.push({
      stage: "Flow before and after",
      lines: [...(worked === null ? [] : [workedLine(worked)]), ...explainFlow(flow, basis, style)],
    });
  }
  return stages;
}

/** The first sentence of each; whole in the JSON, the workbooks and the plan. The first caution is whole here too. */
const cautionLines = (use: SizedLiner["use"]): ExplainedLine[] =>
  cautionsFor(new Set([treatmentOf[use]])).map(({ key, text }) =>
    line(key, key === "engineer" ? text : (text.split(/(?<=[.;]) /)[0] ?? text).replace(/;$/, ".")),
  );

/** How a source is listed: an option's is the command line, whatever file the same change would stand in. */
export const sourceText = (source: Source): string =>
  source.document === SETTINGS_FILE
    ? `This command line. ${source.note ?? ""}`.trim()
    : describeSource(source);

/** Everything that holds a source the sheet may name. */
export const sheetTables = ({ basis, use }: SizedLiner): unknown => ({
  own: [HANDBOOK, OLDER_EDITION, GLOCK],
  basis: { ...basis, liners: basis.liners[use] },
  liveLoads,
  soilModuli,
  cureComparison,
});

import type { LinerMaterial, WallCheck, WallDesign } from "../engineering/liner-wall.ts";
import type { LiveLoadMethod } from "../engineering/surface-load.ts";
import type { WorstCover } from "../engineering/worst-cover.ts";
import type { Measure } from "../quantity/measure.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { deteriorationSaidBy } from "../reference/design-criteria.ts";
import type { LinerSystem } from "../reference/liner-systems.ts";
import { soilModuli } from "../reference/soil-moduli.ts";
import { describeSource } from "../reference/source.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { Stated } from "./stated.ts";
import type { WallInputsStated } from "./wall.ts";

/** The equation behind each check, as an explanation prints it. */
export const wallEquations: Readonly<
  Record<WallCheck, { readonly name: string; readonly equation: string }>
> = {
  buckling: { name: "buckling (X1.1)", equation: "P = 2·K·E_L/(1 − ν²) · 1/(DR − 1)³ · C/N" },
  bending: {
    name: "out-of-round bending (X1.2)",
    equation: "1.5·q·(1 + q)·DR² − 0.5·(1 + q)·DR = σ/(P·N)",
  },
  "soil-buckling": {
    name: "soil and traffic (X1.3)",
    equation: "q_t = 1/N · [32·R_w·B′·E′_s·C·(E_L·I/D³)]^½",
  },
  stiffness: { name: "stiffness (X1.4)", equation: "E·I/D³ = E/(12·DR³) ≥ 0.093 psi (0.64 kPa)" },
  "largest-ratio": { name: "greatest DR", equation: "t ≥ D/100, from memory, unverified" },
};

/** X1.3 as the older editions had it. From memory, unverified. */
const OLDER_SOIL_EQUATION = "q_t = C/N · [32·R_w·B′·E′_s·(E_L·I/D³)]^½, from memory, unverified";

/** What the wall was designed for, each with where it comes from. */
export function explainWallInputs(inputs: WallInputsStated, style: NumberStyle): ExplainedLine[] {
  const input = (label: string, value: Stated<number>, measure: Measure) =>
    line(label, showQuantity(value.value, measure, style), value.origin, value.because);
  return [
    input("host diameter D", inputs.hostDiameter, "diameter"),
    input("ovality q", inputs.ovality, "percent"),
    input("cover at house", inputs.coverAtHouse, "length"),
    input("cover at main", inputs.coverAtMain, "length"),
    input("water table below surface", inputs.waterTableDepth, "length"),
    line("surface", inputs.surface.value, inputs.surface.origin, inputs.surface.because),
  ];
}

/** The design by ASTM F1216 Appendix X1: criteria, loads, each check with its equation, and which governs. */
export function explainWallDesign(
  worst: WorstCover,
  { system, material }: { readonly system: LinerSystem; readonly material: LinerMaterial },
  criteria: Basis["criteria"],
  style: NumberStyle,
): ExplainedLine[] {
  const { design, deepest } = worst;
  /** Where the checks are not all under one cover, that of each. */
  const underOf = (check: WallCheck): string | null => {
    const { cover } = checkedAt(worst, check);
    if (worst.cover === deepest.cover) return null;
    return cover === null ? "under any cover" : `under ${showQuantity(cover, "length", style)} of cover`;
  };
  const load = design.externalLoad;
  const pressure = (value: number) => showQuantity(value, "pressure", style);
  const along =
    worst.at === 0
      ? "at the house, or the same all along"
      : `at ${showQuantity(worst.at, "percent", style)} of the way from house to main`;
  return [
    line("design criteria", criteria.key, null, describeSource(criteria.source)),
    line("host", `${criteria.deterioration} deteriorated`, null, deteriorationSaidBy(criteria)),
    line(
      "edition of X1.3",
      `ASTM F1216 ${design.edition}`,
      null,
      "Appendix X1 as restated in Trenchless Technology Piping, 2010, p. 75-83",
    ),
    line(
      "safety factor N, enhancement K, Poisson ν",
      `${criteria.safetyFactor}, ${criteria.enhancement}, ${criteria.poissonsRatio}`,
    ),
    line(
      "soil modulus E′_s",
      showQuantity(criteria.soilModulus, "modulus", style),
      criteria.soil === null ? null : "assumed",
      soilNote(criteria.soil),
    ),
    line("soil unit weight", showQuantity(criteria.soilUnitWeight, "unit_weight", style)),
    line("liner", system.label, null, describeSource(system.propertySource)),
    line(
      "modulus short term, long term",
      `${showQuantity(material.shortTermModulus, "modulus", style)}, ${showQuantity(material.longTermModulus, "modulus", style)}`,
    ),
    line(
      `strength σ, ${design.strengthBasis}`,
      showQuantity(
        design.strengthBasis === "long term" ? material.longTermStrength : material.shortTermStrength,
        "modulus",
        style,
      ),
      null,
      design.strengthBasis === "short term"
        ? "only to reproduce the handbook's examples: the appendix means the long-term strength (from memory)"
        : null,
    ),
    line("worst cover", showQuantity(worst.cover, "length", style), null, along),
    line("ovality reduction C", design.ovalityReduction.toFixed(4), null, "C = [(1 − q)/(1 + q)²]³"),
    line(
      "groundwater pressure P over invert",
      pressure(deepest.design.waterPressure),
      null,
      underOf("buckling"),
    ),
    ...(load === null
      ? []
      : [
          line(
            "water buoyancy R_w",
            load.waterBuoyancy.toFixed(4),
            null,
            "R_w = 1 − 0.33·H_w/H, at least 0.67",
          ),
          line("soil support B′", load.soilSupport.toFixed(4), null, "B′ = 1/(1 + 4·exp(−0.065·H)), H in ft"),
          line(
            "external load q_t",
            pressure(load.total),
            null,
            `water ${pressure(load.water)} + soil ${pressure(load.soil)} + live ${pressure(load.live)}`,
          ),
        ]),
    ...(Object.keys(wallEquations) as WallCheck[]).flatMap((check) => {
      const needed = checkedAt(worst, check).design.walls[check];
      if (needed === null) return [];
      const { name } = wallEquations[check];
      const older = check === "soil-buckling" && design.edition === "before 2007b";
      const equation = older ? OLDER_SOIL_EQUATION : wallEquations[check].equation;
      return [
        line(
          name,
          showQuantity(needed, "wall", style),
          null,
          [equation, underOf(check), check === design.governing ? "governs" : null]
            .filter((part) => part !== null)
            .join(" — "),
        ),
      ];
    }),
  ];
}

/**
 * The cover where a check asks for most, and the design there: water presses most at the deepest end, soil and traffic together at the worst
 * cover. Null where cover is nothing to it.
 */
export function checkedAt(
  { cover, design, deepest }: WorstCover,
  check: WallCheck,
): { readonly cover: Metres | null; readonly design: WallDesign } {
  switch (check) {
    case "buckling":
    case "bending":
      return deepest;
    case "soil-buckling":
      return { cover, design };
    case "stiffness":
    case "largest-ratio":
      return { cover: null, design };
    default:
      return check satisfies never;
  }
}

const soilNote = (soil: Basis["criteria"]["soil"]): string | null =>
  soil === null
    ? null
    : `${soilModuli.classes[soil.class].label}, ${soilModuli.compactions[soil.compaction]}. ${describeSource(soilModuli.source)}`;

/** How traffic became a pressure. */
export function explainLiveLoad(
  method: LiveLoadMethod,
  criteria: Basis["criteria"],
  style: NumberStyle,
): ExplainedLine {
  const label = "live load";
  const factor = criteria.liveLoadReduction === 1 ? "" : `, times R = ${criteria.liveLoadReduction}`;
  switch (method.kind) {
    case "none":
      return line(label, "none under this surface");
    case "stated":
      return line(
        label,
        showQuantity(method.pressure, "pressure", style),
        "decided",
        `stated by ${criteria.statedLiveLoadBy}`,
      );
    case "boussinesq":
      return line(
        label,
        `${method.wheel.name} wheel${factor}, Boussinesq over the pipe's plan area`,
        null,
        `impact: ${method.impact.name}`,
      );
    case "spread":
      return line(
        label,
        `${method.wheel.name} wheel${factor}, spread through the soil`,
        null,
        `service load, growth ${method.spread.growth} per unit of cover (${criteria.spreadSoil})`,
      );
    case "depth table":
      return line(label, method.table.name, "assumed");
    default:
      return method satisfies never;
  }
}

import { type ExplainedLine, line } from "../plan/explained-line.ts";
import { materialAt } from "../plan/liner-material.ts";
import type { Stated } from "../plan/stated.ts";
import type { QuantityMeasure } from "../quantity/measure.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { deteriorationSaidBy } from "../reference/design-criteria.ts";
import { soilModuli } from "../reference/soil-moduli.ts";
import { describeSource } from "../reference/source.ts";
import { exactly, statedLine } from "./sheet-lines.ts";
import type { SizedLiner } from "./size-liner.ts";

export function inputLines(
  { inputs, basis, use, rings, pipe, effluent }: SizedLiner,
  style: NumberStyle,
): ExplainedLine[] {
  const { criteria } = basis;
  const { system, resin } = chosenFor(basis.liners, use);
  const material = rings[0]?.material ?? materialAt(system, effluent.temperature.value);
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
          amount("water table, depth", inputs.waterTableDepth, "length"),
          statedLine("surface", inputs.surface.value, inputs.surface, basis),
        ]),
    line("design criteria", criteria.key, null, describeSource(criteria.source)),
    line("host", `${criteria.deterioration} deteriorated`, null, deteriorationSaidBy(criteria)),
    line(
      "N, K, ν",
      `${criteria.safetyFactor}, ${criteria.enhancement}, ${criteria.poissonsRatio}`,
      null,
      `X1.3 of ASTM F1216, edition ${criteria.edition}`,
    ),
    line(
      "soil: E′_s, weight w",
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

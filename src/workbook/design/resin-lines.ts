import type { Measure } from "../../quantity/measure.ts";
import type { DesignLine, WorkedLine } from "./design-line.ts";
import type { DesignRing, RingResin } from "./design-ring.ts";
import { ofLateral } from "./pipe-lines.ts";
import { worked } from "./worked-line.ts";

/** Mixed resin of the liner, from its wall and its tube, or from the shop's chart. */
export const resinLines: readonly DesignLine[] = [
  { kind: "section", title: "Resin" },
  given("tube", "", "tube", "text", ({ chosen }) => chosen.system.tube.kind),
  given("L_cut", "L_c", "length cut, with run-in and run-out", "length", ({ cutLength }) => cutLength),
  given(
    "V_given",
    "",
    "wall of a liner with a part in the main, by its geometry",
    "volume",
    ({ wallVolume }) => wallVolume ?? "",
  ),
  given("v", "v", "voids of felt", "percent", ({ chosen: { system } }) =>
    system.tube.kind === "felt" ? system.tube.voidRatio : "",
  ),
  given("w_f", "w_f", "fibre of glass, by mass", "percent", ({ chosen: { system } }) =>
    system.tube.kind === "glass" ? system.tube.fibreMassFraction : "",
  ),
  given("rho_f", "ρ_f", "density of the fibre", "density", ({ chosen: { system } }) =>
    system.tube.kind === "glass" ? system.tube.fibreDensity : "",
  ),
  given("x", "x", "excess", "percent", ({ chosen }) => chosen.system.excess),
  given("rho", "ρ", "density of the mixed resin", "density", ({ chosen }) => chosen.resin.density.used),
  given("chart", "c", "the shop's own chart, resin a length", "linear_mass", ({ chart }) => chart ?? ""),
  given(
    "t_c",
    "t_c",
    "calibration tube that stays",
    "wall",
    ({ chosen }) => chosen.system.calibrationTube?.thickness ?? "",
  ),
  given("v_c", "v_c", "its voids", "percent", ({ chosen }) => chosen.system.calibrationTube?.voidRatio ?? ""),
  result(
    "V_wall",
    "V",
    "wall of the tube",
    "volume",
    "π·(D − t_o)·t_o·L_c",
    'IF({V_given}<>"",{V_given},PI()*({D}-{t_order})*{t_order}*{L_cut}/1000)',
    ({ wetOut }) => wetOut.wall,
  ),
  result(
    "part_resin",
    "",
    "part of it that is resin",
    "percent",
    "felt: v; glass: 1 − (w_f/ρ_f)/[w_f/ρ_f + (1 − w_f)/ρ]",
    'IF({tube}="felt",{v},1-({w_f}/{rho_f})/({w_f}/{rho_f}+(1-{w_f})/{rho}))',
    ({ chosen: { system, resin } }) => {
      const { tube } = system;
      if (tube.kind === "felt") return tube.voidRatio;
      const fibre = tube.fibreMassFraction / tube.fibreDensity;
      return 1 - fibre / (fibre + (1 - tube.fibreMassFraction) / resin.density.used);
    },
  ),
  result(
    "V_tube",
    "",
    "resin in the tube",
    "volume",
    "V·part·(1 + x); by a chart c·L_c/ρ",
    'IF({chart}<>"",{chart}*{L_cut}/{rho},{V_wall}*{part_resin}*(1+{x}))',
    ({ wetOut }) => wetOut.mixed.volume - (wetOut.calibrationTube ?? 0),
  ),
  result(
    "V_cal",
    "",
    "resin in the calibration tube",
    "volume",
    "π·(D − 2·t_o − t_c)·t_c·L_c·v_c·(1 + x)",
    'IF({t_c}="",0,PI()*({D}-2*{t_order}-{t_c})*{t_c}*{L_cut}/1000*{v_c}*(1+{x}))',
    ({ wetOut }) => wetOut.calibrationTube ?? 0,
  ),
  result(
    "V_resin",
    "V_r",
    "mixed resin",
    "volume",
    "the two together",
    "{V_tube}+{V_cal}",
    ({ wetOut }) => wetOut.mixed.volume,
  ),
  result("m_resin", "m_r", "its mass", "mass", "V_r·ρ", "{V_resin}*{rho}", ({ wetOut }) => wetOut.mixed.mass),
];

/** A value of the tube; empty for the part in the main, and where the tube has none. */
function given(
  key: string,
  symbol: string,
  what: string,
  measure: Measure,
  of: (resin: RingResin) => number | string,
): DesignLine {
  const value = ({ resin }: DesignRing) => (resin === null ? "" : of(resin));
  return {
    ...ofLateral(key, symbol, what, measure, value, "the liner's tube and resin on the sheet Basis"),
    optional: true,
  };
}

function result(
  key: string,
  symbol: string,
  what: string,
  measure: Measure,
  equation: string,
  formula: string,
  of: (resin: RingResin) => number,
): WorkedLine {
  return worked(
    key,
    symbol,
    what,
    measure,
    equation,
    `IF({tube}="","",${formula})`,
    ({ resin }) => (resin === null ? "" : of(resin)),
    "geometry and the rule of mixtures; excess and voids from memory",
  );
}

import type { DesignLine, WorkedLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { worked } from "./worked-line.ts";

/** Glock's close-fit buckling beside X1.1: a formula from memory without a published check value, never the design. */
export const opinionLines: readonly DesignLine[] = [
  { kind: "section", title: "Second opinion: Glock, from memory, never the design" },
  worked(
    "P_deep",
    "P_d",
    "water pressure at the deep end",
    "pressure",
    "γ_w·max(0, deepest cover + D − d)",
    "{gamma_w}*MAX(0,MAX({H_house},{H_main})-{d}+{D}/1000)",
    // Without water there is no second opinion.
    ({ wall }) => wall.crossCheck?.pressure ?? 0,
    "Handbook, p. 82",
  ),
  opinion(
    "t_X11",
    "t",
    "wall of X1.1 there",
    "wall",
    "as X1.1 above",
    "{D}/((2*{K}*{E_L}*1000*{C}/({P_deep}*{N}*(1-{nu}^2)))^(1/3)+1)",
    (crossCheck) => crossCheck.appendixWall,
  ),
  opinion(
    "t_G",
    "t_G",
    "wall by Glock",
    "wall",
    "t_G/(D − t_G) = [P_d·N·(1 − ν²)/(E_L·C)]^(1/2.2)",
    "{D}*({P_deep}*{N}*(1-{nu}^2)/({E_L}*1000*{C}))^(1/2.2)/(1+({P_deep}*{N}*(1-{nu}^2)/({E_L}*1000*{C}))^(1/2.2))",
    (crossCheck) => crossCheck.glockWall,
  ),
  opinion(
    "ratio",
    "",
    "Glock over X1.1",
    "factor",
    "t_G/t",
    "{t_G}/{t_X11}",
    (crossCheck) => crossCheck.ratio,
  ),
  opinion(
    "K_G",
    "K_G",
    "enhancement that Glock implies",
    "factor",
    "½·(DR − 1)^0.8",
    "0.5*({D}/{t_X11}-1)^(3-2.2)",
    (crossCheck) => crossCheck.impliedEnhancement,
  ),
  opinion(
    "K_Go",
    "K_Go",
    "the same at the wall ordered",
    "factor",
    "½·(DR_o − 1)^0.8",
    "0.5*({DR_o}-1)^(3-2.2)",
    (crossCheck) => crossCheck.impliedAtOrdered,
  ),
  opinion(
    "caution",
    "",
    "caution",
    "text",
    "K over K_G or K_Go; t_G over t_o",
    'IF(OR({K}>{K_G},{K}>{K_Go}),IF({t_G}>{t_order},"K is not on the safe side, and Glock asks for more than ordered","K is not on the safe side"),"none")',
    ({ caution, exceedsOrdered }) =>
      !caution
        ? "none"
        : exceedsOrdered
          ? "K is not on the safe side, and Glock asks for more than ordered"
          : "K is not on the safe side",
  ),
];

type CrossCheck = NonNullable<DesignRing["wall"]["crossCheck"]>;

function opinion(
  key: string,
  symbol: string,
  what: string,
  measure: WorkedLine["measure"],
  equation: string,
  formula: string,
  of: (crossCheck: CrossCheck) => number | string,
): WorkedLine {
  return worked(
    key,
    symbol,
    what,
    measure,
    equation,
    `IF({P_deep}=0,"",${formula})`,
    ({ wall }) => (wall.crossCheck === null ? "" : of(wall.crossCheck)),
    "Glock 1977, from memory; no published check value",
  );
}

import { wallEquations } from "../../plan/explain-wall.ts";
import type { DesignLine, WorkedLine } from "./design-line.ts";
import { whenFully, worked } from "./worked-line.ts";

type Check = keyof typeof wallEquations;

/** The checks of ASTM F1216 Appendix X1, each solved for the wall, which of them governs, and the wall to order. */
export function checkLines(): readonly DesignLine[] {
  return [
    { kind: "section", title: "Checks: the wall each asks for under the worst cover" },
    worked(
      "C",
      "C",
      "ovality reduction factor",
      "factor",
      "[(1 − q)/(1 + q)²]³",
      "((1-{q})/(1+{q})^2)^3",
      ({ wall }) => wall.worst.design.ovalityReduction,
      "Handbook, p. 75",
    ),
    worked(
      "sigma",
      "σ",
      "flexural strength of X1.2",
      "modulus",
      "by the strength used",
      'IF({strength}="long term",{S_L},{S_S})',
      ({ wall: { material, worst } }) =>
        worst.design.strengthBasis === "long term" ? material.longTermStrength : material.shortTermStrength,
      "long term is meant: from memory",
    ),
    check(
      "buckling",
      "D/{[2·K·E_L·C/(P·N·(1 − ν²))]^⅓ + 1}",
      "IF({P}=0,0,{D}/((2*{K}*{E_L}*1000*{C}/({P}*{N}*(1-{nu}^2)))^(1/3)+1))",
      "Handbook, p. 82",
    ),
    check(
      "bending",
      "D·2a/[b + √(b² + 4·a·s)], a = 1.5·q·(1 + q), b = 0.5·(1 + q), s = σ/(P·N)",
      "IF({P}=0,0,{D}*2*1.5*{q}*(1+{q})/(0.5*(1+{q})+SQRT((0.5*(1+{q}))^2+4*1.5*{q}*(1+{q})*{sigma}*1000/({P}*{N}))))",
      "Handbook, p. 80 and 83",
    ),
    check(
      "soil-buckling",
      "D·[12/32·(N·q_t)²/(E_L·R_w·B′·C·E′_s)]^⅓; before 2007b C² for C, from memory",
      whenFully(
        '{D}*(12/32*({N}*{q_t}/1000)^2/({E_L}*{R_w}*{B}*{C}^IF({edition}="2007b and later",1,2)*{E_s}))^(1/3)',
      ),
      "Handbook, p. 75-77",
    ),
    check(
      "stiffness",
      "D·(12·0.093 psi/E_S)^⅓",
      whenFully("{D}*(12*{k_min}/({E_S}*1000))^(1/3)"),
      "Handbook, p. 77",
    ),
    check(
      "largest-ratio",
      "D/(greatest DR), host partially deteriorated",
      'IF({host}="partially",{D}/{DR_max},"")',
      "F1216 from memory, unverified",
    ),

    { kind: "section", title: "Wall" },
    worked(
      "t",
      "t",
      "calculated wall",
      "wall",
      "the thickest of the checks",
      `MAX(${checks.map((each) => `{${each}}`).join(",")})`,
      ({ wall }) => wall.specified.calculated,
      "Handbook, p. 77-83",
    ),
    worked(
      "governing",
      "",
      "governed by",
      "text",
      "the first check that asks for it",
      checks.reduceRight(
        (otherwise, each) => `IF({${each}}={t},"${wallEquations[each].name}",${otherwise})`,
        '"none"',
      ),
      ({ wall }) => wallEquations[wall.worst.design.governing].name,
      "",
    ),
    worked(
      "DR",
      "DR",
      "D/t of the calculated wall",
      "factor",
      "D/t",
      "{D}/{t}",
      ({ wall }) => wall.worst.design.dimensionRatio,
      "",
    ),
    worked(
      "t_order",
      "t_o",
      "wall ordered",
      "wall",
      "the least stocked wall of at least t and t_min",
      "SUMPRODUCT(MIN(({#stock lists}<>{part})*1E9+({#stocked walls}<MAX({t},{t_min})-1E-9)*1E9+{#stocked walls}))",
      ({ wall }) => wall.specified.stocked,
      "the stocked walls on the sheet Design tables",
    ),
    worked(
      "decided",
      "",
      "decided by",
      "text",
      "t over t_min?",
      'IF({t}>{t_min},"calculated","specified minimum")',
      ({ wall }) => (wall.specified.governedBy === "calculation" ? "calculated" : "specified minimum"),
      "",
    ),
    worked(
      "DR_o",
      "DR_o",
      "D/t of the wall ordered",
      "factor",
      "D/t_o",
      "{D}/{t_order}",
      ({ wall }) => wall.dimensionRatio,
      "",
    ),
  ];
}

const checks = Object.keys(wallEquations) as readonly Check[];

const check = (name: Check, equation: string, formula: string, source: string): WorkedLine =>
  worked(
    name,
    "t",
    wallEquations[name].name,
    "wall",
    equation,
    formula,
    ({ wall }) => wall.worst.design.walls[name] ?? "",
    source,
  );

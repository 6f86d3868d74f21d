import { WATER_UNIT_WEIGHT } from "../engineering/groundwater.ts";
import type { WallCheck } from "../engineering/liner-wall.ts";
import { impactFactor, type LiveLoadMethod, surfaceLoadCoefficient } from "../engineering/surface-load.ts";
import { LEAST_STIFFNESS } from "../engineering/wall-checks.ts";
import { checkedAt } from "../plan/explain-wall.ts";
import { METRES_PER_FOOT } from "../quantity/factors.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { type Metres, type Millimetres, metres } from "../quantity/si.ts";
import type { DesignCriteria } from "../reference/design-criteria.ts";
import { headsAt, type SizedRing } from "./size-liner.ts";
import { digits, type EquationUnits, equationUnits, type Worked, work } from "./worked-equation.ts";

export const OVER_INVERT = "P over invert";

/** Loads of ASTM F1216 Appendix X1 at the worst cover, P at the deepest end, in the order in which they are needed. */
export function workLoads(ring: SizedRing, criteria: DesignCriteria, system: UnitSystem): readonly Worked[] {
  const { inputs, worst } = ring;
  const { design, cover, deepest } = worst;
  const u = equationUnits(system);
  const heads = headsAt(ring, cover);
  const q = digits(inputs.ovality.value);
  const ovality = work("C", "[(1 − q)/(1 + q)²]³", `((1 − ${q})/(1 + ${q})^2)^3`, design.ovalityReduction);
  const water = system === "us" ? "62.4/144" : digits(WATER_UNIT_WEIGHT);
  const head = (value: Metres) => digits(u.depth(value));
  const pressure = work(
    OVER_INVERT,
    "γ_w·h",
    `${water} × ${head(headsAt(ring, deepest.cover).overInvert)}`,
    u.pressure(deepest.design.waterPressure),
    u.labels.pressure,
  );
  const load = design.externalLoad;
  if (load === null) return [ovality, pressure];

  const H = digits(u.depth(cover));
  const exponent = system === "us" ? "0.065" : digits(0.065 / METRES_PER_FOOT);
  const weight = digits(u.weight(criteria.soilUnitWeight));
  const R = digits(load.waterBuoyancy);
  const perUnit = system === "us" ? "/144" : "";
  const terms = [load.water, load.soil, load.live].map((term) => digits(u.pressure(term))).join(" + ");
  return [
    ovality,
    pressure,
    work(
      "R_w",
      "max(0.67, 1 − 0.33·H_w/H)",
      `max(0.67, 1 − 0.33 × ${head(heads.overCrown)}/${H})`,
      load.waterBuoyancy,
    ),
    work("B′", `1/(1 + 4·e^(−${exponent}·H))`, `1/(1 + 4 × e^(−${exponent} × ${H}))`, load.soilSupport),
    ...workLiveLoad(ring.liveLoad, cover, inputs.hostDiameter.value, load.live, u, system),
    work(
      "water over crown",
      "γ_w·H_w",
      `${water} × ${head(heads.overCrown)}`,
      u.pressure(load.water),
      u.labels.pressure,
    ),
    work(
      "soil",
      `w·H·R_w${perUnit}`,
      `${weight} × ${H} × ${R}${perUnit}`,
      u.pressure(load.soil),
      u.labels.pressure,
    ),
    work("q_t", "water + soil + W_s", terms, u.pressure(load.total), u.labels.pressure),
  ];
}

/** How traffic became a pressure: lengths in one unit, so that a force over two of them is a pressure. */
function workLiveLoad(
  method: LiveLoadMethod,
  cover: Metres,
  diameter: Millimetres,
  live: number,
  u: EquationUnits,
  system: UnitSystem,
): readonly Worked[] {
  const symbol = "W_s";
  const result = u.pressure(live);
  const unit = u.labels.pressure;
  // Inches for lbf → psi; metres and a thousand for N → kPa.
  const inches = system === "us";
  const long = (value: number) => digits(inches ? u.size(value * 1000) : value);
  const thousand = inches ? "" : "1000 × ";
  const inEquation = inches ? "" : "1000·";
  switch (method.kind) {
    case "none":
      return [work(symbol, "no live load", "", 0, unit)];
    case "stated":
      return [work(symbol, "as stated", "", result, unit)];
    case "depth table":
      return [work(symbol, "by depth table, straight lines between rows", "", result, unit)];
    case "boussinesq": {
      const width = metres(diameter / 1000);
      const C = surfaceLoadCoefficient(width, method.loadedLength, cover);
      const H = digits(inches ? u.size(cover * 1000) : cover);
      const P = digits(u.force(method.wheel.load));
      return [
        work(
          "C_s",
          "4·I(D/2H, L/2H)",
          `4 × I(${long(width)}/(2 × ${H}), ${long(method.loadedLength)}/(2 × ${H}))`,
          C,
        ),
        work(
          symbol,
          `C_s·P·F/(${inEquation}L·D)`,
          `${digits(C)} × ${P} × ${digits(impactFactor(method.impact, cover))}/(${thousand}${long(method.loadedLength)} × ${long(width)})`,
          result,
          unit,
        ),
      ];
    }
    case "spread": {
      const { patchLength, patchWidth, growth, multiplePresence, dynamicAtSurface, dynamicVanishesAt } =
        method.spread;
      const left = 1 - cover / dynamicVanishesAt;
      const IM = left > 0 ? dynamicAtSurface * left : 0;
      const side = (patch: Millimetres) => `(${long(patch / 1000)} + ${growth} × ${long(cover)})`;
      return [
        work(
          "IM",
          "IM₀·(1 − H/H₀), not below 0",
          `max(0, ${digits(dynamicAtSurface)} × (1 − ${long(cover)}/${long(dynamicVanishesAt)}))`,
          IM,
        ),
        work(
          symbol,
          `P·mp·(1 + IM)/[${inEquation}(a + g·H)·(b + g·H)]`,
          `${digits(u.force(method.wheel.load))} × ${multiplePresence} × (1 + ${digits(IM)})/(${thousand}${side(patchLength)} × ${side(patchWidth)})`,
          result,
          unit,
        ),
      ];
    }
    default:
      return method satisfies never;
  }
}

export type WorkedCheck = Worked & { readonly check: WallCheck; readonly governs: boolean };

/** Each check that holds for the host, solved for the wall where it asks for most (see checkedAt). */
export function workChecks(
  ring: SizedRing,
  criteria: DesignCriteria,
  system: UnitSystem,
): readonly WorkedCheck[] {
  const { design } = ring.worst;
  const found = (Object.keys(design.walls) as WallCheck[]).flatMap((check): WorkedCheck[] => {
    if (design.walls[check] === null) return [];
    const worked = workCheck(check, ring, criteria, equationUnits(system), system);
    return [{ ...worked, check, governs: check === design.governing }];
  });
  return found;
}

function workCheck(
  check: WallCheck,
  { inputs, material, worst }: SizedRing,
  criteria: DesignCriteria,
  u: EquationUnits,
  system: UnitSystem,
): Worked {
  const { design } = checkedAt(worst, check);
  const needed = design.walls[check];
  if (needed === null) throw new RangeError(`workCheck: ${check} does not hold here`);
  const answer = (equation: string, substitution: string) =>
    work("t", equation, substitution, u.size(needed), u.labels.size);
  const { enhancement: K, poissonsRatio: nu, safetyFactor: N } = criteria;
  const D = digits(u.size(inputs.hostDiameter.value));
  const C = digits(design.ovalityReduction);
  const long = digits(u.modulus(material.longTermModulus));
  const P = digits(u.stress(design.waterPressure));
  switch (check) {
    case "buckling":
      return design.waterPressure === 0
        ? answer("0 without water", "")
        : answer(
            "D/([2·K·E_L·C/(P·N·(1 − ν²))]^(1/3) + 1)",
            `${D}/((2 × ${K} × ${long} × ${C}/(${P} × ${N} × (1 − ${nu}^2)))^(1/3) + 1)`,
          );
    case "bending": {
      if (design.waterPressure === 0) return answer("0 without water", "");
      const q = inputs.ovality.value;
      const [a, b] = [1.5 * q * (1 + q), 0.5 * (1 + q)].map((value) => digits(value));
      const short = design.strengthBasis === "short term";
      const strength = digits(u.modulus(short ? material.shortTermStrength : material.longTermStrength));
      return answer(
        "2·a·D/(b + √(b² + 4·a·σ/(P·N))), a = 1.5·q·(1 + q), b = 0.5·(1 + q)",
        `2 × ${a} × ${D}/(${b} + √(${b}^2 + 4 × ${a} × ${strength}/(${P} × ${N})))`,
      );
    }
    case "soil-buckling": {
      const load = design.externalLoad;
      if (load === null) throw new RangeError("workCheck: X1.3 without a load");
      const newer = design.edition === "2007b and later";
      const soil = digits(u.modulus(criteria.soilModulus));
      const terms = [long, digits(load.waterBuoyancy), digits(load.soilSupport), newer ? C : `${C}^2`, soil];
      return answer(
        `D·[(12/32)·(N·q_t)²/(E_L·R_w·B′·${newer ? "C" : "C²"}·E′_s)]^(1/3)`,
        `${D} × (12/32 × (${N} × ${digits(u.stress(load.total))})^2/(${terms.join(" × ")}))^(1/3)`,
      );
    }
    case "stiffness": {
      const least = system === "us" ? "0.093" : digits(LEAST_STIFFNESS / 1000);
      const modulus = digits(u.modulus(material.shortTermModulus));
      return answer(`D·(12·${least}/E)^(1/3)`, `${D} × (12 × ${least}/${modulus})^(1/3)`);
    }
    case "largest-ratio":
      return answer("D/100", `${D}/100`);
    default:
      return check satisfies never;
  }
}

/** Glock's wall beside the appendix's, and the enhancement factor it implies; none without outside water. */
export function workSecondOpinion(
  { inputs, material, worst, crossCheck, specified }: SizedRing,
  criteria: DesignCriteria,
  system: UnitSystem,
): readonly Worked[] {
  if (crossCheck === null) return [];
  const u = equationUnits(system);
  const { safetyFactor: N, poissonsRatio: nu } = criteria;
  const D = digits(u.size(inputs.hostDiameter.value));
  const P = digits(u.stress(crossCheck.pressure));
  const long = digits(u.modulus(material.longTermModulus));
  const C = digits(worst.design.ovalityReduction);
  const diameter = inputs.hostDiameter.value;
  const slenderness = crossCheck.glockWall / (diameter - crossCheck.glockWall);
  const s = digits(slenderness);
  const implied = (ratio: number) => `0.5 × (${digits(ratio)} − 1)^0.8`;
  const ordered = specified.kind === "specified" ? "at the DR ordered" : "at the DR needed";
  return [
    work(
      "s = t/(D − t)",
      "[P·N·(1 − ν²)/(E_L·C)]^(1/2.2)",
      `(${P} × ${N} × (1 − ${nu}^2)/(${long} × ${C}))^(1/2.2)`,
      slenderness,
    ),
    work("t by Glock", "D·s/(1 + s)", `${D} × ${s}/(1 + ${s})`, u.size(crossCheck.glockWall), u.labels.size),
    work(
      "over X1.1",
      "t_Glock/t_X1.1",
      `${digits(u.size(crossCheck.glockWall))}/${digits(u.size(crossCheck.appendixWall))}`,
      crossCheck.ratio,
    ),
    work(
      "K at X1.1's DR",
      "0.5·(DR − 1)^0.8",
      implied(crossCheck.dimensionRatio),
      crossCheck.impliedEnhancement,
    ),
    work(`K ${ordered}`, "", implied(crossCheck.orderedRatio), crossCheck.impliedAtOrdered),
  ];
}
